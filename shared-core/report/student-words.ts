import { metricInSystem, type ShownMetric, type UnitSystem } from '../units.ts'
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

const sure = 'We are sure of this.'
const tooEarly = 'It is too soon to tell.'

/** What a metric is to a student, as the subject of a sentence. */
const plainName = (metric: ShownMetric | null): string => {
  switch (metric) {
    case 'efficiency':
      return 'how well you hit the ball'
    case 'clubSpeedMps':
      return 'your club speed'
    case 'ballSpeedMps':
      return 'your ball speed'
    case 'carryM':
      return 'how far the ball flies'
    case 'tempoRatio':
    case 'backswingSeconds':
    case 'downswingSeconds':
      return 'the pace of your swing'
    case 'braceBeforeImpactSeconds':
      return 'when your front side gets firm'
    case null:
      return 'your shots'
    default:
      return 'one of your numbers'
  }
}

const unitWords: Record<UnitSystem, { distance: string; speed: string }> = {
  'mph-yd': { distance: 'yards', speed: 'miles an hour' },
  'kmh-m': { distance: 'metres', speed: 'km an hour' },
  'mps-m': { distance: 'metres', speed: 'metres a second' },
}

const amount = (metric: ShownMetric, value: number, units: UnitSystem): string => {
  const shown = Math.abs(metricInSystem(metric, value, units))
  const isFine = shown < 3
  const kind = metric === 'carryM' || metric === 'totalM' ? 'distance' : 'speed'
  return `${isFine ? shown.toFixed(1) : Math.round(shown)} ${unitWords[units][kind]}`
}

const cellWords = ({ metric, difference }: ComparisonCell, units: UnitSystem): string | null => {
  if (difference === null || difference === 0) return null
  const up = difference > 0
  switch (metric) {
    case 'efficiency':
      return up ? 'You hit the ball better.' : 'The ball was hit less well.'
    case 'clubSpeedMps':
      return `Your club was about ${amount(metric, difference, units)} ${up ? 'faster' : 'slower'}.`
    case 'carryM':
      return `The ball flew about ${amount(metric, difference, units)} ${up ? 'more' : 'less'}.`
    case 'ballSpeedMps':
      return `The ball left the club ${up ? 'faster' : 'slower'}.`
    default:
      return null
  }
}

const meaning = (cells: readonly ComparisonCell[]): string => {
  const of = (metric: ShownMetric) => cells.find((c) => c.metric === metric)?.difference ?? 0
  if (of('clubSpeedMps') > 0 && of('efficiency') < 0) {
    return 'So the speed is there. Next, make the hit as good as before.'
  }
  if (of('efficiency') > 0 || of('carryM') > 0) return 'Keep that feel.'
  if (of('efficiency') < 0 || of('carryM') < 0) return 'That is fine: a new move takes time.'
  return ''
}

/** One comparison of blocks. */
const comparisonText = (row: ComparisonRow, isSure: boolean, units: UnitSystem): StudentText => {
  const after = `“${row.after}”`
  const cells = row.cells.filter((c) => c.isSure)
  if (!row.isComparable) {
    return {
      sentence: `You hit other clubs in ${after}, so we can’t set it beside the start.`,
      howSure: tooEarly,
    }
  }
  if (cells.length === 0) {
    return {
      sentence: `With ${after} we can’t see a clear change yet. More shots will tell.`,
      howSure: tooEarly,
    }
  }
  const byCarry = [...cells].sort((a, b) => Number(b.metric === 'carryM') - Number(a.metric === 'carryM'))
  // The ball's speed says the same as how far it flew.
  const said = byCarry.filter((c) => c.metric !== 'ballSpeedMps' || !cells.some((o) => o.metric === 'carryM'))
  const words = said.map((c) => cellWords(c, units)).filter((w) => w !== null)
  if (!isSure) {
    // The numbers differ; a drift over the lesson could make that, so no feel is praised for it.
    return {
      sentence: [
        `This was so in ${after}.`,
        ...words,
        'Next time, hit five as before to see if it stays.',
      ].join(' '),
      howSure: 'We are sure of the numbers, not yet of what it came with.',
    }
  }
  return {
    sentence: [`This came with ${after}.`, ...words, meaning(cells)].filter(Boolean).join(' '),
    howSure: sure,
  }
}

const heldText = (report: Report): StudentText => {
  const held = report.holdingBack
  const far = (m: number) => amount('carryM', m, report.units)
  if (held?.verdict === 'strike') {
    const gain = held.strike ? ` It could give you about ${far(held.strike.gainM)} more.` : ''
    return {
      sentence: `You swing fast enough. What you need now is a better hit.${gain} So work on the hit first, not on speed.`,
      howSure: sure,
    }
  }
  if (held?.verdict === 'speed') {
    const gain = held.speed ? ` A bit more could give you about ${far(held.speed.gainM)}.` : ''
    return {
      sentence: `You hit the ball well. More club speed would help you most.${gain} Build it up slowly.`,
      howSure: sure,
    }
  }
  if (held?.isStrikeFirst) {
    return { sentence: 'A better hit comes first. Speed can wait.', howSure: tooEarly }
  }
  return {
    sentence: 'We can’t tell yet if a better hit or more speed would help you most. More shots will tell.',
    howSure: tooEarly,
  }
}

const playSpeedText = (finding: Said, report: Report): StudentText => {
  const band = report.playSpeed.suggestedMps ?? report.playSpeed.bandMps
  if (finding.isSure && band) {
    const [low, high] = band.map((v) => Math.round(metricInSystem('clubSpeedMps', v, report.units)))
    return {
      sentence: `You play best with the club at ${low} to ${high} ${unitWords[report.units].speed}. Use that speed on the course.`,
      howSure: sure,
    }
  }
  return {
    sentence:
      'We don’t know yet at which speed you play best. Hit some shots easy, some fast, and we will see.',
    howSure: tooEarly,
  }
}

const keptText = (finding: Said): StudentText => {
  const what = plainName(finding.metric)
  if (!finding.isSure) {
    const is = finding.metric === null ? 'are as they were' : 'is as it was'
    return { sentence: `We can’t tell yet if ${what} ${is} last time.`, howSure: tooEarly }
  }
  return {
    sentence:
      finding.verdict === 'kept'
        ? 'What you gained last time is still there. Well done.'
        : 'Some of what you gained last time is gone. That is normal. Go back to the feel from then.',
    howSure: sure,
  }
}

const went = (sentence: string): 'up' | 'down' =>
  /\b(?:faster|higher|longer|straighter|earlier)\b/.test(sentence) ? 'up' : 'down'

/** What the lessons together say. */
const seasonText = (finding: Said): StudentText => {
  const what = plainName(finding.metric)
  switch (finding.verdict) {
    case 'rising':
      return { sentence: `From lesson to lesson, ${what} has gone up. Keep going like this.`, howSure: sure }
    case 'falling':
      return {
        sentence: `From lesson to lesson, ${what} has gone down. Let us find out why before you push harder.`,
        howSure: sure,
      }
    case 'personal-best':
      return { sentence: `You have a new best: ${what}. Well done.`, howSure: sure }
    case 'best-not-clear':
      return {
        sentence: `One of your lessons stands first in ${what}. It may have been a lucky day.`,
        howSure: tooEarly,
      }
    case 'lessons-alike':
      return { sentence: `In ${what}, your lessons are much the same.`, howSure: tooEarly }
    case 'not-recorded':
      return { sentence: `We have no numbers for ${what}.`, howSure: tooEarly }
    default:
      return {
        sentence: `We can’t tell yet where ${what} is going. It takes more lessons.`,
        howSure: tooEarly,
      }
  }
}

/** What came after a practice plan. It came after; nobody knows what it came from. */
const planText = (finding: Said): StudentText => {
  const what = plainName(finding.metric)
  switch (finding.verdict) {
    case 'changed':
      return went(finding.sentence) === 'up'
        ? {
            sentence: `Since the last plan, ${what} has gone up. Keep your practice as it is.`,
            howSure: sure,
          }
        : {
            sentence: `Since the last plan, ${what} has gone down. That can happen. Tell your coach how the practice went.`,
            howSure: sure,
          }
    case 'no-visible-change':
      return { sentence: `Since the last plan, ${what} is much as it was.`, howSure: sure }
    default:
      return { sentence: `We can’t tell yet if ${what} changed since the last plan.`, howSure: tooEarly }
  }
}

/** The student's text of a finding of the season: a trend, a best, what was kept, what came after a plan. */
export const seasonStudentText = (finding: Said): StudentText => {
  if (finding.topic === 'kept') return keptText(finding)
  return finding.topic === 'plan' ? planText(finding) : seasonText(finding)
}

const otherText = (finding: Said): StudentText => {
  const what = plainName(finding.metric)
  const named = /“[^”]+”/.exec(finding.sentence)?.[0] ?? null
  const howSure = finding.isSure ? sure : tooEarly
  switch (finding.topic) {
    case 'cue':
      return {
        sentence: finding.isSure
          ? `When your coach saw ${named ?? 'this'}, ${what} was not the same. Watch out for it.`
          : `We can’t tell yet if ${named ?? 'what your coach saw'} has to do with ${what}.`,
        howSure,
      }
    case 'strike':
      return {
        sentence: finding.isSure
          ? 'Your hits are off the middle of the face in the same way. Ask your coach to show you where.'
          : 'We can’t see yet where on the face you hit most. More marks on the face will tell.',
        howSure,
      }
    case 'session':
      return {
        sentence: finding.isSure
          ? `In the course of the lesson, ${what} changed.`
          : `We see no clear change of ${what} in the course of the lesson.`,
        howSure,
      }
    default:
      return {
        sentence: finding.isSure
          ? `${named ? `With ${named}, ` : 'Today, '}${what} changed.`
          : `We can’t tell yet if ${what} changed.`,
        howSure,
      }
  }
}

/** The student's text of a finding. It says no more than the finding does; where that is unsure, it says so. */
export const studentText = (finding: KeyedSaid, report: Report): StudentText => {
  switch (finding.topic) {
    case 'holding-back':
      return heldText(report)
    case 'play-speed':
      return playSpeedText(finding, report)
    case 'kept':
    case 'season':
    case 'plan':
      return seasonStudentText(finding)
    case 'change': {
      const [, place] = finding.key.split(':')
      const row = comparisonRows(report).find((r) => r.after === place)
      const isOfRow = finding.metric === null || row?.cells.some((c) => c.metric === finding.metric)
      if (finding.verdict === 'left-out') {
        return { sentence: 'Some shots were not counted here.', howSure: 'Your coach can tell you which.' }
      }
      return row && isOfRow && finding.verdict !== 'bounce-back' && !finding.verdict.startsWith('spread')
        ? comparisonText(row, finding.isSure, report.units)
        : otherText(finding)
    }
    default:
      return otherText(finding)
  }
}

/** The report as the hand-over speaks of it: each finding in the student's words. */
export const inStudentWords = (report: LessonReport): LessonReport => ({
  ...report,
  findings: report.findings.map((finding) => {
    const { sentence, howSure } = studentText(finding, report)
    return { ...finding, sentence, howSure }
  }),
})
