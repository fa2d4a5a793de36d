import { useState } from 'react'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { OpenLesson, Shot, Side } from '../../../shared-core/model/entities.ts'
import { strikeWords } from '../../../shared-core/wording/window/strike.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { Action } from '../../parts/Action.tsx'
import { edit, useDesk } from '../../store/desk-store.ts'
import { Millimetres } from './Millimetres.tsx'
import { StrikeMarks } from './StrikeMarks.tsx'
import { ChooseFacePhoto, StrikePhoto } from './StrikePhoto.tsx'
import './strike-face.css'

/** The face as drawn, millimetres from its centre; an outline to point at, not one club's measure. */
const halfWidthMm = 56
const halfHeightMm = 30
const outline = {
  wood: 'M -50 4 C -50 24 -34 27 -4 27 C 30 27 48 18 50 2 C 51 -16 30 -27 0 -27 C -32 -27 -50 -16 -50 4 Z',
  iron: 'M -38 26 C -44 6 -40 -16 -34 -24 L 40 -22 C 44 -20 45 -14 43 -8 L -26 28 C -30 30 -36 30 -38 26 Z',
}

const isIron = (club: string | null) => club !== null && /iron|wedge/.test(club)

/**
 * Where the ball met the face, read from spray or tape: a click on the outline or on a photo, or the two numbers. The other strikes
 * of this club are there too, and from eight on the ellipse in which 95 % of the next ones fall.
 */
export function StrikeFace({ opened, shot }: { opened: OpenLesson; shot: Shot }) {
  const report = useDesk((s) => s.report) as LessonReport | { failed: string } | null
  const [isOpen, setOpen] = useState(shot.impactXMm !== null)
  const side = opened.student.side
  const place = (x: number | null, y: number | null) =>
    void edit('shot.update', { id: shot.id, patch: { impactXMm: x, impactYMm: y } })
  const strikes = opened.shots.filter(
    (s) => s.club === shot.club && s.impactXMm !== null && s.impactYMm !== null && !s.isLeftOut,
  )
  const photo = opened.facePhotos.find((p) => p.club === shot.club) ?? null
  const map = report && !('failed' in report) && report.strikeMap.club === shot.club ? report.strikeMap : null
  return (
    <section className="ledger-part" aria-label={strikeWords('face')}>
      <div className="ledger-head">
        <h2>{strikeWords('face')}</h2>
        <span className="push" />
        <Action
          small
          tone="plain"
          label={isOpen ? commonWords('close') : strikeWords('mark')}
          onPress={() => setOpen(!isOpen)}
        />
      </div>
      {isOpen && (
        <>
          {photo ? (
            <StrikePhoto
              opened={opened}
              photo={photo}
              shot={shot}
              strikes={strikes}
              map={map}
              onPlace={place}
            />
          ) : (
            <svg
              className="strike-face"
              viewBox={`${-halfWidthMm} ${-halfHeightMm} ${2 * halfWidthMm} ${2 * halfHeightMm}`}
              role="img"
              aria-label={strikeWords(side === 'right' ? 'strikesOnFaceToeLeft' : 'strikesOnFaceToeRight', {
                count: strikes.length,
              })}
              onClick={(event) => {
                const box = event.currentTarget.getBoundingClientRect()
                const x = ((event.clientX - box.left) / box.width - 0.5) * 2 * halfWidthMm
                const y = ((event.clientY - box.top) / box.height - 0.5) * 2 * halfHeightMm
                place(Math.round(towardsToe(x, side)), Math.round(-y))
              }}
            >
              <g transform={`scale(${side === 'right' ? -1 : 1} -1)`}>
                <path d={isIron(shot.club) ? outline.iron : outline.wood} className="strike-outline" />
                <path d="M -5 0 H 5 M 0 -5 V 5" className="strike-centre" />
                <StrikeMarks strikes={strikes} shot={shot} map={map} />
              </g>
              <text x={side === 'right' ? -52 : 52} y={-24} textAnchor={side === 'right' ? 'start' : 'end'}>
                {strikeWords('toe')}
              </text>
              <text x={side === 'right' ? 52 : -52} y={-24} textAnchor={side === 'right' ? 'end' : 'start'}>
                {strikeWords('heel')}
              </text>
            </svg>
          )}
          <div className="strike-numbers">
            <Millimetres
              label={strikeWords('towardsToe')}
              value={shot.impactXMm}
              onSave={(x) => place(x, shot.impactYMm ?? 0)}
            />
            <Millimetres
              label={strikeWords('aboveCentre')}
              value={shot.impactYMm}
              onSave={(y) => place(shot.impactXMm ?? 0, y)}
            />
            {shot.impactXMm !== null && (
              <Action small tone="plain" label={strikeWords('takeOff')} onPress={() => place(null, null)} />
            )}
            {!photo && <ChooseFacePhoto opened={opened} club={shot.club} isIron={isIron(shot.club)} />}
          </div>
          <p className="fine soft">
            {strikes.length < 8
              ? strikeWords('fewMarked', { count: strikes.length })
              : strikeWords('ellipse')}
            {map?.spot && strikeWords('spot')}
          </p>
        </>
      )}
    </section>
  )
}

/** Seen from the ball's side, a right-hander's toe is on the left. */
const towardsToe = (x: number, side: Side) => (side === 'right' ? -x : x)
