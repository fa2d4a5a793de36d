/**
 * The words of change: each report as plain sentences for the student, every one with its number, how sure it is
 * and how we know. Units are an argument. "Came with", never "because of"; "can't tell yet" is an answer.
 */
export { comparisonFindings } from './comparison-findings.ts'
export { cueFindings } from './cue-findings.ts'
export { lessonFindings } from './lesson-findings.ts'
export { planFindings } from './plan-findings.ts'
export { playSpeedFindings } from './play-speed-findings.ts'
export { seasonFindings } from './season-findings.ts'
export { sessionFindings } from './session-findings.ts'
export { spreadFindings } from './spread-findings.ts'
export { regressionToMeanFinding } from './regression-to-mean-finding.ts'
export { strikeFindings } from './strike-findings.ts'
export { swingCaution } from './finding.ts'
export type { Finding } from './finding.ts'
export type { Wording } from './words.ts'
