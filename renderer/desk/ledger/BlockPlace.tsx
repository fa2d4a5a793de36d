import { efficiencyOf } from '../../../shared-core/impact/efficiency.ts'
import type { OpenLesson, Shot, Swing } from '../../../shared-core/model/entities.ts'
import { usable } from '../../../shared-core/shots/usable.ts'
import { median } from '../../../shared-core/statistics/median.ts'
import { formatMetric, metricLabel, metricUnit, type ShotMetric } from '../../../shared-core/units.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { activateSwing, shotOf } from '../../store/desk-store.ts'

const metrics: readonly ShotMetric[] = ['clubSpeedMps', 'ballSpeedMps', 'efficiency', 'carryM']
const valueOf = (shot: Shot, metric: ShotMetric): number | null =>
  metric === 'efficiency' ? (efficiencyOf(shot)?.value ?? null) : shot[metric]

/** Where this swing stands among those of its block with the same club: one dot each, this one filled, a line at the median. */
export function BlockPlace({ opened, swing }: { opened: OpenLesson; swing: Swing }) {
  const shot = shotOf(opened, swing)
  if (!shot) return null
  const peers = opened.swings.flatMap((s) => {
    const other = s.blockId === swing.blockId ? shotOf(opened, s) : null
    return other && other.club === shot.club && !other.isLeftOut
      ? [{ swing: s, shot: usable(other).shot }]
      : []
  })
  if (peers.length < 3) {
    return <p className="fine soft">{ledgerWords('placeFrom', { count: peers.length })}</p>
  }
  return (
    <div className="places" aria-label={ledgerWords('amongSwings')}>
      <div className="fine soft">{ledgerWords('amongBlock', { count: peers.length })}</div>
      {metrics.map((metric) => {
        const values = peers.flatMap((p) => {
          const value = valueOf(p.shot, metric)
          return value === null ? [] : [{ id: p.swing.id, value }]
        })
        if (values.length < 3) return null
        const low = Math.min(...values.map((v) => v.value))
        const high = Math.max(...values.map((v) => v.value))
        const x = (value: number) => (high === low ? 50 : 4 + ((value - low) / (high - low)) * 92)
        const middle = median(values.map((v) => v.value))!
        const mine = values.find((v) => v.id === swing.id)
        const rank = mine ? values.filter((v) => v.value > mine.value).length + 1 : null
        const text = (value: number) => formatMetric(metric, value, opened.student.units).text
        const unit = metricUnit(metric, opened.student.units)
        const range = {
          number: metricLabel(metric),
          low: text(low),
          high: text(high),
          median: text(middle),
          unit,
        }
        return (
          <div key={metric} className="place">
            <span className="place-name fine">
              {metricLabel(metric)} <span className="soft">{unit}</span>
            </span>
            <svg
              className="place-dots"
              role="img"
              aria-label={
                rank
                  ? ledgerWords('placeOfOwn', { ...range, rank, count: values.length })
                  : ledgerWords('place', range)
              }
            >
              <line x1="0" x2="100%" y1="50%" y2="50%" className="place-axis" />
              <line x1={`${x(middle)}%`} x2={`${x(middle)}%`} y1="15%" y2="85%" className="place-median" />
              {values
                .filter((v) => v.id !== swing.id)
                .map((v) => (
                  <circle
                    key={v.id}
                    cx={`${x(v.value)}%`}
                    cy="50%"
                    r="3.5"
                    className="place-dot"
                    onClick={() => activateSwing(v.id)}
                  />
                ))}
              {mine && <circle cx={`${x(mine.value)}%`} cy="50%" r="5" className="place-mine" />}
            </svg>
            <span className="place-range fine soft">
              {text(low)}–{text(high)}
            </span>
          </div>
        )
      })}
    </div>
  )
}
