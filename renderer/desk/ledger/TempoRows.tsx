import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { MeasuredSwing } from '../../../shared-core/swing-measures/measured-swing.ts'
import { placeAmongPublished, publishedTempo } from '../../../shared-core/timing/tempo.ts'
import { formatMetric, type UnitSystem } from '../../../shared-core/units.ts'
import { measuresWords } from '../../../shared-core/wording/window/measures.ts'
import { useDesk } from '../../store/desk-store.ts'
import { capital } from '../../parts/capital.ts'
import './measures.css'

/** What the pictures of a swing give, once the report is there. */
export const useMeasured = (swingId: string): MeasuredSwing | null => {
  const report = useDesk((s) => s.report) as LessonReport | { failed: string } | null
  if (report === null || 'failed' in report) return null
  return report.measures?.swings.find((s) => s.swingId === swingId) ?? null
}

/** Backswing, downswing and their ratio, each with its error, and the published spread beside it. */
export function TempoRows({ swingId, units }: { swingId: string; units: UnitSystem }) {
  const swing = useMeasured(swingId)
  const isComputed = useDesk((s) => s.report !== null)
  const { tempoRatio, backswingSeconds, downswingSeconds, braceBeforeImpactSeconds } = swing?.values ?? {}
  if (!swing || (!tempoRatio && !braceBeforeImpactSeconds)) {
    return (
      <section className="ledger-part" aria-label={measuresWords('tempo')}>
        <p className="fine soft">
          {isComputed ? measuresWords('tempoNeeds') : measuresWords('tempoComputing')}
        </p>
      </section>
    )
  }
  const seconds = [
    ['backswingSeconds', backswingSeconds],
    ['downswingSeconds', downswingSeconds],
    ['braceBeforeImpactSeconds', braceBeforeImpactSeconds],
  ] as const
  return (
    <section className="ledger-part" aria-label={measuresWords('tempo')}>
      <div className="measure-line">
        <h2>{measuresWords('tempo')}</h2>
        {tempoRatio && (
          <span className="measure-main">
            {formatMetric('tempoRatio', tempoRatio.value, units).text}
            <span className="unit">: 1 ± {tempoRatio.sd.toFixed(1)}</span>
          </span>
        )}
        <span className="measure-rest">
          {seconds.map(([name, value]) => {
            if (!value) return null
            const { text, unit } = formatMetric(name, value.value, units, { sd: value.sd })
            return (
              <span key={name}>
                {measuresWords(`short.${name}`)} <b>{text}</b> {unit} ±{' '}
                {formatMetric(name, value.sd, units).text}
              </span>
            )
          })}
        </span>
      </div>
      {tempoRatio && <TempoScale ratio={tempoRatio} remarks={swing.remarks} />}
      {!tempoRatio && swing.remarks.length > 0 && <p className="fine soft">{swing.remarks.join(' ')}</p>}
    </section>
  )
}

const [min, max] = [1.5, 6.5]

/** The published spread as a band, this swing as a mark on it with its error. */
function TempoScale(props: { ratio: { value: number; sd: number }; remarks: readonly string[] }) {
  const { ratio, remarks } = props
  const x = (value: number) => ((Math.min(max, Math.max(min, value)) - min) / (max - min)) * 100
  const {
    ratioMedian,
    ratioQuartiles: [q1, q3],
    ratio5To95: [p5, p95],
    swings,
  } = publishedTempo
  const place = placeAmongPublished(ratio)
  return (
    <div>
      <svg
        className="tempo-scale"
        role="img"
        aria-label={measuresWords('tempoAmong', {
          ratio: ratio.value.toFixed(1),
          place,
          median: ratioMedian,
          q1: q1.toFixed(1),
          q3,
        })}
      >
        <rect x={`${x(p5)}%`} width={`${x(p95) - x(p5)}%`} y="7" height="4" className="tempo-wide" />
        <rect x={`${x(q1)}%`} width={`${x(q3) - x(q1)}%`} y="5" height="8" className="tempo-half" />
        <line x1={`${x(ratioMedian)}%`} x2={`${x(ratioMedian)}%`} y1="3" y2="15" className="tempo-median" />
        <line
          x1={`${x(ratio.value - ratio.sd)}%`}
          x2={`${x(ratio.value + ratio.sd)}%`}
          y1="9"
          y2="9"
          className="tempo-error"
        />
        <circle cx={`${x(ratio.value)}%`} cy="9" r="4.5" className="tempo-own" />
      </svg>
      <details className="fine soft">
        <summary>
          {capital(remarks.length === 0 ? place : measuresWords('remarks', { place, count: remarks.length }))}
        </summary>
        {remarks.map((remark) => (
          <p key={remark}>{remark}</p>
        ))}
        {measuresWords('published', {
          median: ratioMedian,
          q1: q1.toFixed(1),
          q3,
          p5,
          p95,
          swings: swings.toLocaleString('en'),
        })}
      </details>
    </div>
  )
}
