import { fewestForSpread } from './compare-spread.ts'
import type { SpreadComparison, SpreadReport } from './compare-spread.ts'
import type { Finding } from './finding.ts'
import { capital, clubPhrase, count, name, notRecorded, pWords, quoted } from './words.ts'

/** Sentences about scatter: did the shots come closer together? */
export const spreadFindings = (report: SpreadReport): Finding[] =>
  report.metrics.map((row) => ({
    topic: 'change',
    metric: row.metric,
    verdict: `spread-${row.verdict}`,
    ...words(row, report),
    isSure: row.verdict === 'steadier' || row.verdict === 'wilder',
    howWeKnow: {
      data:
        `${capital(clubPhrase(report.club))}: ${count(row.n[0], 'shot')} in ${quoted(report.before)}, ${row.n[1]} in ` +
        `${quoted(report.after)}; ${pWords(row.p)}, adjusted ${pWords(row.pAdjusted)}.`,
      method: `Distances from each block’s median compared (F test), adjusted over ${report.lookedAt} (Holm).`,
      source: 'Brown & Forsythe 1974; Holm 1979',
    },
    caution: null,
  }))

function words(row: SpreadComparison, report: SpreadReport): { sentence: string; howSure: string } {
  const what = capital(name(row.metric))
  const blocks = `${quoted(report.before)} and ${quoted(report.after)}`
  if (row.reason === 'no-data') return { sentence: notRecorded(row.metric), howSure: 'Not recorded.' }
  switch (row.verdict) {
    case 'steadier':
    case 'wilder': {
      const ratio = row.verdict === 'steadier' ? 1 / row.sdRatio! : row.sdRatio!
      const way = row.verdict === 'steadier' ? 'less' : 'more'
      return {
        sentence: `${what} scattered ${ratio.toFixed(1)} times ${way} in ${quoted(report.after)} than in ${quoted(report.before)}.`,
        howSure: `Clear: ${count(report.lookedAt, 'number')} looked at, and this allows for it.`,
      }
    }
    case 'cannot-tell':
      return {
        sentence: `${what}: can't tell whether the scatter differs between ${blocks}.`,
        howSure: "Can't tell: a scatter half as wide is found in one lesson of three with 10 and 10 shots.",
      }
    case 'no-spread':
      return {
        sentence: `${what}: all readings of a block are alike, so the scatter can't be compared.`,
        howSure: "Can't tell.",
      }
    case 'too-few':
      return {
        sentence: `${what}: scatter can't be compared yet (${row.n[0]} and ${row.n[1]} shots).`,
        howSure: `Can't tell: at least ${fewestForSpread} shots a block are needed.`,
      }
  }
}
