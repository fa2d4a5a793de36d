import { useRef, useState, type CSSProperties, type KeyboardEvent, type PointerEvent } from 'react'
import { bones, jointNames, type JointName } from '../../../shared-core/body/joints.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import type { Clip } from '../../../shared-core/model/entities.ts'
import { drawingWords } from '../../../shared-core/wording/window/drawing.ts'
import { placeWords } from './DrawingKeys.tsx'
import { correctJoint, jointsOn, takeJointBack, type ClipMotion } from '../../store/followed.ts'

const steps: Record<string, Point> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: -1 },
  ArrowDown: { x: 0, y: 1 },
}

/**
 * The body's points on a frame that was read, each a button that is dragged or moved by arrow keys to where it belongs. What
 * was set by hand stays, whatever is read later.
 */
export function JointLayer(props: {
  clip: Clip
  motion: ClipMotion
  frame: number
  isMirrored: boolean
  /** Where the picture lies on the canvas. */
  place: { readonly x: number; readonly y: number; readonly scale: number }
  onAim: (p: Point | null) => void
}) {
  const { clip, motion, frame, isMirrored, place } = props
  const [moved, setMoved] = useState<{ name: JointName; at: Point } | null>(null)
  const hold = useRef<{ name: JointName; from: Point; at: Point } | null>(null)
  const found = jointsOn(motion, frame, jointNames)
  if (!found) {
    const isRead = motion.body.frames.length > 0
    return (
      <p className="joint-note fine" role="status">
        {isRead ? drawingWords('bodyNotReadHere') : drawingWords('bodyNotRead')}
      </p>
    )
  }
  const shown = (at: Point): Point => (isMirrored ? { x: clip.width - at.x, y: at.y } : at)
  const joints = found.map((j) => (j.name === moved?.name ? moved : j))
  const byName = new Map(joints.map((j) => [j.name, j.at]))
  const onCanvas = (at: Point) => ({
    x: place.x + shown(at).x * place.scale,
    y: place.y + shown(at).y * place.scale,
  })
  const save = (joint: { name: JointName; at: Point }) => {
    setMoved(joint)
    void correctJoint(clip.id, frame, joint.name, joint.at).finally(() =>
      setMoved((now) => (now === joint ? null : now)),
    )
  }
  const down = (event: PointerEvent, name: JointName, at: Point) => {
    event.stopPropagation()
    event.currentTarget.setPointerCapture(event.pointerId)
    hold.current = { name, from: { x: event.clientX, y: event.clientY }, at }
  }
  const move = (event: PointerEvent) => {
    const held = hold.current
    if (!held) return
    event.stopPropagation()
    const dx = (event.clientX - held.from.x) / place.scale
    const at = {
      x: held.at.x + (isMirrored ? -dx : dx),
      y: held.at.y + (event.clientY - held.from.y) / place.scale,
    }
    setMoved({ name: held.name, at })
    props.onAim(shown(at))
  }
  const up = (event: PointerEvent) => {
    const held = hold.current
    hold.current = null
    props.onAim(null)
    if (!held) return
    event.stopPropagation()
    if (moved && Math.hypot(moved.at.x - held.at.x, moved.at.y - held.at.y) > 0.5) save(moved)
    else setMoved(null)
  }
  const press = (event: KeyboardEvent, name: JointName, at: Point) => {
    if (event.altKey) return
    const step = steps[event.key]
    if (step) {
      const by = event.shiftKey ? 10 : 1
      save({ name, at: { x: at.x + step.x * by * (isMirrored ? -1 : 1), y: at.y + step.y * by } })
    } else if (event.key === 'Delete' || event.key === 'Backspace') {
      void takeJointBack(clip.id, frame, name)
    } else return
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    <div className="joint-layer" role="group" aria-label={drawingWords('bodyPointsOnFrame')}>
      <svg className="joint-bones" aria-hidden>
        {bones.map(([a, b]) => {
          const [from, to] = [byName.get(a), byName.get(b)]
          if (!from || !to) return null
          const [p, q] = [onCanvas(from), onCanvas(to)]
          return <line key={`${a}-${b}`} x1={p.x} y1={p.y} x2={q.x} y2={q.y} />
        })}
      </svg>
      {joints.map(({ name, at }) => {
        const isSet = motion.corrected.some((c) => c.frame === frame && c.joint === name)
        const p = onCanvas(at)
        const [joint, where] = [drawingWords(`joint.${name}`), placeWords(at)]
        return (
          <button
            key={name}
            type="button"
            className={`joint${isSet ? ' is-set' : ''}`}
            style={{ left: p.x, top: p.y } as CSSProperties}
            title={isSet ? drawingWords('jointSet', { joint }) : joint}
            aria-label={drawingWords(isSet ? 'jointSetAt' : 'jointAt', { joint, place: where })}
            onPointerDown={(event) => down(event, name, at)}
            onPointerMove={move}
            onPointerUp={up}
            onPointerCancel={up}
            onKeyDown={(event) => press(event, name, at)}
          />
        )
      })}
    </div>
  )
}
