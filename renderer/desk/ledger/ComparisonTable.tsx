import { useMemo } from 'react'
import {
  comparisonRows,
  cueRows,
  pictureRows,
  reachOf,
  type ComparisonCell,
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
import { useDesk } from '../../store/desk-store.ts'
import './comparison-table.css'

/** A row a comparison, the metrics across; each cell the difference and its interval about zero, bold where it is sure. */
export function ComparisonTable(props: { report: LessonReport; after?: string }) {
  const { report, after } = props
  const tables = useMemo(
    () => [
      // Clips alone have no numbers to compare.
      { what: 'difference' as const, rows: report.shots.length > 0 ? comparisonRows(report) : [] },
      { what: 'differenceInPictures' as const, rows: pictureRows(report) },
    ],
    [report],
  )
  return tables.map(({ what, rows }) => (
    <DifferenceTable
      key={what}
      caption={ledgerWords(what, { block: rows[0]?.before ?? '' })}
      rows={rows
        .filter((row) => after === undefined || row.after === after)
        .map((row) => ({
          name: row.after,
          aside: ledgerWords('against', { block: row.before }),
          cells: row.cells,
          isComparable: row.isComparable,
        }))}
      reach={(metric) => reachOf(rows, metric)}
      units={report.units}
    />
  ))
}

/** The swings with a cue against the others of their block and club. */
export function CueDifferences({ report }: { report: LessonReport }) {
  const kinds = useDesk((s) => s.cueKinds)
  const tables = useMemo(() => cueRows(report), [report])
  if (tables.every((rows) => rows.length === 0)) return null
  return (
    <section className="ledger-part" aria-label={ledgerWords('withCue')}>
      <div className="ledger-head">
        <h2>{ledgerWords('withCue')}</h2>
      </div>
      {tables.map((rows, i) => (
        <DifferenceTable
          key={i === 0 ? 'numbers' : 'pictures'}
          caption={ledgerWords('withCue')}
          rows={rows.map((row) => ({
            name: kinds.find((kind) => kind.key === row.cue)?.label ?? row.cue,
            aside: ledgerWords('taggedAgainst', { tagged: row.tagged, untagged: row.untagged }),
            cells: row.cells,
            isComparable: true,
          }))}
          reach={(metric) => reachOf(rows, metric)}
          units={report.units}
        />
      ))}
      <p className="fine soft">{ledgerWords('withCueHow')}</p>
    </section>
  )
}

/** The columns are narrow: what a body measure is called there. */
const shortNames: Partial<Record<ShownMetric, string>> = {
  braceBeforeImpactSeconds: ledgerWords('short.braceBeforeImpactSeconds'),
  leadKneeImpactDeg: ledgerWords('short.leadKneeImpactDeg'),
  headAlongImpactWidths: ledgerWords('short.headAlongImpactWidths'),
}

interface DifferenceRow {
  name: string
  aside: string
  cells: readonly ComparisonCell[]
  isComparable: boolean
}

function DifferenceTable(props: {
  caption: string
  rows: readonly DifferenceRow[]
  reach: (metric: ShownMetric) => number
  units: UnitSystem
}) {
  const { caption, rows, reach, units } = props
  if (rows.length === 0) return null
  const metrics = rows[0]!.cells.map((c) => c.metric)
  return (
    <table className="compare-table">
      <caption className="unseen">{caption}</caption>
      <thead>
        <tr className="fine soft">
          {metrics.map((metric) => (
            <th key={metric} scope="col">
              <span title={metricLabel(metric)}>{shortNames[metric] ?? metricLabel(metric)}</span>
              {metricUnit(metric, units).length > 2 ? ' ' : '\u00a0'}
              {metricUnit(metric, units)}
            </th>
          ))}
        </tr>
      </thead>
      {rows.map((row) => (
        <tbody key={row.name}>
          <tr>
            <th scope="rowgroup" colSpan={metrics.length} className="compare-name">
              {row.name} <span className="fine soft">{row.aside}</span>
            </th>
          </tr>
          <tr>
            {row.isComparable ? (
              row.cells.map((cell) => (
                <td key={cell.metric} className={cell.isSure ? 'is-sure' : 'soft'}>
                  <Cell cell={cell} reach={reach(cell.metric)} units={units} />
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
