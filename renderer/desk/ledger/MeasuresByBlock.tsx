import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { formatMetric, metricLabel, metricUnit, type UnitSystem } from '../../../shared-core/units.ts'
import { measuresWords } from '../../../shared-core/wording/window/measures.ts'
import { useDesk } from '../../store/desk-store.ts'
import { capital } from '../../parts/capital.ts'
import './measures.css'

/** What the pictures give, block by block: the median and how many swings it rests on. */
export function MeasuresByBlock({ units }: { units: UnitSystem }) {
  const report = useDesk((s) => s.report) as LessonReport | { failed: string } | null
  const measures = report === null || 'failed' in report ? null : report.measures
  if (!measures) return null
  const names = measures.blocks[0]?.measures.map((m) => m.measure) ?? []
  return (
    <section className="ledger-part" aria-label={measuresWords('byBlock')}>
      <div className="ledger-head">
        <h2>{measuresWords('byBlock')}</h2>
      </div>
      <div className="measure-scroll">
        <table className="measure-table">
          <thead>
            <tr className="fine soft">
              {measures.blocks.map((block) => (
                <th scope="col" key={block.blockId}>
                  {block.label || measuresWords('block')}
                </th>
              ))}
            </tr>
          </thead>
          {names.map((name, i) => (
            <tbody key={name}>
              <tr>
                <th scope="rowgroup" colSpan={measures.blocks.length}>
                  {capital(metricLabel(name))}
                  {'\u00a0'}
                  <span className="soft fine">{metricUnit(name, units)}</span>
                </th>
              </tr>
              <tr>
                {measures.blocks.map((block) => {
                  const { median, n, sd } = block.measures[i]!
                  return (
                    <td key={block.blockId}>
                      {n === 0 ? (
                        <span className="soft">–</span>
                      ) : (
                        <>
                          {formatMetric(name, median, units, { sd: sd / Math.sqrt(n) }).text}{' '}
                          <span className="soft fine">({n})</span>
                        </>
                      )}
                    </td>
                  )
                })}
              </tr>
            </tbody>
          ))}
        </table>
      </div>
      <p className="fine soft">{measuresWords('byBlockNote')}</p>
    </section>
  )
}
