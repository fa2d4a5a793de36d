import { useEffect, useMemo, useState } from 'react'
import { efficiencyOf } from '../../../shared-core/impact/efficiency.ts'
import type { OpenLesson, Shot, View } from '../../../shared-core/model/entities.ts'
import { metricNames } from '../../../shared-core/model/shot.ts'
import { msFromImpact, type ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import {
  formatMetric,
  metricLabel,
  metricUnit,
  type ShotMetric,
  type ShownMetric,
  type UnitSystem,
} from '../../../shared-core/units.ts'
import { measureNames, type MeasureName } from '../../../shared-core/model/measures.ts'
import { ask } from '../../store/bridge.ts'
import { clipOf, guestOf, impactOf, shotOf, swingOf, viewOf, type Compared } from '../../store/desk-store.ts'
import { jumpToMoment, momentTitle } from '../../store/moments.ts'
import { pictureTitle } from '../stage/picture-words.ts'
import { signedMs } from '../../../shared-core/timing/signed-ms.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { measuresWords } from '../../../shared-core/wording/window/measures.ts'
import { useMeasured } from './TempoRows.tsx'

const shotOfView = (opened: OpenLesson, viewId: string): Shot | null => {
  const guest = guestOf(opened, viewId)
  if (guest) return guest.shot
  return shotOf(opened, swingOf(opened, viewOf(opened, viewId)?.swingId ?? null))
}

const valueOf = (shot: Shot | null, metric: ShotMetric): number | null =>
  shot === null ? null : metric === 'efficiency' ? (efficiencyOf(shot)?.value ?? null) : shot[metric]

const first: readonly ShotMetric[] = ['efficiency', 'clubSpeedMps', 'ballSpeedMps', 'carryM']
/** What the pictures give and the table of the lesson names, too. */
const firstOfPictures: readonly MeasureName[] = [
  'tempoRatio',
  'braceBeforeImpactSeconds',
  'leadKneeImpactDeg',
  'headAlongImpactWidths',
]

/** What the pictures of this swing give; a swing of another lesson has it in that lesson. */
const useMeasuredOf = (opened: OpenLesson, viewId: string) =>
  useMeasured(viewOf(opened, viewId)?.swingId ?? '')

/** Two swings on the Stage: the numbers of both with their difference, and when their moments come. */
export function TwoSwings({ opened, compared }: { opened: OpenLesson; compared: Compared }) {
  const ids = [compared.firstViewId, compared.secondViewId] as const
  const shots = ids.map((id) => shotOfView(opened, id)) as [Shot | null, Shot | null]
  const { units } = opened.student
  const [before, after] = [useMeasuredOf(opened, ids[0]), useMeasuredOf(opened, ids[1])]
  const ofShots = (metric: ShotMetric): Row => ({
    metric,
    a: valueOf(shots[0], metric),
    b: valueOf(shots[1], metric),
  })
  const ofPictures = (metric: MeasureName): Row => ({
    metric,
    a: before?.values[metric]?.value ?? null,
    b: after?.values[metric]?.value ?? null,
  })
  const there = (rows: Row[]) => rows.filter(({ a, b }) => a !== null || b !== null)
  const rows = there([...first.map(ofShots), ...firstOfPictures.map(ofPictures)])
  const rest = there([
    ...metricNames.filter((name) => !first.includes(name)).map(ofShots),
    ...measureNames.filter((name) => !firstOfPictures.includes(name)).map(ofPictures),
  ])
  return (
    <>
      <section className="ledger-part" aria-label={ledgerWords('twoNumbers')}>
        <table className="two-table">
          <thead>
            <tr className="fine soft">
              <th scope="col">
                <span className="unseen">{ledgerWords('number')}</span>
              </th>
              {ids.map((id) => (
                <th key={id} scope="col" className="two-name">
                  {pictureTitle(opened, id)}
                </th>
              ))}
              <th scope="col">{ledgerWords('change')}</th>
            </tr>
          </thead>
          <NumberRows rows={rows} units={units} />
        </table>
        {rows.length === 0 && rest.length === 0 && (
          <p className="fine soft">{ledgerWords('noShotsOfBoth')}</p>
        )}
        {rest.length > 0 && (
          <details className="ledger-fold">
            <summary>{ledgerWords('moreOfBoth', { count: rest.length })}</summary>
            <table className="two-table">
              <NumberRows rows={rest} units={units} />
            </table>
          </details>
        )}
        {rows.length > 0 && <p className="fine soft">{ledgerWords('twoSwingsOnly')}</p>}
      </section>
      <MomentTimes opened={opened} ids={ids} />
    </>
  )
}

interface Row {
  metric: ShownMetric
  a: number | null
  b: number | null
}

function NumberRows({ rows, units }: { rows: readonly Row[]; units: UnitSystem }) {
  return (
    <tbody>
      {rows.map(({ metric, a, b }) => (
        <tr key={metric}>
          <th scope="row">
            {metricLabel(metric)}
            {'\u00a0'}
            <span className="unit">
              {metric.endsWith('Widths') ? measuresWords('widths') : metricUnit(metric, units)}
            </span>
          </th>
          <td>{formatMetric(metric, a, units).text}</td>
          <td>{formatMetric(metric, b, units).text}</td>
          <td>
            <b>
              {formatMetric(metric, a === null || b === null ? null : b - a, units, { signed: true }).text}
            </b>
          </td>
        </tr>
      ))}
    </tbody>
  )
}

/** Real times of a clip's frames; null until they are read. */
const useTimes = (opened: OpenLesson, picture: View | null): ClipTimes | null => {
  const clip = clipOf(opened, picture)
  const [read, setRead] = useState<{ id: string; atSeconds: number[] } | null>(null)
  const clipId = clip?.id
  useEffect(() => {
    if (clipId === undefined) return
    let isGone = false
    ask('clip.timestamps', { id: clipId })
      // Without them the times are left out; the picture itself tells what is wrong with its file.
      .then(
        ({ atSeconds }) => !isGone && setRead({ id: clipId, atSeconds }),
        () => {},
      )
    return () => {
      isGone = true
    }
  }, [clipId])
  return useMemo(
    () => (clip && read?.id === clip.id ? { ...clip, atSeconds: read.atSeconds } : null),
    [clip, read],
  )
}

function MomentTimes({ opened, ids }: { opened: OpenLesson; ids: readonly [string, string] }) {
  const pictures = [viewOf(opened, ids[0]), viewOf(opened, ids[1])] as const
  const times = [useTimes(opened, pictures[0]), useTimes(opened, pictures[1])] as const
  const names = [...new Set(pictures.flatMap((p) => p?.moments.map((m) => m.name) ?? []))]
  const at = (i: 0 | 1, name: string): number | null => {
    const moment = pictures[i]?.moments.find((m) => m.name === name)
    const impact = impactOf(pictures[i])
    return moment && impact && times[i] ? msFromImpact(times[i], impact.frame, moment.frame) : null
  }
  const rows = names
    .map((name) => ({ name, first: at(0, name), second: at(1, name) }))
    .sort((a, b) => (a.first ?? a.second ?? 0) - (b.first ?? b.second ?? 0))
  if (rows.length === 0) return null
  return (
    <section className="ledger-part" aria-label={ledgerWords('twoMoments')}>
      <table className="two-table">
        <caption className="fine soft">{ledgerWords('momentTimes')}</caption>
        <tbody>
          {rows.map(({ name, first: a, second: b }) => {
            const moment = pictures[0]?.moments.find((m) => m.name === name)
            return (
              <tr key={name}>
                <th scope="row">
                  {moment ? (
                    <button className="two-moment" onClick={() => jumpToMoment(moment)}>
                      {momentTitle(name)}
                    </button>
                  ) : (
                    momentTitle(name)
                  )}
                </th>
                <td>{a === null ? '–' : signedMs(a)}</td>
                <td>{b === null ? '–' : signedMs(b)}</td>
                <td>
                  <b>{a === null || b === null ? '–' : signedMs(b - a)}</b>
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </section>
  )
}
