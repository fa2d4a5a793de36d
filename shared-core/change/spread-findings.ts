import { minForSpread } from './compare-spread.ts'
import type { SpreadComparison, SpreadReport } from './compare-spread.ts'
import { sayFinding, type Finding, type FindingInWords } from './finding.ts'
import { capital, phrase, semicolons } from '../wording/phrase.ts'
import { adjustedP, clubPhrase, count, name, names, quoted } from './words.ts'

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
  const numbers = rows.map(({ metric, p, pAdjusted }) => {
    const both = adjustedP(p, pAdjusted)
    return isAlone ? both : phrase('spread.metricP', { metric: name(metric), p: both })
  })
  return sayFinding({
    topic: 'change',
    metric: isAlone ? row.metric : null,
    verdict: `spread-${row.verdict}`,
    ...words(rows, report),
    isSure: row.verdict === 'steadier' || row.verdict === 'wilder',
    howWeKnow: {
      data: phrase('spread.data', {
        club: capital(clubPhrase(report.club)),
        shots: count(row.n[0], 'shot'),
        before: quoted(report.before),
        other: row.n[1],
        after: quoted(report.after),
        numbers: semicolons(...numbers),
      }),
      method: phrase('spread.method', { all: report.lookedAt }),
      source: 'Brown & Forsythe 1974; Holm 1979',
    },
    caution: null,
  })
}

function words(
  rows: readonly SpreadComparison[],
  report: SpreadReport,
): Pick<FindingInWords, 'sentence' | 'howSure'> {
  const [row] = rows as [SpreadComparison]
  const what = names(rows.map(({ metric }) => metric))
  const [before, after] = [quoted(report.before), quoted(report.after)]
  const blocks = phrase('text.blocks', { before, after })
  switch (row.verdict) {
    case 'steadier':
    case 'wilder': {
      const ratio = row.verdict === 'steadier' ? 1 / row.sdRatio! : row.sdRatio!
      return {
        sentence: phrase(`spread.${row.verdict}`, {
          what: capital(what),
          after,
          before,
          times: ratio.toFixed(1),
        }),
        howSure: phrase('sure.clearAmong', { numbers: count(report.lookedAt, 'number') }),
      }
    }
    case 'cannot-tell':
      return {
        sentence: phrase('spread.cannotTell', { before, after, what }),
        howSure: phrase('spread.hardToShow'),
      }
    case 'no-spread':
      return { sentence: phrase('spread.alike', { what, blocks }), howSure: phrase('sure.fewDigits') }
    case 'too-few':
      return {
        sentence: phrase('spread.tooFew', { blocks, what }),
        howSure: phrase('spread.shotsNeeded', { least: minForSpread }),
      }
  }
}
