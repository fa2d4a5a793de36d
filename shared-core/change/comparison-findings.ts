import type { BlockComparison, MetricComparison } from './compare-blocks.ts'
import {
  comparisonCells,
  fewestForALevel,
  isSureChange,
  openToDrift,
  tradeOffOf,
} from './comparison-cells.ts'
import type { TradeOff } from './comparison-cells.ts'
import type { Finding } from './finding.ts'
import {
  assumedError,
  capital,
  clubPhrase,
  count,
  leftOutWords,
  level,
  list,
  moreOrLess,
  name,
  notRecorded,
  pWords,
  quoted,
  range,
  sdOfInterval,
  signed,
  size,
  spanWords,
} from './words.ts'
import type { Wording } from './words.ts'
import type { ShownMetric } from '../units.ts'

/**
 * What a comparison of two blocks says: one finding with a cell a metric, and one for clubs that could not be compared. The
 * words are "came with", never "because of": one block after another cannot tell the cue from practice, tempo or wind.
 */
export function comparisonFindings(report: BlockComparison, wording: Wording): Finding[] {
  if (!report.isComparable) return [notComparable(report)]
  const finding = comparisonFinding(report, wording)
  return report.leftOut.length > 0 ? [finding, clubFinding(report)] : [finding]
}

interface Words {
  sentence: string
  howSure: string
}

function comparisonFinding(report: BlockComparison, wording: Wording): Finding {
  const said = saidOf(report)
  return {
    topic: 'change',
    metric: report.metrics.length === 1 ? report.metrics[0]!.metric : null,
    verdict: said,
    ...wordsOf(said, report, wording),
    // A difference that a drift could make is there, but what it came with is not sure.
    isSure: (said === 'traded' || said === 'changed') && openToDrift(report).length === 0,
    howWeKnow: {
      data: dataWords(report, wording),
      method: report.metrics.every((row) => row.p === null)
        ? 'None: nothing to compare.'
        : methodWords(report),
      source: sources,
    },
    caution: null,
    kind: `comparison-${said}`,
    values: {
      before: report.before,
      after: report.after,
      club: report.club,
      isEarlier: report.isEarlier,
      returnBlock: report.returnBlock,
    },
    cells: comparisonCells(report),
  }
}

const sources =
  'Hodges & Lehmann 1963; Wilcoxon 1945 (exact); Bretz et al. 2009; analysis of covariance for drift; ' +
  assumedError

/** What a comparison has to say, the weightiest thing first. */
type Said =
  | 'traded'
  | 'changed'
  | 'first-impression'
  | 'no-visible-change'
  | 'cannot-tell'
  | 'too-few'
  | 'no-spread'
  | 'not-recorded'

const isRecorded = (row: MetricComparison): boolean => row.reason !== 'no-data'

function saidOf(report: BlockComparison): Said {
  const rows = report.metrics.filter(isRecorded)
  if (rows.length === 0) return 'not-recorded'
  if (tradeOffOf(report) !== null) return 'traded'
  if (rows.some(isSureChange)) return 'changed'
  if (rows.some((row) => row.verdict === 'changed')) return 'first-impression'
  for (const verdict of ['too-few', 'no-spread'] as const) {
    if (rows.every((row) => row.verdict === verdict)) return verdict
  }
  const isSame = rows.every(
    (row) => row.verdict === 'no-visible-change' || row.verdict === 'too-small-to-matter',
  )
  return isSame ? 'no-visible-change' : 'cannot-tell'
}

function wordsOf(said: Said, report: BlockComparison, wording: Wording): Words {
  const rows = report.metrics.filter(isRecorded)
  const [first] = report.metrics
  const blocks = `${quoted(report.before)} and ${quoted(report.after)}`
  const rest = (): string =>
    joined(othersWords(rows, report, wording), missingWords(report), moreShots(rows, wording))
  switch (said) {
    case 'not-recorded':
      return first && first.before.n + first.after.n > 0
        ? {
            sentence: `${capital(list(report.metrics.map((row) => name(row.metric))))} can't be compared between ${blocks}: one of them has no readings.`,
            howSure: 'Not recorded.',
          }
        : {
            sentence:
              report.metrics.length === 1
                ? notRecorded(first!.metric)
                : `${blocks} have no readings to compare.`,
            howSure: 'Not recorded.',
          }
    case 'traded':
      return {
        sentence: joined(
          tradedWords(tradeOffOf(report)!, report, wording),
          cameWith(report, wording),
          rest(),
        ),
        howSure: sureWords(report),
      }
    case 'changed':
      return {
        sentence: joined(changedWords(rows, report, wording), cameWith(report, wording), rest()),
        howSure: sureWords(report),
      }
    case 'first-impression': {
      const row = rows.find((each) => each.verdict === 'changed')!
      const small = row.before.n <= row.after.n ? row.before : row.after
      const impression = `${count(small.n, 'shot')} in ${quoted(small.label)} ${small.n === 1 ? 'is' : 'are'} a first impression, not a level.`
      return {
        sentence: joined(
          `${capital(name(row.metric))} looks ${size(row.metric, row.difference!, wording, sdOfInterval(row.interval))} ` +
            `${moreOrLess(row.metric, row.difference!)} in ${quoted(report.after)} than in ${quoted(report.before)}, but ` +
            impression,
          'Hit more before building on it.',
        ),
        howSure: `Not yet sure: ${impression}`,
      }
    }
    case 'too-few': {
      const row = rows[0]!
      return {
        sentence: joined(
          `Too few shots to compare ${blocks} (${count(row.before.n, 'shot')} and ${row.after.n}): at least 5 in each ` +
            'are needed for a first answer.',
          missingWords(report),
        ),
        howSure: "Can't tell yet: with so few shots, chance alone makes any difference.",
      }
    }
    case 'no-spread':
      return {
        sentence: `All readings of a block are alike in ${list(rows.map((row) => name(row.metric)))}, which is too coarse to judge ${blocks}.`,
        howSure: "Can't tell: the device gives too few digits.",
      }
    case 'no-visible-change':
      return {
        sentence: joined(
          `Nothing changed from ${quoted(report.before)} to ${quoted(report.after)} that would matter: ${list(rows.map((row) => sameWords(row, wording)))}.`,
          missingWords(report),
        ),
        howSure: 'A larger change is unlikely: the 90 % intervals lie inside that.',
      }
    case 'cannot-tell':
      return {
        sentence: joined(
          `Can't tell yet whether ${quoted(report.after)} changed anything against ${quoted(report.before)}.`,
          rest(),
        ),
        howSure: rows.some(isClearAlone)
          ? `Not sure yet: ${rows.filter(isClearAlone).length === 1 ? 'one number is' : 'some numbers are'} clear alone, not among the ${report.lookedAt} looked at.`
          : "Can't tell yet: scatter and device hide differences of this size.",
      }
  }
}

const joined = (...parts: readonly string[]): string => parts.filter((part) => part !== '').join(' ')

/** "1.9 to 4.2 mph faster (about 3.1)": the interval first, since what passes for sure is on the lucky side. */
function byWords(row: MetricComparison, wording: Wording): string {
  const ends = row.interval!.map(Math.abs).sort((a, b) => a - b) as [number, number]
  const about = size(row.metric, row.difference!, wording, sdOfInterval(row.interval)).replace(/\s.*$/, '')
  const way = moreOrLess(row.metric, row.difference!)
  const sd = sdOfInterval(row.interval)
  // An end that rounds to nothing would say that there may be no difference.
  return size(row.metric, ends[0], wording, sd) === 'next to nothing'
    ? `up to ${size(row.metric, ends[1], wording, sd)} ${way} (about ${about})`
    : `${range(row.metric, ends, wording)} ${way} (about ${about})`
}

const placeWords = (report: BlockComparison): string =>
  report.isEarlier
    ? `In ${quoted(report.after)}, hit before ${quoted(report.before)},`
    : `In ${quoted(report.after)}`

function changedWords(rows: readonly MetricComparison[], report: BlockComparison, wording: Wording): string {
  const sure = rows.filter(isSureChange)
  const [first, ...others] = sure as [MetricComparison, ...MetricComparison[]]
  const parts = [
    `${name(first.metric)} was ${byWords(first, wording)}`,
    ...others.map((row) => `${name(row.metric)} ${byWords(row, wording)}`),
  ]
  return `${placeWords(report)} ${list(parts)} than in ${quoted(report.before)}.`
}

function tradedWords(traded: TradeOff, report: BlockComparison, wording: Wording): string {
  const row = (metric: string) => report.metrics.find((each) => each.metric === metric)!
  const alike = size('ballSpeedMps', traded.ballIfStruckAlikeMps, wording)
  const ball =
    traded.ballMps === null
      ? 'what the ball gained was not recorded'
      : traded.gainedNothing
        ? `the ball gained nothing that shows (${range('ballSpeedMps', traded.ballInterval!, wording, { signed: true })})`
        : `the ball gained ${range('ballSpeedMps', traded.ballInterval!, wording)} only`
  return (
    `${placeWords(report)} more club speed did not reach the ball: club speed was ${byWords(row('clubSpeedMps'), wording)} ` +
    `than in ${quoted(report.before)}, but efficiency ${byWords(row('efficiency'), wording)}, and ${ball}; with the strike ` +
    `of ${quoted(report.before)} that speed would have given about ${alike}.`
  )
}

/** What the change came with, and what else may be behind it. */
function cameWith(report: BlockComparison, wording: Wording): string {
  const open = openToDrift(report)
  const back = report.returnBlock
  if (back !== null) {
    const stayed = open.filter((row) => row.goingBack?.verdict === 'stayed')
    if (open.length === 0) {
      return `Going back to how it was (${quoted(back)}) took it away again, so a drift over the lesson is unlikely.`
    }
    if (stayed.length > 0) {
      return `On going back (${quoted(back)}) ${list(stayed.map((row) => name(row.metric)))} stayed where it was: practice, warm-up or a drift of the day may be behind it.`
    }
    return `Going back (${quoted(back)}) does not settle yet whether it was the step or a drift: hit five more each way.`
  }
  if (open.length === 0) {
    return report.isEarlier
      ? `It was so before ${quoted(report.before)}, and a drift alone would not make it.`
      : `It came with ${quoted(report.after)}; other things may have changed too.`
  }
  const likely = open.filter((row) => row.drift?.isLikely)
  const what = list((likely.length > 0 ? likely : open).map((row) => name(row.metric)))
  return (
    (likely.length > 0
      ? `Inside the blocks ${what} was moving the same way all along, so this may be a drift and not the step: `
      : `The blocks followed each other, and a steady drift of ${what} over the lesson can't be ruled out: `) +
    driftWords(likely[0] ?? open[0]!, wording) +
    'hit five as before once more.'
  )
}

/** How much of the difference the slope inside the blocks could make; nothing where it goes the other way. */
function driftWords(row: MetricComparison, wording: Wording): string {
  if (row.drift === null) return ''
  const most = Math.max(...row.drift.ci90.map((end) => end * Math.sign(row.difference!)))
  if (most <= 0) return ''
  return most >= Math.abs(row.difference!)
    ? 'it could make all of the difference; '
    : `it could make ${size(row.metric, most, wording)} of the difference; `
}

/** The difference would count if it were the only number looked at; among several it does not. */
const isClearAlone = (row: MetricComparison): boolean =>
  row.verdict === 'cannot-tell' && row.interval !== null && row.interval[0] * row.interval[1] > 0

const sameWords = (row: MetricComparison, wording: Wording): string =>
  row.verdict === 'no-visible-change'
    ? `${name(row.metric)} within ${size(row.metric, row.margin, wording)}`
    : `${name(row.metric)} ${size(row.metric, row.difference!, wording)} ${moreOrLess(row.metric, row.difference!)}, less than the ${size(row.metric, row.margin, wording)} worth having`

/** What follows from club speed and efficiency. */
const follows: readonly ShownMetric[] = ['ballSpeedMps', 'carryM', 'totalM']

const looksWords = (rows: readonly MetricComparison[], but: string, wording: Wording): string =>
  rows.length > 0
    ? `${capital(list(rows.map((row) => `${name(row.metric)} looks ${byWords(row, wording)}`)))}, ${but}.`
    : ''

/** Why a difference that looks clear by itself is not counted. */
function chanceWords(rows: readonly MetricComparison[], report: BlockComparison): string {
  const fewest = Math.min(...rows.flatMap(({ before, after }) => [before.n, after.n]))
  return fewest < fewestForALevel
    ? `but ${count(fewest, 'shot')} in a block ${fewest === 1 ? 'is' : 'are'} too few to count on it`
    : `but of ${report.lookedAt} numbers looked at, one or two look so by chance: not counted`
}

/** What the other numbers say, each in a few words. */
function othersWords(rows: readonly MetricComparison[], report: BlockComparison, wording: Wording): string {
  const others = rows.filter((row) => !isSureChange(row) && row.verdict !== 'changed')
  const clear = others.filter(isClearAlone)
  const sure = rows.filter(isSureChange)
  const fitting = clear.filter(
    (row) => follows.includes(row.metric) && sure.some((each) => each.difference! * row.difference! > 0),
  )
  const open = others.filter((row) => row.verdict === 'cannot-tell' && !isClearAlone(row))
  const small = others.filter(
    (row) => row.verdict === 'no-visible-change' || row.verdict === 'too-small-to-matter',
  )
  const within = others.filter((row) => row.verdict === 'within-device-error')
  const isOnly = others.length === rows.length
  const spans = open.map((row) =>
    row.interval === null
      ? name(row.metric)
      : `${name(row.metric)} (${spanWords(row.metric, row.interval, wording)} fits)`,
  )
  return joined(
    looksWords(fitting, 'which goes with it; by itself it is not counted as sure', wording),
    looksWords(
      clear.filter((row) => !fitting.includes(row)),
      chanceWords(clear, report),
      wording,
    ),
    open.length > 0 ? `${isOnly ? 'Open' : 'Not clear'}: ${list(spans)}.` : '',
    small.length > 0 ? `Much the same: ${list(small.map((row) => sameWords(row, wording)))}.` : '',
    within.length > 0
      ? `No more than the device could make: ${list(within.map((row) => `${name(row.metric)} ${signed(row.metric, row.difference!, wording, sdOfInterval(row.interval))}`))}.`
      : '',
  )
}

const missingWords = (report: BlockComparison): string => {
  const missing = report.metrics.filter((row) => !isRecorded(row))
  return missing.length > 0 ? `No readings of ${list(missing.map((row) => name(row.metric)))}.` : ''
}

/** How many shots would show what is still open, for the number that matters most. */
function moreShots(rows: readonly MetricComparison[], wording: Wording): string {
  const row = rows.find(({ verdict, shotsNeeded }) => verdict === 'cannot-tell' && shotsNeeded !== null)
  if (!row) {
    const isOpen = rows.every(({ verdict }) => verdict === 'cannot-tell' || verdict === 'too-few')
    return isOpen ? 'The shots scatter too widely for a change worth having to show in one lesson.' : ''
  }
  const wanted = `${size(row.metric, row.margin, wording)} in ${name(row.metric)}`
  return row.shotsNeeded! <= Math.min(row.before.n, row.after.n)
    ? `A change of ${wanted} would have shown 8 times in 10.`
    : `About ${row.shotsNeeded} shots in each block would show a change of ${wanted} 8 times in 10; settle the number before hitting.`
}

function sureWords(report: BlockComparison): string {
  const sure = report.metrics.filter(isSureChange)
  const allowed =
    report.lookedAt > 1
      ? `${report.lookedAt} numbers were looked at, and this allows for it`
      : 'larger than scatter and device error'
  const parts = [
    openToDrift(report).length === 0
      ? `Clear: ${allowed}.`
      : `The difference is clear: ${allowed}. What it came with is not.`,
  ]
  if (sure.some((row) => row.lag1 >= 0.2)) {
    parts.push('Consecutive shots resemble each other; that is allowed for.')
  }
  if (sure.some((row) => !row.isDeviceErrorKnown)) {
    parts.push("The device's error is not known for every number here and not counted there.")
  }
  if (!report.sameSetup) parts.push('The device was placed anew in between; that error is counted.')
  return parts.join(' ')
}

function dataWords(report: BlockComparison, wording: Wording): string {
  const block = (row: MetricComparison, numbers: MetricComparison['before']): string => {
    const flagged = numbers.flagged?.length ?? 0
    const extras = [
      numbers.missing > 0 ? `${numbers.missing} without a reading` : '',
      flagged > 0 ? `${flagged} to look at, kept in` : '',
    ].filter(Boolean)
    return (
      `${count(numbers.n, 'shot')} in ${quoted(numbers.label)}` +
      (numbers.median === null
        ? ''
        : `, median ${level(row.metric, numbers.median, wording, standardError(numbers))}`) +
      (extras.length > 0 ? ` (${extras.join(', ')})` : '')
    )
  }
  const rows = report.metrics.filter(isRecorded).map((row) => {
    const parts = [`${capital(name(row.metric))}: ${block(row, row.before)}; ${block(row, row.after)}`]
    if (row.difference !== null && row.interval !== null) {
      parts.push(`difference ${range(row.metric, row.interval, wording, { signed: true })} (95 %)`)
    }
    if (row.p !== null) parts.push(`${pWords(row.p)}, adjusted ${pWords(row.pAdjusted)}`)
    if (row.smallestVisible !== null) {
      parts.push(`less than ${size(row.metric, row.smallestVisible, wording)} can't be told from scatter`)
    }
    return parts.join('; ')
  })
  return `${[capital(clubPhrase(report.club)), ...rows].join('. ')}.`
}

const standardError = (numbers: MetricComparison['before']): number | null =>
  numbers.sd === null ? null : numbers.sd / Math.sqrt(numbers.n)

const methodWords = (report: BlockComparison): string => {
  const method = report.metrics.find((row) => row.p !== null)!.method
  return (
    `${method}; club speed and efficiency first, what follows from them after (${report.lookedAt} numbers in one budget of ` +
    `5 %). A change is spoken of if the adjusted p is at most 0.05 and the difference is more than the device could ` +
    `make${report.sameSetup ? '' : ', placing it anew included'}. Nothing is dropped for being a mishit.`
  )
}

function clubFinding(report: BlockComparison): Finding {
  const others = report.leftOut.filter(({ why }) => why === 'other-club')
  const coach = report.leftOut.filter(({ why }) => why === 'left-out-by-coach')
  const sentences = [
    others.length > 0
      ? `Only ${clubPhrase(report.club)} was compared; not looked at: ${leftOutWords(others)}.`
      : '',
    coach.length > 0 ? `Not counted: ${leftOutWords(coach)}.` : '',
  ]
  return {
    topic: 'change',
    metric: null,
    verdict: 'left-out',
    sentence: sentences.filter(Boolean).join(' '),
    howSure: 'Clubs are never mixed in a comparison.',
    isSure: false,
    howWeKnow: {
      data: `${leftOutWords(report.leftOut)}.`,
      method: 'Shots of one club against the same club.',
      source: 'common practice',
    },
    caution: null,
    kind: 'comparison-left-out',
    values: { before: report.before, after: report.after, club: report.club },
  }
}

const notComparable = (report: BlockComparison): Finding => ({
  topic: 'change',
  metric: null,
  verdict: 'no-common-club',
  sentence:
    `${quoted(report.before)} and ${quoted(report.after)} have no shots of the same club, so they can't be compared.` +
    (report.leftOut.length > 0 ? ` There are ${leftOutWords(report.leftOut)}.` : ''),
  howSure: 'Nothing was compared.',
  isSure: false,
  howWeKnow: { data: `${leftOutWords(report.leftOut) || 'No shots'}.`, method: 'None.', source: 'none' },
  caution: null,
  kind: 'comparison-no-common-club',
  values: { before: report.before, after: report.after },
})
