import { PersonStanding } from 'lucide-react'
import type { OpenLesson, Swing } from '../../../shared-core/model/entities.ts'
import { isOpenToHands } from '../../../shared-core/body/impact-by-hands.ts'
import { bodyMeasures, type MeasureName } from '../../../shared-core/model/measures.ts'
import { formatMetric, metricLabel, metricUnit, type UnitSystem } from '../../../shared-core/units.ts'
import type { MeasuredValues } from '../../../shared-core/swing-measures/measured-swing.ts'
import type { Measured } from '../../../shared-core/timing/tempo.ts'
import { measuresWords } from '../../../shared-core/wording/window/measures.ts'
import { Action } from '../../parts/Action.tsx'
import { useApp } from '../../store/app-store.ts'
import { ask } from '../../store/bridge.ts'
import { telling } from '../../store/messages.ts'
import { useMeasured } from './TempoRows.tsx'
import { capital } from '../../parts/capital.ts'
import './measures.css'

/** Shown first; the one at the top stands in the fold's own line. */
const first: readonly MeasureName[] = [
  'leadKneeImpactDeg',
  'headAlongImpactWidths',
  'pelvisAlongImpactWidths',
]
/** Hints of tension, never a verdict. */
const hints: readonly MeasureName[] = ['shoulderRiseTopWidths', 'leadElbowTopDeg']

/** The fold's line: the lead knee at impact where it was seen, so that it is read without a press. */
const summaryOf = (values: MeasuredValues, units: UnitSystem): string => {
  const name = 'leadKneeImpactDeg'
  const knee = values[name]
  if (!knee) return measuresWords('bodyFold')
  const { text, unit } = formatMetric(name, knee.value, units, { sd: knee.sd })
  const label = metricLabel(name)
  return `${capital(label)} ${text}${unit} ± ${formatMetric(name, knee.sd, units, { sd: knee.sd }).text.replace('+', '')}`
}

/** What the body does in this swing's pictures, each number with its error; or the way to have it read. */
export function BodyRows({ opened, swing }: { opened: OpenLesson; swing: Swing }) {
  const measured = useMeasured(swing.id)
  const clipIds = swing.views.map((v) => v.clipId)
  const clips = opened.clips.filter((c) => clipIds.includes(c.id))
  const isReading = useApp((s) =>
    s.jobs.some(
      (job) =>
        job.kind === 'body-points' &&
        (job.state === 'waiting' || job.state === 'running') &&
        clips.some((clip) => job.label.endsWith(clip.fileName)),
    ),
  )
  const unread = clipIds.filter((id) => !measured?.bodyClipIds.includes(id))
  const isImpactOpen = swing.views.some((view) => {
    const impact = view.moments.find((m) => m.name === 'impact')
    return unread.includes(view.clipId) && isOpenToHands(impact) && (impact?.confidence ?? 0) < 0.5
  })
  const values = measured?.values ?? {}
  const has = (names: readonly MeasureName[]) => names.filter((name) => values[name])
  const rest = bodyMeasures.filter((name) => !first.includes(name) && !hints.includes(name))
  const rows = (names: readonly MeasureName[]) =>
    has(names).map((name) => (
      <Row
        key={name}
        name={name}
        value={values[name]!}
        units={opened.student.units}
        shoulderWidthM={measured?.shoulderWidthM ?? null}
      />
    ))
  return (
    <section className="ledger-part" aria-label={measuresWords('body')}>
      <div className="ledger-head">
        <h2>{measuresWords('body')}</h2>
        <span className="push" />
        {unread.length > 0 && (
          <Action
            small
            withLabel
            tone="plain"
            icon={<PersonStanding size={15} />}
            label={isReading ? measuresWords('reading') : measuresWords('read')}
            isDisabled={isReading}
            onPress={() =>
              void telling(ask('body.read', { lessonId: opened.lesson.id, clipIds: [...new Set(unread)] }))
            }
          />
        )}
        {unread.length > 0 && opened.clips.length > 1 && (
          <Action
            small
            withLabel
            tone="plain"
            label={measuresWords('allOfLesson')}
            onPress={() => void telling(ask('body.read', { lessonId: opened.lesson.id }))}
          />
        )}
      </div>
      {has(bodyMeasures).length === 0 ? (
        measured && measured.bodyClipIds.length > 0 ? (
          <p className="fine soft">{[measuresWords('bodyNoNumbers'), ...measured.bodyRemarks].join(' ')}</p>
        ) : (
          <>
            {isImpactOpen && <p className="fine">{measuresWords('bodyTellsImpact')}</p>}
            <details className="fine soft">
              <summary>{measuresWords('bodyFold')}</summary>
              {measuresWords('bodyHow')}
            </details>
          </>
        )
      ) : (
        <details className="fine">
          <summary>{summaryOf(values, opened.student.units)}</summary>
          <dl className="measure-list">{rows(first)}</dl>
          {measured && <p className="soft">{measured.bodyRemarks.join(' ')}</p>}
          <dl className="measure-list">{rows(rest)}</dl>
          {has(hints).length > 0 && (
            <>
              <p className="soft">{measuresWords('fromHints')}</p>
              <dl className="measure-list">{rows(hints)}</dl>
            </>
          )}
        </details>
      )}
    </section>
  )
}

function Row(props: {
  name: MeasureName
  value: Measured
  units: UnitSystem
  shoulderWidthM: number | null
}) {
  const { name, value, units, shoulderWidthM } = props
  const inCm = name.endsWith('Widths') && shoulderWidthM !== null
  const shown = inCm
    ? {
        text: `${value.value > 0 ? '+' : value.value < 0 ? '−' : ''}${Math.abs(value.value * shoulderWidthM * 100).toFixed(0)}`,
        unit: measuresWords('cm'),
        sd: (value.sd * shoulderWidthM * 100).toFixed(0),
      }
    : {
        text: formatMetric(name, value.value, units, { sd: value.sd }).text,
        unit: name.endsWith('Widths') ? measuresWords('widths') : metricUnit(name, units),
        sd: formatMetric(name, value.sd, units, { sd: value.sd }).text.replace('+', ''),
      }
  const label = metricLabel(name)
  return (
    <div>
      <dt>{capital(label)}</dt>
      <dd>
        <b>{shown.text}</b> <span className="unit">{shown.unit}</span>{' '}
        <span className="soft fine">± {shown.sd}</span>
      </dd>
    </div>
  )
}
