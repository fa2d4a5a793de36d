import { efficiencyOf } from '../../../shared-core/impact/efficiency.ts'
import type { OpenLesson, Shot } from '../../../shared-core/model/entities.ts'
import type { LessonReport, ShotNumbers } from '../../../shared-core/report/lesson-report.ts'
import { formatMetric, metricText, type UnitSystem } from '../../../shared-core/units.ts'
import { strikeWords } from '../../../shared-core/wording/window/strike.ts'
import { nodes } from '../../parts/nodes.tsx'
import { useDesk } from '../../store/desk-store.ts'

/** Efficiency of the shot on show, against the ceiling; what was left on the table, and what miss would explain it. */
export function StrikeNumbers({ opened, shot }: { opened: OpenLesson; shot: Shot }) {
  const report = useDesk((s) => s.report) as LessonReport | { failed: string } | null
  const units = opened.student.units
  const efficiency = efficiencyOf(shot)
  if (!efficiency) {
    return <p className="soft">{strikeWords(shot.ballSpeedMps ? 'needsClubSpeed' : 'needsBallSpeed')}</p>
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
          <span className="fine soft">
            {numbers?.reason
              ? strikeWords('efficiencyAlone', { why: numbers.reason })
              : strikeWords('efficiency')}
          </span>
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
        {nodes(strikeWords, 'againstCeiling', {
          share: <b>{strikeWords('percent', { percent })}</b>,
          ceiling: numbers.ceiling!.efficiency.toFixed(2),
        })}
      </div>
      <div className="efficiency-bar" role="img" aria-label={strikeWords('percentOfCeiling', { percent })}>
        <div style={{ width: `${place * 100}%` }} />
        <span style={{ left: `${((1 - low) / (high - low)) * 100}%` }} />
      </div>
      <details className="fine soft">
        <summary>{strikeWords('deviceError', { error: sd.toFixed(2) })}</summary>
        {numbers.ceiling!.basis}.
      </details>
    </div>
  )
}

const missWords = ({ heelToToeMm, lowToHighMm, note }: NonNullable<ShotNumbers['offCentre']>): string => {
  const acrossMm = Math.round(heelToToeMm)
  return lowToHighMm === null
    ? strikeWords('miss', { acrossMm, note })
    : strikeWords('missBoth', { acrossMm, upMm: Math.round(lowToHighMm), note })
}

function LeftOnTheTable({ numbers, units }: { numbers: ShotNumbers; units: UnitSystem }) {
  const { ballSpeedLeftMps: ball, carryLeftM: carry, offCentre, withinError } = numbers
  if (!ball || ball.value === 0) return null
  if (withinError) {
    return <p className="fine soft">{strikeWords('withinError')}</p>
  }
  const left = [
    strikeWords('leftOfBallSpeed', { speed: metricText('ballSpeedMps', ball.value, units, { sd: ball.sd }) }),
    ...(carry
      ? [strikeWords('leftOfCarry', { carry: metricText('carryM', carry.value, units, { sd: carry.sd }) })]
      : []),
  ]
  return (
    <details className="fine strike-left">
      <summary>{strikeWords('left', { what: left.join(', ') })}</summary>
      {offCentre && (
        <p className="soft">
          {offCentre.onTheFace ? missWords(offCentre) : strikeWords('missOffFace', { note: offCentre.note })}
        </p>
      )}
      {carry && <p className="soft">{strikeWords('carry', { note: carry.note })}</p>}
    </details>
  )
}
