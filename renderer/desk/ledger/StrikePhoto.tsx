import { ImagePlus, LoaderCircle } from 'lucide-react'
import { useState, type MouseEvent } from 'react'
import type { StrikeMapReport } from '../../../shared-core/change/strike-map-report.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import { faceAxes, placeOnFace, type FaceMarks } from '../../../shared-core/impact/face-photo.ts'
import type { Clip, FacePhoto, Job, OpenLesson, Shot } from '../../../shared-core/model/entities.ts'
import { Action } from '../../parts/Action.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { stillTitle } from '../../../shared-core/model/still.ts'
import { strikeWords } from '../../../shared-core/wording/window/strike.ts'
import { useApp } from '../../store/app-store.ts'
import { ask, bridge, coachPictureUrl, mediaUrl } from '../../store/bridge.ts'
import { edit, reload, useDesk } from '../../store/desk-store.ts'
import { telling } from '../../store/messages.ts'
import { Millimetres } from './Millimetres.tsx'
import { StrikeMarks } from './StrikeMarks.tsx'

/** Between the ends of a driver's face or of an iron's grooves (common practice); the coach measures the real one. */
const usualLengthMm = { wood: 110, iron: 65 }

export const marksOf = ({ toeX, toeY, heelX, heelY, lengthMm }: FacePhoto): FaceMarks | null =>
  toeX === null || toeY === null || heelX === null || heelY === null
    ? null
    : { toe: { x: toeX, y: toeY }, heel: { x: heelX, y: heelY }, lengthMm }

type Mark = 'toe' | 'heel'

/** The photo: first its two marks, then every click is the strike of the shot on show. */
export function StrikePhoto(props: {
  opened: OpenLesson
  photo: FacePhoto
  shot: Shot
  strikes: readonly Shot[]
  map: StrikeMapReport | null
  onPlace: (xMm: number, yMm: number) => void
}) {
  const { opened, photo, shot, strikes, map, onPlace } = props
  const [again, setAgain] = useState<Mark | null>(null)
  const { side } = opened.student
  const marks = marksOf(photo)
  const next: Mark | null = again ?? (photo.toeX === null ? 'toe' : photo.heelX === null ? 'heel' : null)
  const save = (patch: Partial<FacePhoto>) => void edit('facePhoto.save', { ...photo, ...patch })
  const mark = (which: Mark, { x, y }: Point) => {
    save(which === 'toe' ? { toeX: x, toeY: y } : { heelX: x, heelY: y })
    setAgain(again === 'toe' ? 'heel' : null)
  }
  const click = (event: MouseEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect()
    const point = {
      x: Math.round(((event.clientX - box.left) / box.width) * photo.width),
      y: Math.round(((event.clientY - box.top) / box.height) * photo.height),
    }
    if (next) return mark(next, point)
    const place = marks && placeOnFace(point, marks, side)
    if (place) onPlace(Math.round(place.xMm), Math.round(place.yMm))
  }
  const axes = marks && faceAxes(marks, side)
  const dot = photo.width / 90
  const href =
    photo.clipId === null ? coachPictureUrl(photo.pictureId!, 'poster') : mediaUrl(photo.clipId, 'poster')
  return (
    <>
      <p className="fine" role="status">
        {next ? strikeWords(next === 'toe' ? 'clickToe' : 'clickHeel') : strikeWords('clickStrike')}
      </p>
      <svg
        className="strike-face"
        viewBox={`0 0 ${photo.width} ${photo.height}`}
        role="img"
        aria-label={strikeWords('strikesOnPhoto', { count: strikes.length })}
        onClick={click}
      >
        <image href={href} width={photo.width} height={photo.height} />
        {photo.toeX !== null && <circle className="strike-end" cx={photo.toeX} cy={photo.toeY!} r={dot} />}
        {photo.heelX !== null && <circle className="strike-end" cx={photo.heelX} cy={photo.heelY!} r={dot} />}
        {axes && (
          <g
            className="strike-on-photo"
            transform={`matrix(${[axes.toe.x, axes.toe.y, axes.up.x, axes.up.y, axes.centre.x, axes.centre.y].join(' ')})`}
          >
            <StrikeMarks strikes={strikes} shot={shot} map={map} />
          </g>
        )}
      </svg>
      <div className="strike-numbers">
        <Millimetres
          label={strikeWords('betweenEnds')}
          min={10}
          max={200}
          value={photo.lengthMm}
          onSave={(lengthMm) => save({ lengthMm })}
        />
        <Action small tone="plain" label={strikeWords('markEnds')} onPress={() => setAgain('toe')} />
        <Action
          small
          tone="plain"
          label={strikeWords('takePhotoOff')}
          onPress={() => void edit('facePhoto.remove', { id: photo.id })}
        />
      </div>
      <details className="fine">
        <summary>{strikeWords('endsInNumbers')}</summary>
        <div className="strike-numbers">
          {(['toeX', 'toeY', 'heelX', 'heelY'] as const).map((key) => (
            <Millimetres
              key={key}
              label={strikeWords(`end.${key}`)}
              min={0}
              max={Math.max(photo.width, photo.height)}
              value={photo[key]}
              onSave={(value) => save({ [key]: value })}
            />
          ))}
        </div>
      </details>
    </>
  )
}

/** Takes a photo into the lesson as a picture of a face; null if it could not be, which its job has told. */
const takeIn = async (lessonId: string, file: string): Promise<Clip | null> => {
  const pictures = () => useDesk.getState().opened?.clips.filter((c) => c.stillKind !== null) ?? []
  const before = new Set(pictures().map((c) => c.id))
  const { jobIds } = await ask('clips.add', { lessonId, files: [file], stillKind: 'face' })
  const hasEnded = (s: { jobs: Job[] }) =>
    s.jobs.some((j) => j.id === jobIds[0] && !/waiting|running/.test(j.state))
  await new Promise<void>((resolve) => {
    if (hasEnded(useApp.getState())) return resolve()
    const off = useApp.subscribe((s) => {
      if (!hasEnded(s)) return
      off()
      resolve()
    })
  })
  await reload()
  // One that was in the lesson before is that one.
  return (
    pictures().find((c) => !before.has(c.id)) ?? pictures().find((c) => file.endsWith(c.fileName)) ?? null
  )
}

/** A photo of this club's face: a still picture of the lesson, chosen or taken in. */
export function ChooseFacePhoto(props: { opened: OpenLesson; club: string | null; isIron: boolean }) {
  const { opened, club, isIron } = props
  const [isTaking, setTaking] = useState(false)
  const stills = opened.clips.filter((c) => c.stillKind !== null)
  const measureOn = (clip: Clip) =>
    edit('facePhoto.save', {
      ...{ id: null, lessonId: opened.lesson.id, club, clipId: clip.id, pictureId: null },
      ...{ width: clip.width, height: clip.height },
      ...{ toeX: null, toeY: null, heelX: null, heelY: null },
      lengthMm: usualLengthMm[isIron ? 'iron' : 'wood'],
    })
  const choose = async () => {
    const [file] = (await telling(bridge().pickFiles('image'))) ?? []
    if (!file) return
    setTaking(true)
    const clip = await telling(takeIn(opened.lesson.id, file))
    setTaking(false)
    if (clip) await measureOn(clip)
  }
  if (isTaking) {
    return (
      <span className="soft row fine" role="status">
        <LoaderCircle size={14} className="turning" aria-hidden /> {strikeWords('beingTakenIn')}
      </span>
    )
  }
  const faces = stills.toSorted((a, b) => Number(b.stillKind === 'face') - Number(a.stillKind === 'face'))
  return (
    <>
      <Action
        small
        withLabel
        tone="plain"
        icon={<ImagePlus size={15} />}
        label={strikeWords('onPhoto')}
        onPress={() => void choose()}
      />
      {faces.length > 0 && (
        <Pick
          label={strikeWords('onPicture')}
          value="none"
          options={[
            { value: 'none', label: strikeWords('choose') },
            ...faces.map((c) => ({ value: c.id, label: `${stillTitle(c)} · ${c.fileName}` })),
          ]}
          onChange={(id) => {
            const clip = faces.find((c) => c.id === id)
            if (clip) void measureOn(clip)
          }}
        />
      )}
    </>
  )
}
