import {
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
  type PointerEvent as ReactPointerEvent,
} from 'react'
import { headBoxOn } from '../../../shared-core/body/head-box.ts'
import { mirrorShape, moveShape } from '../../../shared-core/drawing/copy-shape.ts'
import { drawingsOn, mappedDrawing, withMotion, type Drawing } from '../../../shared-core/drawing/drawing.ts'
import { defaultStyle } from '../../../shared-core/drawing/shape-base.ts'
import { mirroredBox } from '../../../shared-core/geometry/box.ts'
import type { PictureContext, ShapeDefinition } from '../../../shared-core/drawing/shape-definition.ts'
import { definitionOf, isShapeKind, shapes, type Shape } from '../../../shared-core/drawing/shapes.ts'
import type { ToneName } from '../../../shared-core/drawing/tones.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import { mirrorAt } from '../../../shared-core/geometry/similarity.ts'
import { placeOn } from '../../../shared-core/following/followed-track.ts'
import type { Clip, View } from '../../../shared-core/model/entities.ts'
import { pinDistance } from '../../../shared-core/scene/cue-pin.ts'
import { buildScene, textPxFor } from '../../../shared-core/scene/scene.ts'
import { sceneCues } from '../../../shared-core/scene/scene-cue.ts'
import { drawingWords } from '../../../shared-core/wording/window/drawing.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { thingWords } from './follow-words.ts'
import { placement, type Size, type Viewport } from '../../stage-engine/viewport.ts'
import { openDialog } from '../../store/app-store.ts'
import { unitsNow, useDesk } from '../../store/desk-store.ts'
import { addShape, changeShape, drawingsOf, moveCue } from '../../store/drawings.ts'
import { markFollowed } from '../../store/followed.ts'
import { DrawingKeys, type Item } from './DrawingKeys.tsx'
import { stageWatch, takeEndPlacing } from '../../store/stage-control.ts'
import { JointLayer } from './JointLayer.tsx'
import { useMotion } from './use-motion.ts'
import { usePlacing } from './use-placing.ts'
import { useScene } from './use-scene.ts'

/** How near a press must be to a shape or a handle to take hold of it, screen pixels. */
const graspPx = 10
/** Words on the picture that are read from two metres, screen pixels; in a small picture no larger than this share of its height. */
const readableFarPx = 24
const farShare = 1 / 13
const draftId = 'draft'

type Hold =
  | { on: 'handle'; id: string; handleId: string; shape: Shape }
  | { on: 'shape'; id: string; start: Point; shape: Shape }
  | { on: 'cue'; id: string; start: Point; at: Point }
  | { on: 'new' }
  | { on: 'picture' }

/**
 * What is drawn on the picture, and the pointer's work on it. Painted from the same scene as the stills and the videos.
 * Points are in source pixels; when the picture is mirrored, shapes are mirrored as shapes, so that their words stay readable.
 */
export function DrawingLayer(props: {
  view: View
  clip: Clip
  frame: number
  size: Size
  viewport: Viewport
  isMirrored: boolean
  canDraw: boolean
  /** Counts up when two fingers take over from the one that may have begun a shape. */
  pinchCount: number
  at: (event: { clientX: number; clientY: number }) => Point
  beginPan: (event: ReactPointerEvent) => void
  movePan: (event: ReactPointerEvent) => void
  endPan: () => void
  /** Where a point is being placed, for the loupe; null when none is. Places are those of the picture as it is shown. */
  onAim: (p: Point | null) => void
}) {
  const { view, clip, frame, size, viewport, isMirrored, canDraw, pinchCount } = props
  const tool = useDesk((s) => s.tool)
  const tone = useDesk((s) => s.tone) as ToneName
  const widthPx = useDesk((s) => s.widthPx)
  const selectedIds = useDesk((s) => s.selectedDrawingIds)
  const showsDrawings = useDesk((s) => s.showsDrawings)
  const isShowing = useDesk((s) => s.isShowing)
  const cueKinds = useDesk((s) => s.cueKinds)
  const [handleId, setHandleId] = useState<string | null>(null)
  const [heldCueId, setHeldCueId] = useState<string | null>(null)
  const [movedCue, setMovedCue] = useState<{ id: string; at: Point } | null>(null)
  const [changed, setChanged] = useState<{ id: string; shape: Shape } | null>(null)
  const hold = useRef<Hold | null>(null)
  const showsJoints = useDesk((s) => s.showsJoints)
  const { motion, motions } = useMotion(clip)

  const picture: PictureContext = useMemo(
    () => ({
      tiltDeg: isMirrored ? -clip.tiltDeg : clip.tiltDeg,
      pixelsPerMeter: clip.pixelsPerMeter,
      lengths: unitsNow() === 'mph-yd' ? 'imperial' : 'metric',
    }),
    [clip.tiltDeg, clip.pixelsPerMeter, isMirrored],
  )
  const turned = (shape: Shape): Shape => (isMirrored ? mirrorShape(shape, clip.width) : shape)
  const style = { ...defaultStyle, tone, widthPx }

  const shown: Drawing[] = useMemo(() => {
    if (!showsDrawings) return []
    const read = drawingsOf(view).drawings
    const moving: Drawing[] = motions ? withMotion(read, motions) : read
    return isMirrored ? moving.map((d) => mappedDrawing(d, mirrorAt(clip.width / 2))) : moving
  }, [view, showsDrawings, isMirrored, clip.width, motions])

  const definition: ShapeDefinition<Shape> | null =
    tool.name === 'shape' && isShapeKind(tool.kind)
      ? (shapes[tool.kind] as unknown as ShapeDefinition<Shape>)
      : null
  const finish = (points: Point[]) => {
    if (!definition) return
    const shape = definition.create(points, style)
    void addShape(view, frame, turned(shape))
    if (shape.kind === 'ruler' && clip.pixelsPerMeter === null && points.length >= 2) {
      const [a, b] = [points[0]!, points.at(-1)!]
      openDialog({ name: 'scale', viewId: view.id, lengthPx: Math.hypot(a.x - b.x, a.y - b.y) })
    }
  }
  const placing = usePlacing(definition, style, viewport.scale, finish)
  const { draft } = placing
  // A shape begun with another tool or on another frame is dropped; of one that two fingers broke into, the last point.
  const { reset, back } = placing
  const begun = useRef({ tool, frame, pinchCount })
  useLayoutEffect(() => {
    const before = begun.current
    begun.current = { tool, frame, pinchCount }
    if (before.tool !== tool || before.frame !== frame) reset()
    else if (before.pinchCount !== pinchCount) back()
    if (before.pinchCount !== pinchCount) {
      hold.current = null
      setChanged(null)
      setMovedCue(null)
    }
    // What it does depends on these alone; placing is made anew at every turn.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [tool, frame, pinchCount])

  const [selectedId] = [...selectedIds]
  const cuesShown = useMemo(
    () =>
      showsDrawings
        ? sceneCues({ cues: view.cues, moments: view.moments, kinds: cueKinds }).map((cue) =>
            cue.id === movedCue?.id
              ? { ...cue, at: movedCue.at }
              : isMirrored && cue.at
                ? { ...cue, at: { x: clip.width - cue.at.x, y: cue.at.y } }
                : cue,
          )
        : [],
    [view, cueKinds, showsDrawings, isMirrored, clip.width, movedCue],
  )
  const side = useDesk((s) => s.opened?.student.side) ?? 'right'
  const head = useMemo(() => {
    const box = isShowing && motion ? headBoxOn(motion.body, side, frame, clip.captureRate) : null
    return box && isMirrored ? mirroredBox(box, clip.width) : box
  }, [isShowing, motion, side, frame, clip.captureRate, clip.width, isMirrored])
  const freshNodes = useMemo(() => {
    // What is in hand lies where it is held.
    const live = shown.map((d) => (d.id === changed?.id ? { ...d, shape: changed.shape, motion: null } : d))
    const drawings: Drawing[] = draft
      ? [
          ...live,
          {
            id: draftId,
            viewId: view.id,
            momentId: null,
            fromFrame: frame,
            toFrame: frame,
            shape: draft,
            order: Number.MAX_SAFE_INTEGER,
            isHidden: false,
          },
        ]
      : live
    return buildScene({
      frameSize: { width: clip.width, height: clip.height },
      drawings,
      cues: cuesShown,
      frame,
      options: {
        ...picture,
        scale: viewport.scale,
        selectedId: canDraw ? (selectedId ?? null) : null,
        heldHandleId: handleId,
        ...(isShowing
          ? {
              textPx: Math.max(
                textPxFor({ width: clip.width, height: clip.height }),
                Math.min(readableFarPx / viewport.scale, farShare * clip.height),
              ),
              keepClear: head ? [head] : [],
            }
          : {}),
      },
    })
  }, [
    shown,
    changed,
    draft,
    view.id,
    frame,
    cuesShown,
    clip.width,
    clip.height,
    picture,
    viewport.scale,
    canDraw,
    selectedId,
    handleId,
    isShowing,
    head,
  ])

  const host = useScene(freshNodes, clip, viewport, size)

  // A talk-through shows a shape as it grows, too.
  useEffect(() => {
    if (!canDraw) return
    const unturned = (shape: Shape): Shape => (isMirrored ? mirrorShape(shape, clip.width) : shape)
    const live = draft ? { id: null, shape: draft } : changed
    stageWatch()?.draft(live && { id: live.id, shape: unturned(live.shape) })
  }, [draft, changed, canDraw, isMirrored, clip.width])

  const grasp = graspPx / viewport.scale
  const onFrame = drawingsOn(shown, frame)
  const isWay = (id: string) => onFrame.some((d) => d.id === id && d.tie?.to.kind === 'way')
  const hitHandle = (p: Point) => {
    const selected = onFrame.find((d) => d.id === selectedId && !isWay(d.id))
    const handle = selected
      ? definitionOf(selected.shape)
          .handles(selected.shape, picture)
          .map((h) => ({ h, distance: Math.hypot(h.at.x - p.x, h.at.y - p.y) }))
          .sort((a, b) => a.distance - b.distance)[0]
      : undefined
    return selected && handle && handle.distance <= grasp * 1.3
      ? { drawing: selected, handleId: handle.h.id }
      : null
  }
  const hitShape = (p: Point) =>
    [...onFrame]
      .reverse()
      .map((d) => ({ d, distance: definitionOf(d.shape).distance(d.shape, p, picture) }))
      .filter((hit) => hit.distance <= grasp)
      .sort((a, b) => a.distance - b.distance)[0]?.d ?? null

  const onFrameCues = cuesShown.flatMap((cue) =>
    cue.frame === frame && cue.at ? [{ ...cue, at: cue.at }] : [],
  )
  const textPx = textPxFor(clip)
  const hitCue = (p: Point) => onFrameCues.find((cue) => pinDistance(cue.at, p, textPx) <= grasp / 2) ?? null

  const pinCue = (p: Point) => {
    const x = isMirrored ? clip.width - p.x : p.x
    const moment = view.moments.find((m) => m.frame === frame)
    openDialog({ name: 'cue', momentId: moment?.id ?? null, x: Math.round(x), y: Math.round(p.y) })
    useDesk.setState({ tool: { name: 'look' } })
  }
  const follow = (p: Point) => {
    const x = isMirrored ? clip.width - p.x : p.x
    void markFollowed(view, frame, { x, y: p.y })
    props.onAim(null)
  }
  const saveCue = ({ id, at }: { id: string; at: Point }) => {
    const moved = { id, at }
    setMovedCue(moved)
    const x = isMirrored ? clip.width - at.x : at.x
    void moveCue(view.id, id, { x: Math.round(x), y: Math.round(at.y) }).finally(() =>
      setMovedCue((c) => (c === moved ? null : c)),
    )
  }
  const saveShape = (next: { id: string; shape: Shape }, isStep: boolean) => {
    setChanged(next)
    const tie = view.drawings.find((d) => d.id === next.id)?.tie
    const options = { isStep, ...(tie ? { tie: { ...tie, frame } } : {}) }
    void changeShape(view.id, next.id, turned(next.shape), options).finally(() =>
      setChanged((c) => (c?.shape === next.shape ? null : c)),
    )
  }

  const down = (event: ReactPointerEvent) => {
    if (event.button !== 0) return
    // Keys go to the picture from here on, not to the button that was pressed last.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur()
    const p = props.at(event)
    event.currentTarget.setPointerCapture(event.pointerId)
    setHandleId(null)
    setHeldCueId(null)
    if (tool.name === 'cue') {
      pinCue(p)
      return
    }
    if (tool.name === 'follow') {
      follow(p)
      return
    }
    if (definition) {
      hold.current = { on: 'new' }
      placing.press(p)
      return
    }
    const handle = hitHandle(p)
    if (handle) {
      hold.current = {
        on: 'handle',
        id: handle.drawing.id,
        handleId: handle.handleId,
        shape: handle.drawing.shape,
      }
      setHandleId(handle.handleId)
      props.onAim(p)
      return
    }
    const cue = hitCue(p)
    if (cue) {
      hold.current = { on: 'cue', id: cue.id, start: p, at: cue.at }
      return
    }
    const hit = hitShape(p)
    if (hit) {
      const ids = event.shiftKey ? new Set([...selectedIds, hit.id]) : new Set([hit.id])
      useDesk.setState({ selectedDrawingIds: ids })
      // A way is where the point was found; it is put right by marks, not by dragging.
      if (!isWay(hit.id)) hold.current = { on: 'shape', id: hit.id, start: p, shape: hit.shape }
      return
    }
    if (selectedIds.size > 0) useDesk.setState({ selectedDrawingIds: new Set() })
    hold.current = { on: 'picture' }
    props.beginPan(event)
  }

  const move = (event: ReactPointerEvent) => {
    const p = props.at(event)
    const held = hold.current
    if (tool.name !== 'look') props.onAim(p)
    if (definition && (!held || held.on === 'new')) placing.preview(p)
    if (!held) return
    if (held.on === 'picture') props.movePan(event)
    else if (held.on === 'cue') {
      const at = { x: held.at.x + p.x - held.start.x, y: held.at.y + p.y - held.start.y }
      if (movedCue || Math.hypot(p.x - held.start.x, p.y - held.start.y) * viewport.scale > 3) {
        setMovedCue({ id: held.id, at })
        props.onAim(at)
      }
    } else if (held.on === 'handle') {
      const shape = definitionOf(held.shape).moveHandle(held.shape, held.handleId, p, picture)
      setChanged({ id: held.id, shape })
      props.onAim(p)
    } else if (held.on === 'shape') {
      const dx = p.x - held.start.x
      const dy = p.y - held.start.y
      if (changed || Math.hypot(dx, dy) * viewport.scale > 3) {
        setChanged({ id: held.id, shape: moveShape(held.shape, dx, dy) })
      }
    }
  }

  const up = (event: ReactPointerEvent) => {
    const held = hold.current
    hold.current = null
    props.endPan()
    if (!held) return
    if (held.on === 'new') placing.release()
    else if ((held.on === 'handle' || held.on === 'shape') && changed) saveShape(changed, false)
    else if (held.on === 'cue' && movedCue) saveCue(movedCue)
    if (held.on === 'handle' || held.on === 'cue') {
      setHandleId(null)
      props.onAim(null)
    }
    event.currentTarget.releasePointerCapture(event.pointerId)
  }

  // A second click in the same place, or Enter, ends a shape of as many points as the coach likes.
  const { end } = placing
  useEffect(() => {
    if (!canDraw) return
    takeEndPlacing(end)
    return () => takeEndPlacing(null)
  })

  const items: Item[] = [
    ...onFrame
      .filter((d) => !isWay(d.id))
      .map((d): Item => ({
        kind: 'drawing',
        id: d.id,
        name: [definitionOf(d.shape).name, d.shape.label && `“${d.shape.label}”`].filter(Boolean).join(' '),
        shape: d.id === changed?.id ? changed.shape : d.shape,
      })),
    ...onFrameCues.map((cue): Item => ({
      kind: 'cue',
      id: cue.id,
      name: drawingWords('cueNamed', { cue: cue.name }),
      at: cue.at,
    })),
  ]
  const place = placement(viewport, clip, size, false)
  // Where the selected followed point is on this frame, and whether the coach marked it there.
  const wayOf = view.drawings.find((d) => d.id === selectedId)?.tie?.to
  const followed = wayOf && wayOf.kind !== 'body' ? motion?.points.find((p) => p.id === wayOf.id) : undefined
  const here = followed && placeOn(followed.track, frame)
  const within = (value: number, max: number) => Math.max(0, Math.min(max, Math.round(value)))
  return (
    <>
      <div
        ref={host}
        className="drawing-layer"
        style={{ pointerEvents: canDraw ? 'auto' : 'none' }}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={up}
        onPointerLeave={() => hold.current === null && props.onAim(null)}
        onDoubleClick={end}
      />
      {canDraw && here && (
        <div
          className={`follow-mark${followed.marks.some((m) => m.frame === frame) ? ' is-marked' : ''}`}
          style={{
            left: place.x + (isMirrored ? clip.width - here.x : here.x) * viewport.scale,
            top: place.y + here.y * viewport.scale,
          }}
        />
      )}
      {canDraw && showsJoints && motion && (
        <JointLayer
          clip={clip}
          motion={motion}
          frame={frame}
          isMirrored={isMirrored}
          place={{ x: place.x, y: place.y, scale: viewport.scale }}
          onAim={props.onAim}
        />
      )}
      {canDraw && (
        <DrawingKeys
          items={items}
          held={items.find((i) => i.id === (heldCueId ?? selectedId)) ?? null}
          onHold={(item) => {
            setHeldCueId(item?.kind === 'cue' ? item.id : null)
            useDesk.setState({ selectedDrawingIds: new Set(item?.kind === 'drawing' ? [item.id] : []) })
          }}
          handleId={handleId}
          onHandle={setHandleId}
          onMove={(item) => (item.kind === 'cue' ? saveCue(item) : saveShape(item, true))}
          tool={
            definition
              ? { name: definition.name, placing, press: placing.press }
              : tool.name === 'cue'
                ? { name: commonWords('cue'), placing: null, press: pinCue }
                : tool.name === 'follow'
                  ? {
                      name: drawingWords('theTool', { what: thingWords(tool.what) }),
                      placing: null,
                      press: follow,
                    }
                  : null
          }
          picture={picture}
          size={clip}
          place={{ x: place.x, y: place.y, scale: viewport.scale }}
          middle={{
            x: within((size.width / 2 - place.x) / viewport.scale, clip.width),
            y: within((size.height / 2 - place.y) / viewport.scale, clip.height),
          }}
          onAim={props.onAim}
        />
      )}
    </>
  )
}
