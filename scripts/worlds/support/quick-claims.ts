import { compareToBaseline } from '../../../shared-core/change/compare-blocks.ts'
import { compareSpreads } from '../../../shared-core/change/compare-spread.ts'
import { cueReport } from '../../../shared-core/change/cue-report.ts'
import { pairsWithBaseline } from '../../../shared-core/change/drift-check.ts'
import {
  comparisonFindings,
  cueFindings,
  playSpeedFindings,
  sessionFindings,
  spreadFindings,
  strikeFindings,
} from '../../../shared-core/change/findings.ts'
import type { Finding } from '../../../shared-core/change/findings.ts'
import { playSpeedReport } from '../../../shared-core/change/play-speed-report.ts'
import type { PlaySpeedReport } from '../../../shared-core/change/play-speed-report.ts'
import type { ChangeBlock } from '../../../shared-core/change/change-shot.ts'
import type { NoiseOptions } from '../../../shared-core/change/metric-noise.ts'
import { sessionReport } from '../../../shared-core/change/session-report.ts'
import { strikeMapReport } from '../../../shared-core/change/strike-map-report.ts'
import { underOneBudget } from '../../../shared-core/report/one-budget.ts'
import type { ReportInput } from '../../../shared-core/report/report-input.ts'

/** Sure findings that speak of an effect. The play speed that rises with level efficiency is true in the invented lessons. */
export const claimsOf = <F extends Pick<Finding, 'isSure' | 'verdict'> & { topic: string }>(
  findings: readonly F[],
): F[] =>
  findings.filter(
    (f) =>
      f.isSure && f.topic !== 'holding-back' && !(f.topic === 'play-speed' && f.verdict === 'still-rising'),
  )

/** Where speeds differ no more than the device errs, or shots are too few, resampling can't change the answer. */
function quickPlaySpeed(blocks: readonly ChangeBlock[], noise: NoiseOptions): PlaySpeedReport {
  const first = playSpeedReport({ blocks, options: { ...noise, replicates: 1 } })
  const isRefused = first.verdict === 'too-few' || (first.reliability ?? 0) < 0.8
  return isRefused ? first : playSpeedReport({ blocks, options: noise })
}

/**
 * Findings of a lesson without an earlier one: the parts of the report that may claim an effect and nothing else, so that hundreds
 * of lessons take seconds. tests/worlds/verdict.test.ts holds it against the whole report.
 */
export function quickFindings({
  lesson,
  deviceError,
  setupError,
  margins,
  units,
  cueLabels,
}: ReportInput): Finding[] {
  const wording = { units, cueLabels }
  const { blocks } = lesson
  const noise = { deviceError, setupError }
  const comparisons = compareToBaseline({ blocks, options: { ...noise, margins } })
  const hasSteps = comparisons.some((c) => c.metrics.some((row) => row.p !== null))
  const judged = underOneBudget({
    comparisons,
    spreads: compareSpreads(pairsWithBaseline(blocks)),
    // A lesson in steps makes no claim of where the level changed.
    session: sessionReport({ blocks, options: { ...noise, margins, ...(hasSteps && { permutations: 1 }) } }),
    cues: cueReport({ blocks, metrics: ['clubSpeedMps', 'efficiency'], options: noise }),
    playSpeed: quickPlaySpeed(blocks, noise),
    strikeMap: strikeMapReport({ blocks }),
    measures: null,
  })
  return [
    ...judged.comparisons.flatMap((c) => comparisonFindings(c, wording)),
    ...judged.spreads.flatMap(spreadFindings),
    ...(hasSteps ? [] : sessionFindings(judged.session, wording)),
    ...cueFindings(judged.cues, wording),
    ...playSpeedFindings(judged.playSpeed, wording),
    ...(judged.strikeMap.n > 0 ? strikeFindings(judged.strikeMap) : []),
  ]
}
