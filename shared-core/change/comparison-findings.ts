import type { BlockComparison, MetricComparison } from './compare-blocks.ts'
import type { Finding } from './finding.ts'
import {
  assumedError,
  capital,
  clubPhrase,
  count,
  leftOutWords,
  level,
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
  timesWords,
} from './words.ts'
import type { Wording } from './words.ts'

/** Above this many shots a block, a change is called too small for one lesson (statistics 3.8). */
const mostShotsOfALesson = 60

/**
 * Sentences of a comparison of two blocks: one a metric, and one for clubs that could not be compared. The words are
 * "came with", never "because of": one block after another cannot tell the cue from practice, tempo or wind.
 */
export function comparisonFindings(report: BlockComparison, wording: Wording): Finding[] {
  const findings = report.isComparable
    ? report.metrics.map((row) => metricFinding(row, report, wording))
    : [notComparable(report)]
  return report.isComparable && report.leftOut.length > 0 ? [...findings, clubFinding(report)] : findings
}

/** Below this many shots a block is a first impression, not a level (statistics 2.1). */
const fewestForALevel = 5

const isFirstImpression = (row: MetricComparison): boolean =>
  Math.min(row.before.n, row.after.n) < fewestForALevel

/** "3 shots in “Three” are a first impression, not a level." */
function impressionWords(row: MetricComparison): string {
  const small = row.before.n <= row.after.n ? row.before : row.after
  return `${count(small.n, 'shot')} in ${quoted(small.label)} ${small.n === 1 ? 'is' : 'are'} a first impression, not a level.`
}

function metricFinding(row: MetricComparison, report: BlockComparison, wording: Wording): Finding {
  const { sentence, howSure } = words(row, report, wording)
  return {
    topic: 'change',
    metric: row.metric,
    verdict: row.reason === 'no-data' ? 'not-recorded' : row.verdict,
    sentence,
    howSure,
    isSure: row.verdict === 'changed' && !isFirstImpression(row),
    howWeKnow: { data: dataWords(row, report, wording), method: methodWords(row, report), source: sources },
    caution: null,
  }
}

const sources =
  'Hodges & Lehmann 1963; Wilcoxon 1945 (exact); Holm 1979; Vargha & Delaney 2000; Guenther 1981; ' +
  assumedError

function words(
  row: MetricComparison,
  report: BlockComparison,
  wording: Wording,
): { sentence: string; howSure: string } {
  const what = capital(name(row.metric))
  const { before, after } = row
  const blocks = `${quoted(before.label)} and ${quoted(after.label)}`
  if (before.n === 0 && after.n === 0) return { sentence: notRecorded(row.metric), howSure: 'Not recorded.' }
  if (before.n === 0 || after.n === 0) {
    const missing = before.n === 0 ? before.label : after.label
    return {
      sentence: `${what} has no reading in ${quoted(missing)}, so ${blocks} can't be compared on it.`,
      howSure: 'Not recorded.',
    }
  }
  const difference = row.difference!
  const sd = sdOfInterval(row.interval)
  const by = size(row.metric, difference, wording, sd)
  const more = moreOrLess(row.metric, difference)
  switch (row.verdict) {
    case 'no-spread':
      return {
        sentence: `${what}: all readings of a block are alike, which is too coarse to judge.`,
        howSure: "Can't tell: the device gives too few digits.",
      }
    case 'too-few':
      return {
        sentence:
          `${what}: too few shots to say (${count(before.n, 'shot')} in ${quoted(before.label)}, ` +
          `${after.n} in ${quoted(after.label)}). ${moreShots(row, wording)}`,
        howSure: "Can't tell yet: with so few shots, chance alone makes any difference.",
      }
    case 'changed':
      return {
        sentence:
          `${what} was ${by} ${more} in ${quoted(after.label)} than in ${quoted(before.label)} ` +
          `(95 % interval ${range(row.metric, row.interval!, wording, { signed: true })}): of two shots, one from ` +
          `each, the later was ${more} ${timesWords(shareOf(row))}. ` +
          (isFirstImpression(row)
            ? `${impressionWords(row)} Hit more before building on it.`
            : `It came with ${quoted(after.label)}; other things may have changed too.`),
        howSure: isFirstImpression(row) ? `Not yet sure: ${impressionWords(row)}` : sureWords(row, report),
      }
    case 'within-device-error':
      return {
        sentence:
          `${what} was ${by} ${more} in ${quoted(after.label)} than in ${quoted(before.label)}, but the device alone ` +
          `could make a difference of up to ${size(row.metric, row.deviceFloor!, wording, row.deviceFloor! / 5)}.`,
        howSure: "Can't be told from the device's error.",
      }
    case 'too-small-to-matter':
      return {
        sentence:
          `${what} was ${by} ${more} in ${quoted(after.label)} than in ${quoted(before.label)}: a real difference, but ` +
          `less than the ${size(row.metric, row.margin, wording)} that would be worth having.`,
        howSure: sureWords(row, report),
      }
    case 'no-visible-change':
      return {
        sentence:
          `${what} stayed the same from ${quoted(before.label)} to ${quoted(after.label)}, give or take ` +
          `${size(row.metric, row.margin, wording)}.`,
        howSure: `A larger change is unlikely: the difference is ${signed(row.metric, difference, wording, sd)}, and its 90 % interval lies inside that margin.`,
      }
    case 'cannot-tell':
      return isClearAlone(row) ? oneOfSeveral(row, report, wording) : notYet(row, wording)
  }
}

/** The difference would count if it were the only number looked at; among several it does not. */
const isClearAlone = (row: MetricComparison): boolean =>
  row.interval !== null && row.interval[0] * row.interval[1] > 0

function oneOfSeveral(
  row: MetricComparison,
  report: BlockComparison,
  wording: Wording,
): { sentence: string; howSure: string } {
  const difference = row.difference!
  const by = size(row.metric, difference, wording, sdOfInterval(row.interval))
  return {
    sentence:
      `${capital(name(row.metric))} looks ${by} ${moreOrLess(row.metric, difference)} in ${quoted(row.after.label)} than in ` +
      `${quoted(row.before.label)} (95 % interval ${range(row.metric, row.interval!, wording, { signed: true })}), but ` +
      `it is not sure yet: where ${report.lookedAt} numbers are looked at, one like this turns up easily by chance. ` +
      'Hit both once more to see whether it comes again.',
    howSure: `Not sure yet: clear by itself, not as one of ${report.lookedAt} numbers.`,
  }
}

function notYet(row: MetricComparison, wording: Wording): { sentence: string; howSure: string } {
  const { before, after, interval } = row
  const difference = row.difference!
  const by = size(row.metric, difference, wording, sdOfInterval(interval))
  const soFar =
    by === 'next to nothing'
      ? 'so far there is next to none'
      : `so far ${by} ${moreOrLess(row.metric, difference)}`
  return {
    sentence:
      `Can't tell yet whether ${name(row.metric)} changed from ${quoted(before.label)} to ${quoted(after.label)}: ${soFar}` +
      (interval === null
        ? '. '
        : `, but anything from ${spanWords(row.metric, interval, wording)} fits these shots. `) +
      moreShots(row, wording),
    howSure: "Can't tell yet: scatter and device hide a difference of this size.",
  }
}

const shareOf = (row: MetricComparison): number =>
  row.difference! > 0 ? row.probabilityOfSuperiority! : 1 - row.probabilityOfSuperiority!

function moreShots(row: MetricComparison, wording: Wording): string {
  const wanted = size(row.metric, row.margin, wording)
  if (row.shotsNeeded === null) return 'At least 5 shots in each block are needed for a first answer.'
  if (row.shotsNeeded > mostShotsOfALesson) {
    return `The shots scatter too widely for a change of ${wanted} to show in one lesson.`
  }
  const have = Math.min(row.before.n, row.after.n)
  return row.shotsNeeded <= have
    ? `A change of ${wanted} or more would usually have shown; a smaller one takes more shots.`
    : `About ${row.shotsNeeded} shots in each block would show a change of ${wanted}; settle the number before hitting.`
}

function sureWords(row: MetricComparison, report: BlockComparison): string {
  const parts = [
    report.lookedAt > 1
      ? `Clear: ${report.lookedAt} numbers were looked at, and this allows for it.`
      : 'Clear: larger than scatter and device error.',
  ]
  if (row.isLessSure) parts.push('Consecutive shots resemble each other, so it is less sure than it looks.')
  if (row.borderDifference !== null && row.borderDifference * row.difference! < 0) {
    parts.push('Right at the step from one block to the next the readings go the other way: it may be drift.')
  }
  if (!row.isDeviceErrorKnown) parts.push("The device's error for this number is not known and not counted.")
  if (!report.sameSetup) parts.push('The device was placed anew in between; that error is counted.')
  return parts.join(' ')
}

function dataWords(row: MetricComparison, report: BlockComparison, wording: Wording): string {
  const block = (numbers: MetricComparison['before']): string => {
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
  const parts = [`${capital(clubPhrase(report.club))}: ${block(row.before)}; ${block(row.after)}`]
  if (row.p !== null) parts.push(`${pWords(row.p)}, adjusted ${pWords(row.pAdjusted)}`)
  if (row.smallestVisible !== null) {
    parts.push(
      `a difference below ${size(row.metric, row.smallestVisible, wording)} can't be told from scatter`,
    )
  }
  return parts.join('; ') + '.'
}

const standardError = (numbers: MetricComparison['before']): number | null =>
  numbers.sd === null ? null : numbers.sd / Math.sqrt(numbers.n)

const methodWords = (row: MetricComparison, report: BlockComparison): string =>
  row.p === null
    ? 'None: nothing to compare.'
    : `${row.method}. A change is spoken of if the adjusted p is at most 0.05 and the difference is more than the ` +
      `device could make${report.sameSetup ? '' : ', placing it anew included'}. Nothing is dropped for being a mishit.`

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
})
