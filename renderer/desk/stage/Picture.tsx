import {
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
  useSyncExternalStore,
  type CSSProperties,
  type PointerEvent as ReactPointerEvent,
} from 'react'
import type { Clip, View } from '../../../shared-core/model/entities.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import type { Player } from '../../stage-engine/player.ts'
import {
  panned,
  toSource,
  zoomedAt,
  type ChangeView,
  type Size,
  type Viewport,
} from '../../stage-engine/viewport.ts'
import { useDesk } from '../../store/desk-store.ts'
import { DrawingLayer } from './DrawingLayer.tsx'
import { Loupe, type LoupeControl } from './Loupe.tsx'
import { stageWatch } from '../../store/stage-control.ts'
import { usePinch } from './use-pinch.ts'
import { usePlayer, type PicturePlacement } from './use-player.ts'

/** One clip's picture with what is drawn on it. Zoom and pan are kept by the Stage, so that two pictures can share them. */
export function Picture(props: {
  place: 'first' | 'second'
  view: View
  clip: Clip
  /** The frame it opens on. */
  start: number
  viewport: Viewport | null
  /** How it lies until the coach moves it: as a whole, or filling its place. */
  startView: (picture: Size, canvas: Size) => Viewport
  isMirrored: boolean
  canDraw: boolean
  /** Nothing is known of the film but its pictures: there is nothing to be drawn over them. */
  isBare?: boolean
  /** Nobody has gone to another frame yet, and the machine has other work. */
  isCalm?: boolean
  opacity?: number
  title: string | null
  onOpened: (opened: { player: Player; times: ClipTimes } | null) => void
  onSize: (size: Size) => void
  /** `isAlone` if a second picture over or under this one is to stay where it is. */
  onChange: (change: ChangeView, isAlone: boolean) => void
}) {
  const { view, clip, isMirrored, canDraw, onOpened, onSize } = props
  const box = useRef<HTMLDivElement>(null)
  const { startView } = props
  const canvas = useRef<HTMLCanvasElement>(null)
  const placing = useRef<PicturePlacement | null>(null)
  const [size, setSize] = useState<Size | null>(null)
  const { width, height } = clip
  const picture: Size = useMemo(() => ({ width, height }), [width, height])
  // The same object from frame to frame: what is drawn over the picture is laid out anew only when this changes.
  const viewport = useMemo(
    () => (size ? (props.viewport ?? startView(picture, size)) : null),
    [props.viewport, startView, picture, size],
  )
  const { player, times, error } = usePlayer(clip, canvas, placing, props.start, props.isCalm)
  const onShown = useCallback((tell: () => void) => player?.onShown(tell) ?? (() => {}), [player])
  const frame = useSyncExternalStore(onShown, () => player?.frameAt ?? -1)
  const tool = useDesk((s) => s.tool)

  useLayoutEffect(() => {
    const element = box.current!
    const measure = () => {
      const next = { width: Math.max(1, element.clientWidth), height: Math.max(1, element.clientHeight) }
      setSize(next)
      onSize(next)
    }
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
    // The setter is the Stage's own and does not change what is measured.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [])

  // The canvas is as many device pixels as it covers; a new size or place is painted at once.
  const { scale, panX, panY } = viewport ?? { scale: 0, panX: 0, panY: 0 }
  useLayoutEffect(() => {
    const target = canvas.current
    if (!target || !size || scale === 0) return
    placing.current = { view: { scale, panX, panY }, isMirrored }
    const width = Math.round(size.width * devicePixelRatio)
    const height = Math.round(size.height * devicePixelRatio)
    if (target.width !== width || target.height !== height) {
      target.width = width
      target.height = height
    }
    player?.repaint()
  }, [size, scale, panX, panY, isMirrored, player])

  useEffect(() => {
    if (!player || !times) {
      onOpened(null)
      return
    }
    onOpened({ player, times })
    // Times change with the capture rate; the Stage only has to know that there is a player.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [player, times?.captureRate, times?.playbackRate, times?.slowPart?.fromSeconds])
  useEffect(() => () => onOpened(null), []) // eslint-disable-line react-hooks/exhaustive-deps

  const at = (event: { clientX: number; clientY: number }) => {
    const rect = box.current!.getBoundingClientRect()
    return { x: event.clientX - rect.left, y: event.clientY - rect.top }
  }

  const change = useRef(props.onChange)
  useEffect(() => {
    change.current = props.onChange
  })
  // Wheel zooms (a trackpad's pinch arrives as a wheel with Ctrl); not passive, the page must not scroll.
  useEffect(() => {
    const element = box.current!
    const wheel = (event: WheelEvent) => {
      event.preventDefault()
      const sideways = event.shiftKey ? event.deltaY : event.deltaX
      if (event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY)) {
        change.current(
          (view, clipSize, canvasSize) => panned(view, -sideways, 0, clipSize, canvasSize),
          false,
        )
        return
      }
      const factor = Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0016))
      const about = at(event)
      change.current(
        (view, clipSize, canvasSize) => zoomedAt(view, factor, about, clipSize, canvasSize),
        false,
      )
    }
    element.addEventListener('wheel', wheel, { passive: false })
    return () => element.removeEventListener('wheel', wheel)
  }, [])

  const drag = useRef<{ x: number; y: number } | null>(null)
  /** Moves the picture; the drawing layer calls it for presses that hit nothing. */
  const beginPan = (event: ReactPointerEvent) => {
    drag.current = { x: event.clientX, y: event.clientY }
    ;(event.currentTarget as Element).setPointerCapture(event.pointerId)
  }
  const movePan = (event: ReactPointerEvent) => {
    const from = drag.current
    if (!from) return
    const [dx, dy] = [event.clientX - from.x, event.clientY - from.y]
    drag.current = { x: event.clientX, y: event.clientY }
    props.onChange((now, clipSize, canvasSize) => panned(now, dx, dy, clipSize, canvasSize), event.shiftKey)
  }
  const endPan = () => {
    drag.current = null
  }

  const loupe = useRef<LoupeControl>(null)
  const [pinchCount, setPinchCount] = useState(0)
  const pinch = usePinch(at, props.onChange, () => {
    endPan()
    setPinchCount((n) => n + 1)
  })

  const isPlacing = canDraw && tool.name !== 'look'
  const filter =
    clip.brightness === 0 && clip.contrast === 0
      ? undefined
      : `brightness(${1 + clip.brightness}) contrast(${1 + clip.contrast})`
  return (
    <div
      ref={box}
      className={`picture picture-${props.place}${isPlacing ? ' is-placing' : ''}`}
      style={{ '--seen': props.opacity ?? 1 } as CSSProperties}
      onPointerDownCapture={pinch.down}
      onPointerUpCapture={pinch.up}
      onPointerCancelCapture={pinch.up}
      onPointerMoveCapture={(event) => {
        if (pinch.move(event)) return
        if (size && viewport) {
          stageWatch()?.pointer(props.place, toSource(at(event), viewport, picture, size, isMirrored))
        }
      }}
      onPointerLeave={() => stageWatch()?.pointer(props.place, null)}
      onPointerDown={canDraw ? undefined : beginPan}
      onPointerMove={canDraw ? undefined : movePan}
      onPointerUp={endPan}
      onPointerCancel={endPan}
    >
      <canvas
        ref={canvas}
        className="picture-canvas"
        style={{ filter }}
        role="img"
        aria-label={stageWords('pictureOf', { file: clip.fileName, frame: Math.max(0, frame) })}
        data-place={props.place}
      />
      {size && viewport && frame >= 0 && !props.isBare && (
        <DrawingLayer
          key={view.id}
          view={view}
          clip={clip}
          frame={frame}
          size={size}
          viewport={viewport}
          isMirrored={isMirrored}
          canDraw={canDraw}
          pinchCount={pinchCount}
          at={(event) => toSource(at(event), viewport, picture, size, false)}
          beginPan={beginPan}
          movePan={movePan}
          endPan={endPan}
          onAim={(p) => loupe.current?.aim(p)}
        />
      )}
      {canDraw && size && viewport && (
        <Loupe
          ref={loupe}
          player={player}
          picture={picture}
          isMirrored={isMirrored}
          stageScale={viewport.scale}
          acrossOf={(x) => 0.5 + (viewport.panX + (x - clip.width / 2) * viewport.scale) / size.width}
          filter={filter}
        />
      )}
      {props.title && <span className="picture-title">{props.title}</span>}
      {error && <div className="picture-error">{stageWords('pictureFailed', { why: error })}</div>}
    </div>
  )
}
