import { fewestForSpread } from './compare-spread.ts'
import type { SpreadComparison, SpreadReport } from './compare-spread.ts'
import type { Finding } from './finding.ts'
import { capital, clubPhrase, count, list, name, pWords, quoted } from './words.ts'

/**
 * Sentences about scatter: did the shots come closer together? One for each metric whose scatter changed; what can't be
 * told of several metrics is said once. Nothing is said of a metric that was not recorded.
 */
export function spreadFindings(report: SpreadReport): Finding[] {
  const rows = report.metrics.filter((row) => row.reason !== 'no-data')
  const shown = rows.filter((row) => row.verdict === 'steadier' || row.verdict === 'wilder')
  const kinds = (['cannot-tell', 'no-spread', 'too-few'] as const).map((verdict) =>
    rows.filter((row) => row.verdict === verdict),
  )
  return [
    ...shown.map((row) => finding([row], report)),
    ...kinds.filter((alike) => alike.length > 0).map((alike) => finding(alike, report)),
  ]
}

function finding(rows: readonly SpreadComparison[], report: SpreadReport): Finding {
  const [row] = rows as [SpreadComparison]
  const isAlone = rows.length === 1
  const numbers = rows
    .map(
      ({ metric, p, pAdjusted }) =>
        `${isAlone ? '' : `${name(metric)} `}${pWords(p)}, adjusted ${pWords(pAdjusted)}`,
    )
    .join('; ')
  return {
    topic: 'change',
    metric: isAlone ? row.metric : null,
    verdict: `spread-${row.verdict}`,
    ...words(rows, report),
    isSure: row.verdict === 'steadier' || row.verdict === 'wilder',
    howWeKnow: {
      data:
        `${capital(clubPhrase(report.club))}: ${count(row.n[0], 'shot')} in ${quoted(report.before)}, ${row.n[1]} in ` +
        `${quoted(report.after)}; ${numbers}.`,
      method: `Distances from each block’s median compared (F test), adjusted over ${report.lookedAt} (Holm).`,
      source: 'Brown & Forsythe 1974; Holm 1979',
    },
    caution: null,
  }
}

function words(
  rows: readonly SpreadComparison[],
  report: SpreadReport,
): { sentence: string; howSure: string } {
  const [row] = rows as [SpreadComparison]
  const what = list(rows.map(({ metric }) => name(metric)))
  const blocks = `${quoted(report.before)} and ${quoted(report.after)}`
  switch (row.verdict) {
    case 'steadier':
    case 'wilder': {
      const ratio = row.verdict === 'steadier' ? 1 / row.sdRatio! : row.sdRatio!
      const way = row.verdict === 'steadier' ? 'closer together' : 'farther apart'
      return {
        sentence: `${capital(what)}: the shots of ${quoted(report.after)} lie ${way} than those of ${quoted(report.before)}, by about ${ratio.toFixed(1)} times.`,
        howSure: `Clear: ${count(report.lookedAt, 'number')} looked at, and this allows for it.`,
      }
    }
    case 'cannot-tell':
      return {
        sentence: `Can't tell whether the shots came closer together or farther apart from ${quoted(report.before)} to ${quoted(report.after)} in ${what}.`,
        howSure:
          "Can't tell: with 10 and 10 shots even a scatter half as wide shows in one lesson of three only.",
      }
    case 'no-spread':
      return {
        sentence: `All readings of ${what} are alike in one of ${blocks}, so the scatter can't be compared.`,
        howSure: "Can't tell: the device gives too few digits.",
      }
    case 'too-few':
      return {
        sentence: `Too few shots to compare the scatter of ${blocks} in ${what}.`,
        howSure: `Can't tell: at least ${fewestForSpread} shots in each are needed, 15 are better.`,
      }
  }
}
