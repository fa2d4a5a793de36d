import type { MetricComparison } from './compare-blocks.ts'
import { sayFinding, type Finding } from './finding.ts'
import type { PlanResult } from './plan-against-result.ts'
import { capital, dayWord, phrase, type Word } from '../wording/phrase.ts'
import {
  clubPhrase,
  count,
  moreOrLess,
  name,
  names,
  range,
  sdOfInterval,
  size,
  withAssumedError,
} from './words.ts'
import type { Wording } from './words.ts'

/**
 * Sentences that set a practice plan against what came after it: one for each number that moved or held, one for all
 * of which it can't be told. "Came after", never "because of".
 */
export function planFindings(result: PlanResult, wording: Wording): Finding[] {
  const rows = result.comparison.metrics.filter((row) => row.reason !== 'no-data')
  const between = phrase('plan.between', daysOf(result))
  if (rows.length === 0) {
    const nothing = phrase('plan.nothing', { between })
    return [finding([], result, 'not-recorded', nothing, phrase('sure.notCompared'))]
  }
  const open = rows.filter((row) => row.verdict === 'cannot-tell' || row.verdict === 'no-spread')
  const few = rows.filter((row) => row.verdict === 'too-few')
  const told = rows.filter((row) => !open.includes(row) && !few.includes(row))
  const whatOf = (some: readonly MetricComparison[]) => names(some.map((row) => row.metric))
  return [
    ...told.map((row) => finding([row], result, row.verdict, ...toldWords(row, result, between, wording))),
    ...(open.length > 0
      ? [
          finding(
            open,
            result,
            'cannot-tell',
            phrase('plan.cannotTell', { what: whatOf(open), between }),
            phrase('plan.hidden'),
          ),
        ]
      : []),
    ...(few.length > 0
      ? [
          finding(
            few,
            result,
            'too-few',
            phrase('plan.tooFew', { what: whatOf(few), between }),
            phrase('plan.shotsNeeded'),
          ),
        ]
      : []),
  ]
}

const daysOf = ({ plannedOn, shownOn }: PlanResult) => ({
  planned: dayWord(plannedOn),
  shown: dayWord(shownOn),
})

function toldWords(
  row: MetricComparison,
  result: PlanResult,
  between: Word,
  wording: Wording,
): [sentence: Word, howSure: Word] {
  const difference = row.difference!
  const what = capital(name(row.metric))
  const moved = {
    what,
    by: size(row.metric, difference, wording, sdOfInterval(row.interval)),
    way: moreOrLess(row.metric, difference),
    ...daysOf(result),
  }
  switch (row.verdict) {
    case 'changed':
      return [
        phrase('plan.changed', {
          ...moved,
          interval: range(row.metric, row.interval!, wording, { signed: true }),
        }),
        phrase('plan.clear', { numbers: count(result.comparison.lookedAt, 'number') }),
      ]
    case 'within-device-error':
      return [
        phrase('plan.withinDevice', {
          ...moved,
          floor: size(row.metric, row.deviceFloor!, wording, row.deviceFloor! / 5),
        }),
        phrase('sure.deviceError'),
      ]
    default:
      return [
        phrase('plan.held', { what, between, margin: size(row.metric, row.margin, wording) }),
        phrase('plan.insideMargin'),
      ]
  }
}

const finding = (
  rows: readonly MetricComparison[],
  { comparison }: PlanResult,
  verdict: string,
  sentence: Word,
  howSure: Word,
): Finding => {
  const club = capital(clubPhrase(comparison.club))
  return sayFinding({
    topic: 'plan',
    metric: rows.length === 1 ? rows[0]!.metric : null,
    verdict,
    sentence,
    howSure,
    isSure: verdict === 'changed',
    howWeKnow: {
      data:
        rows.length === 0
          ? phrase('plan.noReadings', { club })
          : phrase('plan.data', {
              club,
              shots: count(rows[0]!.before.n, 'shot'),
              after: rows[0]!.after.n,
            }),
      method: rows[0]?.method ?? phrase('text.none'),
      source:
        rows.length === 0
          ? 'none'
          : withAssumedError('Hodges & Lehmann 1963; Wilcoxon 1945 (exact); Holm 1979'),
    },
    caution: null,
  })
}
