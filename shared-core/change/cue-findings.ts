import type { CueMetric, CueReport } from './cue-report.ts'
import type { Finding } from './finding.ts'
import {
  assumedError,
  capital,
  count,
  cueWords,
  moreOrLess,
  name,
  notRecorded,
  pWords,
  size,
} from './words.ts'
import type { Wording } from './words.ts'

/** Sentences by cue: tagged swings against untagged ones of the same block. */
export const cueFindings = (report: CueReport, wording: Wording): Finding[] =>
  report.rows.map((row) => ({
    topic: 'cue',
    metric: row.metric,
    verdict: row.verdict,
    ...sentenceOf(row, report, wording),
    isSure: row.verdict === 'differs',
    howWeKnow: {
      data:
        `${count(row.tagged, 'tagged swing')}, ${row.untagged} untagged, ${count(row.pairs, 'pair')} inside ` +
        `${count(row.blocksUsed, 'block')}; ${pWords(row.p)}, adjusted ${pWords(row.pAdjusted)}.`,
      method:
        'Differences inside the same block and club only; p from all re-taggings inside the blocks, exact; ' +
        `adjusted over the ${report.lookedAt} numbers shown (Holm).`,
      source: `van Elteren 1960 (related); Holm 1979; ${assumedError}`,
    },
    caution: null,
  }))

function sentenceOf(
  row: CueMetric,
  report: CueReport,
  wording: Wording,
): { sentence: string; howSure: string } {
  const what = name(row.metric)
  const cue = cueWords(row.cue, wording)
  if (row.reason === 'no-data') return { sentence: notRecorded(row.metric), howSure: 'Not recorded.' }
  const by = row.difference === null ? '' : size(row.metric, row.difference, wording)
  switch (row.verdict) {
    case 'differs':
      return {
        sentence:
          `${capital(what)} was ${by} ${moreOrLess(row.metric, row.difference!)} on the swings tagged ${cue} than on ` +
          'the others of the same blocks. It came with the cue; that is not yet a cause.',
        howSure: `Clear: ${count(report.lookedAt, 'number')} looked at, and this allows for it.`,
      }
    case 'within-device-error':
      return {
        sentence: `${capital(what)} differs by ${by} on the swings tagged ${cue}, no more than the device could make.`,
        howSure: "Can't be told from the device's error.",
      }
    case 'cannot-tell':
      return {
        sentence: `Can't tell yet whether ${what} differs on the swings tagged ${cue}.`,
        howSure: `Can't tell yet (${count(row.tagged, 'tagged swing')}).`,
      }
    case 'too-few':
      return row.isBlockItself
        ? {
            sentence: `${cue} is on all swings of its block or on none: cue and block are the same thing here, so ${what} can't be compared by cue.`,
            howSure: "Can't tell: tag some swings of a block and not others, or go back and forth.",
          }
        : {
            sentence: `There are no swings with and without ${cue} in one block to compare ${what}.`,
            howSure: "Can't tell.",
          }
  }
}
