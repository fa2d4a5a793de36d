import type { MetricComparison } from './compare-blocks.ts'
import type { Finding } from './finding.ts'
import type { PlanResult } from './plan-against-result.ts'
import {
  assumedError,
  capital,
  clubPhrase,
  count,
  dayWords,
  list,
  moreOrLess,
  name,
  range,
  sdOfInterval,
  size,
} from './words.ts'
import type { Wording } from './words.ts'

/**
 * Sentences that set a practice plan against what came after it: one for each number that moved or held, one for all
 * of which it can't be told. "Came after", never "because of".
 */
export function planFindings(result: PlanResult, wording: Wording): Finding[] {
  const rows = result.comparison.metrics.filter((row) => row.reason !== 'no-data')
  if (rows.length === 0) {
    return [finding([], result, 'not-recorded', notCompared(result), 'Nothing was compared.')]
  }
  const open = rows.filter((row) => row.verdict === 'cannot-tell' || row.verdict === 'no-spread')
  const few = rows.filter((row) => row.verdict === 'too-few')
  const told = rows.filter((row) => !open.includes(row) && !few.includes(row))
  return [
    ...told.map((row) => finding([row], result, row.verdict, ...toldWords(row, result, wording))),
    ...(open.length > 0
      ? [
          finding(
            open,
            result,
            'cannot-tell',
            `Can't tell yet whether ${names(open)} changed ${between(result)}.`,
            "Can't tell: scatter, the device and placing it anew hide a difference of this size.",
          ),
        ]
      : []),
    ...(few.length > 0
      ? [
          finding(
            few,
            result,
            'too-few',
            `Too few shots to say whether ${names(few)} changed ${between(result)}.`,
            "Can't tell: at least 5 shots on either side are needed.",
          ),
        ]
      : []),
  ]
}

const names = (rows: readonly MetricComparison[]): string => list(rows.map((row) => name(row.metric)))
const end = (result: PlanResult): string => `at the end of the lesson of ${dayWords(result.plannedOn)}`
const between = (result: PlanResult): string =>
  `from the end of the lesson of ${dayWords(result.plannedOn)} to the start of the one of ${dayWords(result.shownOn)}`
const notCompared = (result: PlanResult): string =>
  `Nothing was recorded that could be compared ${between(result)}.`

function toldWords(row: MetricComparison, result: PlanResult, wording: Wording): [string, string] {
  const difference = row.difference!
  const what = capital(name(row.metric))
  const by = `${size(row.metric, difference, wording, sdOfInterval(row.interval))} ${moreOrLess(row.metric, difference)}`
  const now = `at the start of the lesson of ${dayWords(result.shownOn)}`
  switch (row.verdict) {
    case 'changed':
      return [
        `${what} was ${by} ${now} than ${end(result)} (95 % interval ` +
          `${range(row.metric, row.interval!, wording, { signed: true })}). It came after the practice; other things may ` +
          'have changed too.',
        `Clear: ${count(result.comparison.lookedAt, 'number')} looked at and the device placed anew, and this allows for both.`,
      ]
    case 'within-device-error':
      return [
        `${what} was ${by} ${now} than ${end(result)}, but placing the device anew alone could make up to ` +
          `${size(row.metric, row.deviceFloor!, wording, row.deviceFloor! / 5)}.`,
        "Can't be told from the device's error.",
      ]
    default:
      return [
        `${what} held ${between(result)}, give or take ${size(row.metric, row.margin, wording)}.`,
        'A larger change is unlikely (90 % interval inside that margin).',
      ]
  }
}

const finding = (
  rows: readonly MetricComparison[],
  { comparison }: PlanResult,
  verdict: string,
  sentence: string,
  howSure: string,
): Finding => ({
  topic: 'plan',
  metric: rows.length === 1 ? rows[0]!.metric : null,
  verdict,
  sentence,
  howSure,
  isSure: verdict === 'changed',
  howWeKnow: {
    data:
      `${capital(clubPhrase(comparison.club))}: ` +
      (rows.length === 0
        ? 'no readings on both sides.'
        : `${count(rows[0]!.before.n, 'shot')} of the last block before, ${rows[0]!.after.n} of the first block after.`),
    method: rows[0]?.method ?? 'None.',
    source:
      rows.length === 0 ? 'none' : `Hodges & Lehmann 1963; Wilcoxon 1945 (exact); Holm 1979; ${assumedError}`,
  },
  caution: null,
})
