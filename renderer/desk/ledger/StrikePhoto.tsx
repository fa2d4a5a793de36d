import { ImagePlus, LoaderCircle } from 'lucide-react'
import { useState, type MouseEvent } from 'react'
import type { StrikeMapReport } from '../../../shared-core/change/strike-map-report.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import { faceAxes, placeOnFace, type FaceMarks } from '../../../shared-core/impact/face-photo.ts'
import type { FacePhoto, LessonView, Shot } from '../../../shared-core/model/entities.ts'
import { Action } from '../../parts/Action.tsx'
import { ask, bridge, coachPictureUrl } from '../../store/bridge.ts'
import { edit } from '../../store/desk-store.ts'
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
  view: LessonView
  photo: FacePhoto
  shot: Shot
  strikes: readonly Shot[]
  map: StrikeMapReport | null
  onPlace: (xMm: number, yMm: number) => void
}) {
  const { view, photo, shot, strikes, map, onPlace } = props
  const [again, setAgain] = useState<Mark | null>(null)
  const { side } = view.student
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
  return (
    <>
      <p className="fine" role="status">
        {next
          ? `Click the ${next} end of the face, at the height of its middle.`
          : 'Click where this shot met the face.'}
      </p>
      <svg
        className="strike-face"
        viewBox={`0 0 ${photo.width} ${photo.height}`}
        role="img"
        aria-label={`${strikes.length} strikes marked on the photo of the face`}
        onClick={click}
      >
        <image href={coachPictureUrl(photo.pictureId, 'poster')} width={photo.width} height={photo.height} />
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
          label="mm between the ends"
          min={10}
          max={200}
          value={photo.lengthMm}
          onSave={(lengthMm) => save({ lengthMm })}
        />
        <Action small tone="plain" label="Mark the ends again" onPress={() => setAgain('toe')} />
        <Action
          small
          tone="plain"
          label="Take the photo off"
          onPress={() => void edit('facePhoto.remove', { id: photo.id })}
        />
      </div>
      <details className="fine">
        <summary>The ends in numbers</summary>
        <div className="strike-numbers">
          {(['toeX', 'toeY', 'heelX', 'heelY'] as const).map((key) => (
            <Millimetres
              key={key}
              label={`${key.startsWith('toe') ? 'toe' : 'heel'}, px ${key.endsWith('X') ? 'from left' : 'from top'}`}
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

/** Takes a photo of this club's face into the library: made small, nothing of the file kept but its pixels. */
export function ChooseFacePhoto(props: { view: LessonView; club: string | null; isIron: boolean }) {
  const { view, club, isIron } = props
  const [isTaking, setTaking] = useState(false)
  const choose = async () => {
    const [file] = (await telling(bridge().pickFiles('image'))) ?? []
    if (!file) return
    setTaking(true)
    const picture = await telling(ask('coachPicture.add', { file, use: 'face' }))
    setTaking(false)
    if (!picture) return
    const none = { toeX: null, toeY: null, heelX: null, heelY: null }
    await edit('facePhoto.save', {
      id: null,
      lessonId: view.lesson.id,
      club,
      pictureId: picture.id,
      width: picture.width,
      height: picture.height,
      lengthMm: usualLengthMm[isIron ? 'iron' : 'wood'],
      ...none,
    })
  }
  return isTaking ? (
    <span className="soft row fine" role="status">
      <LoaderCircle size={14} className="turning" aria-hidden /> being taken in…
    </span>
  ) : (
    <Action
      small
      withLabel
      tone="plain"
      icon={<ImagePlus size={15} />}
      label="On a photo of the face…"
      onPress={() => void choose()}
    />
  )
}
