import type { CueMetric, CueReport, CueVerdict } from './cue-report.ts'
import { sayFinding, type Finding, type FindingInWords } from './finding.ts'
import { capital, phrase, semicolons } from '../wording/phrase.ts'
import { adjustedP, count, cueWords, moreOrLess, name, names, size, withAssumedError } from './words.ts'
import type { Wording } from './words.ts'

/**
 * Sentences by cue: tagged swings against untagged ones of the same block. One for each number that differs; what can't be told of
 * several numbers is said once of the cue. Nothing is said of a number that was not recorded.
 */
export const cueFindings = (report: CueReport, wording: Wording): Finding[] => {
  const rows = report.rows.filter((row) => row.reason !== 'no-data')
  return [...new Set(rows.map((row) => row.cue))].flatMap((cue) => {
    const own = rows.filter((row) => row.cue === cue)
    const alike = (verdict: CueVerdict, isBlockItself: boolean) =>
      own.filter((row) => row.verdict === verdict && row.isBlockItself === isBlockItself)
    return [
      ...own
        .filter((row) => row.verdict === 'differs' || row.verdict === 'within-device-error')
        .map((row) => [row]),
      alike('cannot-tell', false),
      alike('too-few', true),
      alike('too-few', false),
    ]
      .filter((group) => group.length > 0)
      .map((group) => finding(group, report, wording))
  })
}

function finding(rows: readonly CueMetric[], report: CueReport, wording: Wording): Finding {
  const [row] = rows as [CueMetric]
  const isAlone = rows.length === 1
  const most = (of: (row: CueMetric) => number) => Math.max(...rows.map(of))
  return sayFinding({
    topic: 'cue',
    metric: isAlone ? row.metric : null,
    verdict: row.verdict,
    ...sentenceOf(rows, report, wording),
    isSure: row.verdict === 'differs',
    howWeKnow: {
      data: phrase('cue.data', {
        tagged: count(
          most((r) => r.tagged),
          'taggedSwing',
        ),
        untagged: most((r) => r.untagged),
        pairs: count(
          most((r) => r.pairs),
          'pair',
        ),
        blocks: count(
          most((r) => r.blocksUsed),
          'block',
        ),
        p: semicolons(
          ...rows.map(({ metric, p, pAdjusted }) => {
            const both = adjustedP(p, pAdjusted)
            return isAlone ? both : phrase('spread.metricP', { metric: name(metric), p: both })
          }),
        ),
      }),
      method: phrase('cue.method', { all: report.lookedAt }),
      source: withAssumedError('van Elteren 1960 (related); Holm 1979'),
    },
    caution: null,
  })
}

function sentenceOf(
  rows: readonly CueMetric[],
  report: CueReport,
  wording: Wording,
): Pick<FindingInWords, 'sentence' | 'howSure'> {
  const [row] = rows as [CueMetric]
  const what = names(rows.map(({ metric }) => metric))
  const cue = cueWords(row.cue, wording)
  const by = row.difference === null ? '' : size(row.metric, row.difference, wording)
  switch (row.verdict) {
    case 'differs':
      return {
        sentence: phrase('cue.differs', {
          what: capital(what),
          by,
          way: moreOrLess(row.metric, row.difference!),
          cue,
        }),
        howSure: phrase('sure.clearAmong', { numbers: count(report.lookedAt, 'number') }),
      }
    case 'within-device-error':
      return {
        sentence: phrase('cue.withinDevice', { what: capital(what), by, cue }),
        howSure: phrase('sure.deviceError'),
      }
    case 'cannot-tell':
      return {
        sentence: phrase('cue.cannotTell', { what, cue }),
        howSure: phrase('cue.cannotTellYet', {
          swings: count(Math.max(...rows.map((r) => r.tagged)), 'taggedSwing'),
        }),
      }
    case 'too-few':
      return row.isBlockItself
        ? { sentence: phrase('cue.isBlock', { cue, what }), howSure: phrase('cue.tagSome') }
        : { sentence: phrase('cue.noPairs', { cue, what }), howSure: phrase('sure.cannotTell') }
  }
}
