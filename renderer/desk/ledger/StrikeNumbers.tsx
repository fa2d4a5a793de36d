import { efficiencyOf } from '../../../shared-core/impact/efficiency.ts'
import type { OpenLesson, Shot } from '../../../shared-core/model/entities.ts'
import type { LessonReport, ShotNumbers } from '../../../shared-core/report/lesson-report.ts'
import { formatMetric, metricText, type UnitSystem } from '../../../shared-core/units.ts'
import { useDesk } from '../../store/desk-store.ts'

/** Efficiency of the shot on show, against the ceiling; what was left on the table, and what miss would explain it. */
export function StrikeNumbers({ opened, shot }: { opened: OpenLesson; shot: Shot }) {
  const report = useDesk((s) => s.report) as LessonReport | { failed: string } | null
  const units = opened.student.units
  const efficiency = efficiencyOf(shot)
  if (!efficiency) {
    return (
      <p className="soft">
        Efficiency needs ball speed and club speed; this record has{' '}
        {shot.ballSpeedMps ? 'no club speed' : 'no ball speed'}.
      </p>
    )
  }
  const numbers =
    report && !('failed' in report) ? (report.shots.find((s) => s.shotId === shot.id) ?? null) : null
  const own = numbers?.efficiency ?? efficiency
  const text = formatMetric('efficiency', own.value, units, { sd: own.sd }).text
  return (
    <>
      <div className="efficiency">
        <span className="efficiency-value">{text}</span>
        {numbers?.ceiling ? (
          <AgainstCeiling numbers={numbers} sd={own.sd} />
        ) : (
          <span className="fine soft">efficiency{numbers?.reason ? `; ${numbers.reason}` : ''}</span>
        )}
      </div>
      {numbers && <LeftOnTheTable numbers={numbers} units={units} />}
      {numbers?.flags.map((flag) => (
        <p key={flag.message} className="flag-note fine">
          {flag.message}
        </p>
      ))}
    </>
  )
}

/** Where the bar begins and ends, as shares of the ceiling. */
const [low, high] = [0.8, 1.04]

function AgainstCeiling({ numbers, sd }: { numbers: ShotNumbers; sd: number }) {
  const share = numbers.shareOfCeiling!.value
  const place = Math.max(0, Math.min(1, (share - low) / (high - low)))
  const percent = Math.round(share * 100)
  return (
    <div className="efficiency-side">
      <div>
        efficiency, <b>{percent} %</b> of the ceiling {numbers.ceiling!.efficiency.toFixed(2)}
      </div>
      <div className="efficiency-bar" role="img" aria-label={`${percent} percent of the ceiling`}>
        <div style={{ width: `${place * 100}%` }} />
        <span style={{ left: `${((1 - low) / (high - low)) * 100}%` }} />
      </div>
      <details className="fine soft">
        <summary>±{sd.toFixed(2)} from the device; the ceiling</summary>
        {numbers.ceiling!.basis}.
      </details>
    </div>
  )
}

function LeftOnTheTable({ numbers, units }: { numbers: ShotNumbers; units: UnitSystem }) {
  const { ballSpeedLeftMps: ball, carryLeftM: carry, offCentre, withinError } = numbers
  if (!ball || ball.value === 0) return null
  if (withinError) {
    return <p className="fine soft">What is missing to the ceiling is no more than the readings’ error.</p>
  }
  const left = [
    `${metricText('ballSpeedMps', ball.value, units, { sd: ball.sd })} of ball speed`,
    ...(carry ? [`${metricText('carryM', carry.value, units, { sd: carry.sd })} of carry`] : []),
  ]
  return (
    <details className="fine strike-left">
      <summary>Left on the table: about {left.join(', ')}</summary>
      {offCentre && (
        <p className="soft">
          {offCentre.onTheFace
            ? `A strike about ${Math.round(offCentre.heelToToeMm)} mm towards heel or toe` +
              (offCentre.lowToHighMm === null
                ? ''
                : `, or ${Math.round(offCentre.lowToHighMm)} mm high or low,`) +
              ` would explain it: ${offCentre.note}.`
            : `That is ${offCentre.note}.`}
        </p>
      )}
      {carry && <p className="soft">Carry: {carry.note}.</p>}
    </details>
  )
}
