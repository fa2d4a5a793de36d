import { useEffect, useRef, useState, type KeyboardEvent as ReactKeyboardEvent } from 'react'
import type { Handle, PictureContext } from '../../../shared-core/drawing/shape-definition.ts'
import { moveShape } from '../../../shared-core/drawing/copy-shape.ts'
import { definitionOf, type Shape } from '../../../shared-core/drawing/shapes.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import { drawingWords } from '../../../shared-core/wording/window/drawing.ts'
import { sayNews } from '../../store/messages.ts'
import { takeDrawingKeys } from '../../store/stage-control.ts'
import type { ShapePlacing } from './use-placing.ts'

/** What can be taken in hand on a frame. Places are those of the picture as it is shown. */
export type Item =
  | { readonly kind: 'drawing'; readonly id: string; readonly name: string; readonly shape: Shape }
  | { readonly kind: 'cue'; readonly id: string; readonly name: string; readonly at: Point }

const steps: Record<string, Point> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: -1 },
  ArrowDown: { x: 0, y: 1 },
}

export const placeWords = (at: Point) =>
  drawingWords('place', { across: Math.round(at.x), down: Math.round(at.y) })

/**
 * Drawing, moving and reshaping by keys alone. It lies over the picture, lets the pointer through, and while it has
 * the focus the arrow keys belong to what is in hand: the crosshair of a tool, a drawing, one of its points, or a cue.
 */
export function DrawingKeys(props: {
  items: readonly Item[]
  held: Item | null
  onHold: (item: Item | null) => void
  handleId: string | null
  onHandle: (handleId: string | null) => void
  onMove: (item: Item) => void
  /** The tool in hand, if there is one; a cue is placed by one press. */
  tool: { readonly name: string; readonly placing: ShapePlacing | null; press: (p: Point) => void } | null
  picture: PictureContext
  size: { readonly width: number; readonly height: number }
  /** Where the picture lies on the canvas, and the middle of what is seen of it. */
  place: { readonly x: number; readonly y: number; readonly scale: number }
  middle: Point
  onAim: (p: Point | null) => void
}) {
  const { items, held, handleId, tool, picture, place } = props
  const region = useRef<HTMLDivElement>(null)
  const [hasFocus, setFocus] = useState(false)
  const [cross, setCross] = useState<Point | null>(null)
  const [said, setSaid] = useState('')
  const handles = (item: Item | null): readonly Handle[] =>
    item?.kind === 'drawing' ? definitionOf(item.shape).handles(item.shape, picture) : []
  const handleAt = (item: Item | null, id: string | null) => handles(item).find((h) => h.id === id) ?? null

  const aimAt = (item: Item | null, id: string | null) =>
    props.onAim(item?.kind === 'cue' ? item.at : (handleAt(item, id)?.at ?? null))

  const sayItem = (item: Item) => {
    setSaid(
      drawingWords(item.kind === 'drawing' ? 'arrowsMoveDrawing' : 'arrowsMove', {
        item: item.name,
        number: items.findIndex((i) => i.id === item.id) + 1,
        count: items.length,
      }),
    )
  }

  const takeItem = (by: 1 | -1) => {
    region.current?.focus()
    if (tool) {
      const at = cross ?? props.middle
      setCross(at)
      props.onAim(at)
      setSaid(drawingWords('crosshair', { tool: tool.name, place: placeWords(at) }))
      return
    }
    if (items.length === 0) {
      sayNews(drawingWords('nothingDrawn'))
      return
    }
    const now = items.findIndex((i) => i.id === held?.id)
    const next =
      items[now < 0 ? (by === 1 ? 0 : items.length - 1) : (now + by + items.length) % items.length]!
    props.onHold(next)
    props.onHandle(null)
    aimAt(next, null)
    sayItem(next)
  }

  const takePoint = (by: 1 | -1) => {
    const all = handles(held)
    if (!held || all.length === 0) {
      takeItem(1)
      return
    }
    region.current?.focus()
    // One step in the round is the whole drawing.
    const ids = [null, ...all.map((h) => h.id)]
    const next = ids[(ids.indexOf(handleId) + by + ids.length) % ids.length] ?? null
    props.onHandle(next)
    aimAt(held, next)
    const handle = handleAt(held, next)
    if (handle) setSaid(drawingWords('handleAt', { handle: handle.label, place: placeWords(handle.at) }))
    else sayItem(held)
  }

  useEffect(() => {
    const leave = () => {
      region.current?.blur()
      props.onHold(null)
      props.onHandle(null)
    }
    takeDrawingKeys({ takeItem, takePoint, leave })
    return () => takeDrawingKeys(null)
  })

  const moveCross = (step: Point, by: number) => {
    const from = cross ?? props.middle
    const to = {
      x: Math.max(0, Math.min(props.size.width, from.x + step.x * by)),
      y: Math.max(0, Math.min(props.size.height, from.y + step.y * by)),
    }
    setCross(to)
    props.onAim(to)
    tool?.placing?.preview(to)
    setSaid(placeWords(to))
  }

  const moveHeld = (item: Item, step: Point, by: number) => {
    const [dx, dy] = [step.x * by, step.y * by]
    if (item.kind === 'cue') {
      const moved = { ...item, at: { x: item.at.x + dx, y: item.at.y + dy } }
      props.onMove(moved)
      props.onAim(moved.at)
      setSaid(placeWords(moved.at))
      return
    }
    const handle = handleAt(item, handleId)
    const definition = definitionOf(item.shape)
    const shape = handle
      ? definition.moveHandle(item.shape, handle.id, { x: handle.at.x + dx, y: handle.at.y + dy }, picture)
      : moveShape(item.shape, dx, dy)
    const moved = { ...item, shape }
    props.onMove(moved)
    const at = handleAt(moved, handle?.id ?? null)?.at ?? null
    props.onAim(at)
    const measure = definition.measure(shape, picture)?.text
    const where = at ?? definition.handles(shape, picture)[0]?.at
    setSaid([where ? placeWords(where) : '', measure].filter(Boolean).join(', '))
  }

  const press = (event: ReactKeyboardEvent) => {
    if (event.altKey) return
    const step = steps[event.key]
    const by = event.ctrlKey || event.metaKey ? 50 : event.shiftKey ? 10 : 1
    const takes = () => {
      event.preventDefault()
      event.stopPropagation()
    }
    if (tool) {
      const at = cross ?? props.middle
      if (step) moveCross(step, by)
      else if (event.key === ' ' || (event.key === 'Enter' && !tool.placing?.end())) {
        tool.press(at)
        setSaid(drawingWords('placedAt', { place: placeWords(at) }))
      } else if (event.key === 'Backspace') tool.placing?.back()
      else if (event.key !== 'Enter') return
      takes()
    } else if (held && step) {
      moveHeld(held, step, by)
      takes()
    }
  }

  const inHand = tool ? 'tool' : held ? 'item' : undefined
  return (
    <>
      <div
        ref={region}
        className="drawing-keys"
        role="application"
        aria-roledescription={drawingWords('byKeys')}
        aria-label={drawingWords('drawingsOnPicture')}
        aria-describedby="drawing-keys-help"
        tabIndex={0}
        data-in-hand={inHand}
        onKeyDown={press}
        onFocus={() => {
          setFocus(true)
          if (tool) props.onAim(cross ?? props.middle)
        }}
        onBlur={() => {
          setFocus(false)
          props.onAim(null)
        }}
      >
        {hasFocus && tool && (
          <div
            className="crosshair"
            style={{
              left: place.x + (cross ?? props.middle).x * place.scale,
              top: place.y + (cross ?? props.middle).y * place.scale,
            }}
          />
        )}
        {hasFocus && held?.kind === 'cue' && (
          <div
            className="cue-in-hand"
            style={{ left: place.x + held.at.x * place.scale, top: place.y + held.at.y * place.scale }}
          />
        )}
        <p id="drawing-keys-help" className={hasFocus ? 'drawing-keys-help' : 'unseen'}>
          {tool
            ? drawingWords('keysHelpTool', { tool: tool.name })
            : held
              ? drawingWords('keysHelpHeld')
              : drawingWords('keysHelp')}
        </p>
      </div>
      <p className="unseen" role="status">
        {said}
      </p>
    </>
  )
}
