import type { CueMetric, CueReport } from './cue-report.ts'
import { sayFinding, type Finding, type FindingInWords } from './finding.ts'
import { capital, phrase } from '../wording/phrase.ts'
import { adjustedP, count, cueWords, moreOrLess, name, notRecorded, size, withAssumedError } from './words.ts'
import type { Wording } from './words.ts'

/** Sentences by cue: tagged swings against untagged ones of the same block. */
export const cueFindings = (report: CueReport, wording: Wording): Finding[] =>
  report.rows.map((row) =>
    sayFinding({
      topic: 'cue',
      metric: row.metric,
      verdict: row.verdict,
      ...sentenceOf(row, report, wording),
      isSure: row.verdict === 'differs',
      howWeKnow: {
        data: phrase('cue.data', {
          tagged: count(row.tagged, 'taggedSwing'),
          untagged: row.untagged,
          pairs: count(row.pairs, 'pair'),
          blocks: count(row.blocksUsed, 'block'),
          p: adjustedP(row.p, row.pAdjusted),
        }),
        method: phrase('cue.method', { all: report.lookedAt }),
        source: withAssumedError('van Elteren 1960 (related); Holm 1979'),
      },
      caution: null,
    }),
  )

function sentenceOf(
  row: CueMetric,
  report: CueReport,
  wording: Wording,
): Pick<FindingInWords, 'sentence' | 'howSure'> {
  const metric = name(row.metric)
  const what = capital(metric)
  const cue = cueWords(row.cue, wording)
  if (row.reason === 'no-data') {
    return { sentence: notRecorded(row.metric), howSure: phrase('sure.notRecorded') }
  }
  const by = row.difference === null ? '' : size(row.metric, row.difference, wording)
  switch (row.verdict) {
    case 'differs':
      return {
        sentence: phrase('cue.differs', { what, by, way: moreOrLess(row.metric, row.difference!), cue }),
        howSure: phrase('sure.clearAmong', { numbers: count(report.lookedAt, 'number') }),
      }
    case 'within-device-error':
      return {
        sentence: phrase('cue.withinDevice', { what, by, cue }),
        howSure: phrase('sure.deviceError'),
      }
    case 'cannot-tell':
      return {
        sentence: phrase('cue.cannotTell', { what: metric, cue }),
        howSure: phrase('cue.cannotTellYet', { swings: count(row.tagged, 'taggedSwing') }),
      }
    case 'too-few':
      return row.isBlockItself
        ? { sentence: phrase('cue.isBlock', { cue, what: metric }), howSure: phrase('cue.tagSome') }
        : { sentence: phrase('cue.noPairs', { cue, what: metric }), howSure: phrase('sure.cannotTell') }
  }
}
