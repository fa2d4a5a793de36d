import { metricInSystem, type ShownMetric, type UnitSystem } from '../units.ts'
import type { MessageKey } from '../wording/en.ts'
import { blockIn, listIn, numberIn, quotedIn, type Say } from '../wording/say.ts'
import { comparisonRows, type ComparisonCell, type ComparisonRow } from './comparison-rows.ts'
import type { KeyedFinding, LessonReport } from './lesson-report.ts'

/** A finding as the student reads it: what happened, what it means, how sure; no interval, no shares, no jargon. */
export interface StudentText {
  sentence: string
  howSure: string
}

type Said = Pick<KeyedFinding, 'topic' | 'metric' | 'verdict' | 'sentence' | 'isSure'>
type KeyedSaid = Said & Pick<KeyedFinding, 'key'>
type Report = Pick<LessonReport, 'comparisons' | 'holdingBack' | 'kept' | 'playSpeed' | 'units'>

/** What a metric is to a student, as the subject of a sentence. */
const plainName = (metric: ShownMetric | null, say: Say): string => {
  switch (metric) {
    case 'efficiency':
      return say('what.efficiency')
    case 'clubSpeedMps':
      return say('what.clubSpeed')
    case 'ballSpeedMps':
      return say('what.ballSpeed')
    case 'carryM':
      return say('what.carry')
    case 'tempoRatio':
    case 'backswingSeconds':
    case 'downswingSeconds':
      return say('what.tempo')
    case 'braceBeforeImpactSeconds':
      return say('what.brace')
    case null:
      return say('what.shots')
    default:
      return say('what.other')
  }
}

const unitWords = {
  'mph-yd': { distance: 'amount.yards', speed: 'amount.milesAnHour' },
  'kmh-m': { distance: 'amount.metres', speed: 'amount.kmAnHour' },
  'mps-m': { distance: 'amount.metres', speed: 'amount.metresASecond' },
} as const

const amount = (metric: ShownMetric, value: number, units: UnitSystem, say: Say): string => {
  const shown = Math.abs(metricInSystem(metric, value, units))
  const kind = metric === 'carryM' || metric === 'totalM' ? 'distance' : 'speed'
  const written = shown < 3 ? shown.toFixed(1) : String(Math.round(shown))
  return say(unitWords[units][kind], { n: numberIn(say, written) })
}

const cellWords = ({ metric, difference }: ComparisonCell, units: UnitSystem, say: Say): string | null => {
  if (difference === null || difference === 0) return null
  const up = difference > 0
  switch (metric) {
    case 'efficiency':
      return say(up ? 'change.hitBetter' : 'change.hitWorse')
    case 'clubSpeedMps':
      return say(up ? 'change.clubFaster' : 'change.clubSlower', {
        amount: amount(metric, difference, units, say),
      })
    case 'carryM':
      return say(up ? 'change.flewMore' : 'change.flewLess', {
        amount: amount(metric, difference, units, say),
      })
    case 'ballSpeedMps':
      return say(up ? 'change.ballFaster' : 'change.ballSlower')
    default:
      return null
  }
}

const meaning = (cells: readonly ComparisonCell[], say: Say): string => {
  const of = (metric: ShownMetric) => cells.find((c) => c.metric === metric)?.difference ?? 0
  if (of('clubSpeedMps') > 0 && of('efficiency') < 0) return say('change.speedThere')
  if (of('efficiency') > 0 || of('carryM') > 0) return say('change.keep')
  if (of('efficiency') < 0 || of('carryM') < 0) return say('change.takesTime')
  return ''
}

/** One comparison of blocks. */
const comparisonText = (row: ComparisonRow, isSure: boolean, units: UnitSystem, say: Say): StudentText => {
  const block = quotedIn(say, blockIn(say, row.after))
  const cells = row.cells.filter((c) => c.isSure)
  const howSure = say('tooEarly')
  if (!row.isComparable) return { sentence: say('change.otherClubs', { block }), howSure }
  if (cells.length === 0) return { sentence: say('change.cannotSee', { block }), howSure }
  const byCarry = [...cells].sort((a, b) => Number(b.metric === 'carryM') - Number(a.metric === 'carryM'))
  // The ball's speed says the same as how far it flew.
  const said = byCarry.filter((c) => c.metric !== 'ballSpeedMps' || !cells.some((o) => o.metric === 'carryM'))
  const words = said.map((c) => cellWords(c, units, say)).filter((w) => w !== null)
  if (!isSure) {
    // The numbers differ; a drift over the lesson could make that, so no feel is praised for it.
    return {
      sentence: [say('change.wasSoIn', { block }), ...words, say('change.hitAsBefore')].join(' '),
      howSure: say('change.sureOfNumbers'),
    }
  }
  return {
    sentence: [say('change.cameWith', { block }), ...words, meaning(cells, say)].filter(Boolean).join(' '),
    howSure: say('sure'),
  }
}

const heldText = (report: Report, say: Say): StudentText => {
  const held = report.holdingBack
  const far = (m: number) => ({ amount: amount('carryM', m, report.units, say) })
  if (held?.verdict === 'strike') {
    return {
      sentence: held.strike ? say('held.strikeGain', far(held.strike.gainM)) : say('held.strike'),
      howSure: say('sure'),
    }
  }
  if (held?.verdict === 'speed') {
    return {
      sentence: held.speed ? say('held.speedGain', far(held.speed.gainM)) : say('held.speed'),
      howSure: say('sure'),
    }
  }
  return {
    sentence: say(held?.isStrikeFirst ? 'held.strikeFirst' : 'held.cannotTell'),
    howSure: say('tooEarly'),
  }
}

const playSpeedText = (finding: Said, report: Report, say: Say): StudentText => {
  const band = report.playSpeed.suggestedMps ?? report.playSpeed.bandMps
  if (finding.isSure && band) {
    const [low, high] = band.map((v) =>
      String(Math.round(metricInSystem('clubSpeedMps', v, report.units))),
    ) as [string, string]
    return {
      sentence: say('playSpeed.band', { low, high: say(unitWords[report.units].speed, { n: high }) }),
      howSure: say('sure'),
    }
  }
  return { sentence: say('playSpeed.cannotTell'), howSure: say('tooEarly') }
}

/** What was kept or lost since the last lesson; findings of one verdict are one sentence that names them all. */
const keptText = (findings: readonly Said[], say: Say): StudentText => {
  const { isSure, verdict, metric } = findings[0]!
  const what = listIn(
    say,
    findings.map((f) => plainName(f.metric, say)),
  )
  return isSure
    ? { sentence: say(verdict === 'kept' ? 'kept.kept' : 'kept.lost', { what }), howSure: say('sure') }
    : {
        sentence: say(metric === null ? 'kept.cannotTellMany' : 'kept.cannotTell', { what }),
        howSure: say('tooEarly'),
      }
}

const isSureKept = ({ topic, isSure }: Said): boolean => topic === 'kept' && isSure

/**
 * The student's text of each finding in a list, those that were surely kept, or lost, said once for all of them together
 * where the first of them stands.
 */
const saidTogether = <F extends Said>(
  findings: readonly F[],
  say: Say,
  alone: (finding: F) => StudentText,
): (F & StudentText)[] =>
  findings.flatMap((finding, index) => {
    if (!isSureKept(finding)) return [{ ...finding, ...alone(finding) }]
    const alike = findings.filter((f) => isSureKept(f) && f.verdict === finding.verdict)
    return findings.indexOf(alike[0]!) === index ? [{ ...finding, ...keptText(alike, say) }] : []
  })

const went = (sentence: string): 'up' | 'down' =>
  /\b(?:faster|higher|longer|straighter|earlier)\b/.test(sentence) ? 'up' : 'down'

/** What the lessons together say. */
const seasonText = (finding: Said, say: Say): StudentText => {
  const what = plainName(finding.metric, say)
  const text = (key: MessageKey, howSure: 'sure' | 'tooEarly'): StudentText => ({
    sentence: say(key, { what }),
    howSure: say(howSure),
  })
  switch (finding.verdict) {
    case 'rising':
      return text('season.rising', 'sure')
    case 'falling':
      return text('season.falling', 'sure')
    case 'personal-best':
      return text('season.best', 'sure')
    case 'best-not-clear':
      return text('season.bestNotClear', 'tooEarly')
    case 'lessons-alike':
      return text('season.alike', 'tooEarly')
    case 'not-recorded':
      return text('season.notRecorded', 'tooEarly')
    default:
      return text('season.cannotTell', 'tooEarly')
  }
}

/** What came after a practice plan. It came after; nobody knows what it came from. */
const planText = (finding: Said, say: Say): StudentText => {
  const what = plainName(finding.metric, say)
  switch (finding.verdict) {
    case 'changed':
      return {
        sentence: say(went(finding.sentence) === 'up' ? 'plan.up' : 'plan.down', { what }),
        howSure: say('sure'),
      }
    case 'no-visible-change':
      return { sentence: say('plan.same', { what }), howSure: say('sure') }
    default:
      return { sentence: say('plan.cannotTell', { what }), howSure: say('tooEarly') }
  }
}

/** The student's text of a finding of the season: a trend, a best, what was kept, what came after a plan. */
export const seasonStudentText = (finding: Said, say: Say): StudentText => {
  if (finding.topic === 'kept') return keptText([finding], say)
  return finding.topic === 'plan' ? planText(finding, say) : seasonText(finding, say)
}

/** The same for a list of them. */
export const seasonInStudentWords = <F extends Said>(findings: readonly F[], say: Say): (F & StudentText)[] =>
  saidTogether(findings, say, (finding) => seasonStudentText(finding, say))

/** Whether the shots of a block lie closer together than those of the baseline. */
const spreadText = ({ verdict, isSure }: Said, block: string | null, say: Say): StudentText =>
  isSure && block !== null
    ? {
        sentence: say(verdict === 'spread-steadier' ? 'spread.steadier' : 'spread.wilder', { block }),
        howSure: say('sure'),
      }
    : { sentence: say('spread.cannotTell'), howSure: say('tooEarly') }

const otherText = (finding: Said, say: Say): StudentText => {
  const what = plainName(finding.metric, say)
  const named = /“([^”]+)”/.exec(finding.sentence)?.[1] ?? null
  const quoted = named === null ? null : quotedIn(say, blockIn(say, named))
  const { isSure } = finding
  if (finding.verdict.startsWith('spread')) return spreadText(finding, quoted, say)
  const text = (sentence: string): StudentText => ({ sentence, howSure: say(isSure ? 'sure' : 'tooEarly') })
  switch (finding.topic) {
    case 'cue':
      return text(
        isSure
          ? say('cue.differs', { cue: quoted ?? say('cue.this'), what })
          : say('cue.cannotTell', { cue: quoted ?? say('cue.whatCoachSaw'), what }),
      )
    case 'strike':
      return text(say(isSure ? 'strike.offCentre' : 'strike.cannotTell'))
    case 'session':
      return text(say(isSure ? 'session.changed' : 'session.noChange', { what }))
    default:
      if (!isSure) return text(say('other.cannotTell', { what }))
      return text(
        quoted ? say('other.changedWith', { block: quoted, what }) : say('other.changedToday', { what }),
      )
  }
}

/** The student's text of a finding, in their language. It says no more than the finding does; where that is unsure, it says so. */
export const studentText = (finding: KeyedSaid, report: Report, say: Say): StudentText => {
  switch (finding.topic) {
    case 'holding-back':
      return heldText(report, say)
    case 'play-speed':
      return playSpeedText(finding, report, say)
    case 'kept':
    case 'season':
    case 'plan':
      return seasonStudentText(finding, say)
    case 'change': {
      const [, blockId] = finding.key.split(':')
      const row = comparisonRows(report).find((r) => r.after === blockId)
      const isOfRow = finding.metric === null || row?.cells.some((c) => c.metric === finding.metric)
      if (finding.verdict === 'left-out') {
        return { sentence: say('change.notCounted'), howSure: say('change.askWhich') }
      }
      return row &&
        isOfRow &&
        finding.verdict !== 'regression-to-mean' &&
        !finding.verdict.startsWith('spread')
        ? comparisonText(row, finding.isSure, report.units, say)
        : otherText(finding, say)
    }
    default:
      return otherText(finding, say)
  }
}

/** The report as the hand-over speaks of it: each finding in the student's words. */
export const inStudentWords = (report: LessonReport, say: Say): LessonReport => ({
  ...report,
  findings: report.findings.map((finding) => ({ ...finding, ...studentText(finding, report, say) })),
})

/** Findings one after the other as the student reads them: what says the same is said once. */
export const studentTexts = (
  findings: readonly KeyedFinding[],
  report: Report,
  say: Say,
): (KeyedFinding & StudentText)[] =>
  saidTogether(findings, say, (finding) => studentText(finding, report, say))
