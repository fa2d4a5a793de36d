import { useMemo } from 'react'
import {
  comparisonRows,
  pictureRows,
  reachOf,
  type ComparisonCell,
  type ComparisonRow,
} from '../../../shared-core/report/comparison-rows.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import {
  formatMetric,
  metricLabel,
  metricUnit,
  type ShownMetric,
  type UnitSystem,
} from '../../../shared-core/units.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import './comparison-table.css'

/** A row a comparison, the metrics across; each cell the difference and its interval about zero, bold where it is sure. */
export function ComparisonTable(props: { report: LessonReport; after?: string }) {
  const { report, after } = props
  const numbers = useMemo(() => comparisonRows(report), [report])
  const pictures = useMemo(() => pictureRows(report), [report])
  return (
    <>
      <Table all={numbers} after={after} units={report.units} what="difference" />
      {pictures.length > 0 && (
        <Table all={pictures} after={after} units={report.units} what="differenceInPictures" />
      )}
    </>
  )
}

/** The columns are narrow: what a body measure is called there. */
const shortNames: Partial<Record<ShownMetric, string>> = {
  braceBeforeImpactSeconds: ledgerWords('short.braceBeforeImpactSeconds'),
  leadKneeImpactDeg: ledgerWords('short.leadKneeImpactDeg'),
  headAlongImpactWidths: ledgerWords('short.headAlongImpactWidths'),
}

function Table(props: {
  all: readonly ComparisonRow[]
  after: string | undefined
  units: UnitSystem
  what: 'difference' | 'differenceInPictures'
}) {
  const { all, after, units, what } = props
  const rows = all.filter((r) => after === undefined || r.after === after)
  if (rows.length === 0) return null
  const metrics = rows[0]!.cells.map((c) => c.metric)
  return (
    <table className="compare-table">
      <caption className="unseen">{ledgerWords(what, { block: rows[0]!.before })}</caption>
      <thead>
        <tr className="fine soft">
          {metrics.map((metric) => (
            <th key={metric} scope="col">
              <span title={metricLabel(metric)}>{shortNames[metric] ?? metricLabel(metric)}</span>{' '}
              <span className="compare-unit">{metricUnit(metric, units)}</span>
            </th>
          ))}
        </tr>
      </thead>
      {rows.map((row) => (
        <tbody key={row.after}>
          <tr>
            <th scope="rowgroup" colSpan={metrics.length} className="compare-name">
              {row.after} <span className="fine soft">{ledgerWords('against', { block: row.before })}</span>
            </th>
          </tr>
          <tr>
            {row.isComparable ? (
              row.cells.map((cell) => (
                <td key={cell.metric} className={cell.isSure ? 'is-sure' : 'soft'}>
                  <Cell cell={cell} reach={reachOf(all, cell.metric)} units={units} />
                </td>
              ))
            ) : (
              <td colSpan={metrics.length} className="fine soft compare-none">
                {ledgerWords('noClubInBoth')}
              </td>
            )}
          </tr>
        </tbody>
      ))}
    </table>
  )
}

const standardErrorOf = (interval: [number, number] | null) =>
  interval === null ? null : (interval[1] - interval[0]) / 3.92

function Cell({ cell, reach, units }: { cell: ComparisonCell; reach: number; units: UnitSystem }) {
  const { metric, difference, interval, isSure } = cell
  if (difference === null) return <span title={ledgerWords('notRecorded')}>–</span>
  const sd = standardErrorOf(interval)
  const text = (value: number) => formatMetric(metric, value, units, { signed: true, sd }).text
  const x = (value: number) => (reach === 0 ? 50 : 50 + (value / reach) * 46)
  const words = interval
    ? ledgerWords(isSure ? 'sure' : 'notSure', { low: text(interval[0]), high: text(interval[1]) })
    : ledgerWords('noInterval')
  return (
    <span title={words}>
      {text(difference)}
      <span className="unseen">, {words}</span>
      <svg className="compare-bar" aria-hidden>
        <line x1="50%" x2="50%" y1="0" y2="100%" className="compare-zero" />
        {interval && (
          <line
            x1={`${x(interval[0])}%`}
            x2={`${x(interval[1])}%`}
            y1="50%"
            y2="50%"
            className="compare-span"
          />
        )}
        <circle cx={`${x(difference)}%`} cy="50%" r="2.6" className="compare-dot" />
      </svg>
    </span>
  )
}
