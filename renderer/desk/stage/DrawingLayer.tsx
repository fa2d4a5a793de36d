import Konva from 'konva'
import { useEffect, useMemo, useRef, useState, type PointerEvent as ReactPointerEvent } from 'react'
import { mirrorShape, moveShape } from '../../../shared-core/drawing/copy-shape.ts'
import { drawingsOn, type Drawing } from '../../../shared-core/drawing/drawing.ts'
import { defaultStyle } from '../../../shared-core/drawing/shape-base.ts'
import type { PictureContext, ShapeDefinition } from '../../../shared-core/drawing/shape-definition.ts'
import { definitionOf, isShapeKind, shapes, type Shape } from '../../../shared-core/drawing/shapes.ts'
import type { ToneName } from '../../../shared-core/drawing/tones.ts'
import type { Clip, View } from '../../../shared-core/model/entities.ts'
import type { SceneNode } from '../../../shared-core/scene/node.ts'
import { buildScene } from '../../../shared-core/scene/scene.ts'
import { sceneCues } from '../../../shared-core/scene/scene-cue.ts'
import { toKonva } from '../../../shared-core/scene/to-konva.ts'
import { placement, type Size, type StageView } from '../../stage-engine/stage-view.ts'
import { openDialog } from '../../store/app-store.ts'
import { unitsNow, useDesk } from '../../store/desk-store.ts'
import { addShape, changeShape, drawingsOf } from '../../store/drawings.ts'
import { stageWatch, takeEndPlacing } from './stage-control.ts'

interface Point {
  x: number
  y: number
}

/** How near a press must be to a shape or a handle to take hold of it, screen pixels. */
const graspPx = 10
const draftId = 'draft'

type Hold =
  | { on: 'handle'; id: string; handleId: string; shape: Shape }
  | { on: 'shape'; id: string; start: Point; shape: Shape }
  | { on: 'new'; points: Point[] }
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
  stageView: StageView
  isMirrored: boolean
  canDraw: boolean
  /** Counts up when two fingers take over from the one that may have begun a shape. */
  pinchCount: number
  at: (event: { clientX: number; clientY: number }) => Point
  beginPan: (event: ReactPointerEvent) => void
  movePan: (event: ReactPointerEvent) => void
  endPan: () => void
}) {
  const { view, clip, frame, size, stageView, isMirrored, canDraw, pinchCount } = props
  const tool = useDesk((s) => s.tool)
  const tone = useDesk((s) => s.tone) as ToneName
  const widthPx = useDesk((s) => s.widthPx)
  const selectedIds = useDesk((s) => s.selectedDrawingIds)
  const showsDrawings = useDesk((s) => s.showsDrawings)
  const cueKinds = useDesk((s) => s.cueKinds)
  const [draft, setDraft] = useState<Shape | null>(null)
  const [changed, setChanged] = useState<{ id: string; shape: Shape } | null>(null)
  const [clicked, setClicked] = useState<Point[]>([])
  // A shape begun with another tool or on another frame is dropped.
  const [begun, setBegun] = useState({ tool, frame, pinchCount })
  if (begun.tool !== tool || begun.frame !== frame || begun.pinchCount !== pinchCount) {
    setBegun({ tool, frame, pinchCount })
    setDraft(null)
    setChanged(null)
    setClicked(begun.tool === tool && begun.frame === frame ? clicked.slice(0, -1) : [])
  }
  const hold = useRef<Hold | null>(null)
  useEffect(() => {
    hold.current = null
  }, [pinchCount])
  const host = useRef<HTMLDivElement>(null)
  const konva = useRef<{ stage: Konva.Stage; layer: Konva.Layer } | null>(null)

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
    return drawingsOf(view).drawings.map((d) => ({
      ...d,
      shape: isMirrored ? mirrorShape(d.shape, clip.width) : d.shape,
    }))
  }, [view, showsDrawings, isMirrored, clip.width])

  const [selectedId] = [...selectedIds]
  const freshNodes = useMemo(() => {
    const live = shown.map((d) => (d.id === changed?.id ? { ...d, shape: changed.shape } : d))
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
    const cues = showsDrawings
      ? sceneCues({ cues: view.cues, moments: view.moments, kinds: cueKinds }).map((cue) =>
          isMirrored && cue.at ? { ...cue, at: { x: clip.width - cue.at.x, y: cue.at.y } } : cue,
        )
      : []
    return buildScene({
      frameSize: { width: clip.width, height: clip.height },
      drawings,
      cues,
      frame,
      options: { ...picture, scale: stageView.scale, selectedId: canDraw ? (selectedId ?? null) : null },
    })
  }, [
    shown,
    changed,
    draft,
    view,
    frame,
    showsDrawings,
    cueKinds,
    isMirrored,
    clip.width,
    clip.height,
    picture,
    stageView.scale,
    canDraw,
    selectedId,
  ])

  // The same drawings on the next frame are not painted anew.
  const nodesText = JSON.stringify(freshNodes)
  const nodes = useMemo(() => JSON.parse(nodesText) as SceneNode[], [nodesText])

  useEffect(() => {
    const stage = new Konva.Stage({ container: host.current!, width: 1, height: 1, listening: false })
    const layer = new Konva.Layer({ listening: false })
    stage.add(layer)
    konva.current = { stage, layer }
    return () => {
      stage.destroy()
      konva.current = null
    }
  }, [])

  useEffect(() => {
    const made = konva.current
    if (!made) return
    const place = placement(stageView, { width: clip.width, height: clip.height }, size, false)
    made.stage.size(size)
    made.layer.destroyChildren()
    made.layer.position({ x: place.x, y: place.y })
    made.layer.scale({ x: place.scaleX, y: place.scaleY })
    for (const node of nodes) {
      made.layer.add(toKonva<Konva.Group | Konva.Shape>(Konva as never, node) as Konva.Group)
    }
    made.layer.draw()
    // An empty layer is not laid over the picture at all.
    host.current!.firstElementChild?.toggleAttribute('hidden', nodes.length === 0)
  }, [nodes, stageView, size, clip.width, clip.height])

  // A talk-through shows a shape as it grows, too.
  useEffect(() => {
    if (!canDraw) return
    const unturned = (shape: Shape): Shape => (isMirrored ? mirrorShape(shape, clip.width) : shape)
    const live = draft ? { id: null, shape: draft } : changed
    stageWatch()?.draft(live && { id: live.id, shape: unturned(live.shape) })
  }, [draft, changed, canDraw, isMirrored, clip.width])

  const definition: ShapeDefinition<Shape> | null =
    tool.name === 'shape' && isShapeKind(tool.kind)
      ? (shapes[tool.kind] as unknown as ShapeDefinition<Shape>)
      : null

  const finish = (points: Point[]) => {
    setDraft(null)
    setClicked([])
    if (!definition) return
    const shape = definition.create(points, style)
    void addShape(view, frame, turned(shape))
    if (shape.kind === 'ruler' && clip.pixelsPerMeter === null && points.length >= 2) {
      const [a, b] = [points[0]!, points.at(-1)!]
      openDialog({ name: 'scale', viewId: view.id, lengthPx: Math.hypot(a.x - b.x, a.y - b.y) })
    }
  }

  const grasp = graspPx / stageView.scale
  const onFrame = drawingsOn(shown, frame)
  const hitHandle = (p: Point) => {
    const selected = onFrame.find((d) => d.id === selectedId)
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

  const down = (event: ReactPointerEvent) => {
    if (event.button !== 0) return
    // Keys go to the picture from here on, not to the button that was pressed last.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur()
    const p = props.at(event)
    event.currentTarget.setPointerCapture(event.pointerId)
    if (tool.name === 'cue') {
      const x = isMirrored ? clip.width - p.x : p.x
      const moment = view.moments.find((m) => m.frame === frame)
      openDialog({ name: 'cue', momentId: moment?.id ?? null, x: Math.round(x), y: Math.round(p.y) })
      useDesk.setState({ tool: { name: 'look' } })
      return
    }
    if (definition) {
      const { placing } = definition
      if (placing.by === 'clicks') {
        const points = [...clicked, p]
        if (placing.most !== null && points.length >= placing.most) finish(points)
        else {
          setClicked(points)
          if (points.length >= placing.least) setDraft(definition.create(points, style))
        }
      } else hold.current = { on: 'new', points: [p] }
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
      return
    }
    const hit = hitShape(p)
    if (hit) {
      const ids = event.shiftKey ? new Set([...selectedIds, hit.id]) : new Set([hit.id])
      useDesk.setState({ selectedDrawingIds: ids })
      hold.current = { on: 'shape', id: hit.id, start: p, shape: hit.shape }
      return
    }
    if (selectedIds.size > 0) useDesk.setState({ selectedDrawingIds: new Set() })
    hold.current = { on: 'picture' }
    props.beginPan(event)
  }

  const move = (event: ReactPointerEvent) => {
    const p = props.at(event)
    const held = hold.current
    if (!held) {
      if (definition && clicked.length > 0 && definition.placing.by === 'clicks') {
        const points = [...clicked, p]
        if (points.length >= definition.placing.least) setDraft(definition.create(points, style))
        else setDraft((shapes.line as unknown as ShapeDefinition<Shape>).create([clicked[0]!, p], style))
      }
      return
    }
    if (held.on === 'picture') props.movePan(event)
    else if (held.on === 'new' && definition) {
      held.points = definition.placing.by === 'stroke' ? [...held.points, p] : [held.points[0]!, p]
      if (held.points.length >= 2) setDraft(definition.create(held.points, style))
    } else if (held.on === 'handle') {
      const shape = definitionOf(held.shape).moveHandle(held.shape, held.handleId, p, picture)
      setChanged({ id: held.id, shape })
    } else if (held.on === 'shape') {
      const dx = p.x - held.start.x
      const dy = p.y - held.start.y
      if (changed || Math.hypot(dx, dy) * stageView.scale > 3) {
        setChanged({ id: held.id, shape: moveShape(held.shape, dx, dy) })
      }
    }
  }

  const up = (event: ReactPointerEvent) => {
    const held = hold.current
    hold.current = null
    props.endPan()
    if (!held) return
    if (held.on === 'new' && definition) {
      const [a] = held.points
      const far = held.points.some((q) => Math.hypot(q.x - a!.x, q.y - a!.y) * stageView.scale > 4)
      if (far) finish(held.points)
      else setDraft(null)
    } else if ((held.on === 'handle' || held.on === 'shape') && changed) {
      const { id, shape } = changed
      void changeShape(view.id, id, turned(shape)).finally(() =>
        setChanged((c) => (c?.shape === shape ? null : c)),
      )
    }
    event.currentTarget.releasePointerCapture(event.pointerId)
  }

  /** A second click in the same place, or Enter, ends a shape of as many points as the coach likes. */
  const end = (): boolean => {
    if (definition?.placing.by === 'clicks' && clicked.length >= definition.placing.least) {
      const last = clicked.at(-1)!
      const before = clicked.at(-2)
      const same = before && Math.hypot(last.x - before.x, last.y - before.y) * stageView.scale < 5
      const points = same ? clicked.slice(0, -1) : clicked
      if (points.length >= definition.placing.least) {
        finish(points)
        return true
      }
    }
    return false
  }
  useEffect(() => {
    if (!canDraw) return
    takeEndPlacing(end)
    return () => takeEndPlacing(null)
  })

  return (
    <div
      ref={host}
      className="drawing-layer"
      style={{ pointerEvents: canDraw ? 'auto' : 'none' }}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      onDoubleClick={end}
    />
  )
}
