import {
  useCallback,
  useEffect,
  useLayoutEffect,
  useRef,
  useState,
  type PointerEvent as ReactPointerEvent,
  type RefObject,
} from 'react'
import type { Clip, Moment, View } from '../../../shared-core/model/entities.ts'
import { stripLayout } from '../../../shared-core/model/strip-layout.ts'
import { msFromImpact, type ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { ask, mediaUrl } from '../../store/bridge.ts'
import { impactOf, useDesk } from '../../store/desk-store.ts'
import { drawingsOf } from '../../store/drawings.ts'
import { jumpToMoment, momentTitle, moveMoment } from '../../store/moments.ts'
import { setLoop, showFrame } from '../../store/stage-control.ts'
import { signedMs } from '../../../shared-core/timing/signed-ms.ts'
import { stripWords } from '../../../shared-core/wording/window/strip.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { flagRows, flagWidthPx, roomsInRows, type FlagRoom } from './flag-room.ts'
import { niceTicks } from './ticks.ts'
import './strip.css'

/** From one row of flags to the next. */
const rowPx = 22

interface Peaks {
  binSeconds: number
  min: number[]
  max: number[]
}

/** The time line: sound, thumbnails, moments as flags, milliseconds from impact, where drawings and cues are. */
export function Strip(props: {
  view: View
  clip: Clip
  times: ClipTimes | null
  /** It is still being taken in: its moments, its sound and its thumbnails come with its swing. */
  isArriving: boolean
  /** A swing of another lesson: its moments are looked at here, and moved there. */
  isGuest: boolean
}) {
  const { view, clip, isArriving, isGuest } = props
  // Before it is known how fast the camera was, no time is said.
  const times = isArriving ? null : props.times
  const box = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  const [range, setRange] = useState({ from: view.fromFrame, to: view.toFrame })
  const [peaks, setPeaks] = useState<Peaks | null>(null)
  const [dragged, setDragged] = useState<{ id: string; frame: number } | null>(null)
  const loop = useDesk((s) => s.loop)
  const selectedMomentId = useDesk((s) => s.selectedMomentId)
  const impact = impactOf(view)

  useLayoutEffect(() => {
    const element = box.current!
    const observer = new ResizeObserver(() => setWidth(element.clientWidth))
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  useEffect(() => {
    if (!clip.hasSound || isArriving) return
    let isGone = false
    ask('clip.soundPeaks', { id: clip.id })
      .then((answer) => !isGone && setPeaks(answer))
      // Without its sound wave the Strip still works.
      .catch(() => {})
    return () => {
      isGone = true
    }
  }, [clip.id, clip.hasSound, isArriving])
  // The film that was looked at turns out to hold several swings.
  const { fromFrame, toFrame } = view
  const [whole, setWhole] = useState({ fromFrame, toFrame })
  if (whole.fromFrame !== fromFrame || whole.toFrame !== toFrame) {
    setWhole({ fromFrame, toFrame })
    setRange({ from: fromFrame, to: toFrame })
  }

  const span = Math.max(1, range.to - range.from)
  const xOf = useCallback((f: number) => ((f - range.from) / span) * width, [range.from, span, width])
  const frameOfX = (x: number) =>
    Math.max(view.fromFrame, Math.min(view.toFrame, Math.round(range.from + (x / Math.max(1, width)) * span)))
  const frameOf = (event: { clientX: number }) =>
    frameOfX(event.clientX - box.current!.getBoundingClientRect().left)

  // Wheel zooms the Strip around the pointer; sideways it moves along.
  const latest = useRef({ range, width })
  useEffect(() => {
    latest.current = { range, width }
  })
  useEffect(() => {
    const element = box.current!
    const wheel = (event: WheelEvent) => {
      event.preventDefault()
      const { range: now, width: w } = latest.current
      const length = now.to - now.from
      const whole = view.toFrame - view.fromFrame
      const sideways = event.shiftKey ? event.deltaY : event.deltaX
      if (Math.abs(sideways) > Math.abs(event.shiftKey ? 0 : event.deltaY)) {
        const by = Math.round((sideways / w) * length)
        const from = Math.max(view.fromFrame, Math.min(view.toFrame - length, now.from + by))
        setRange({ from, to: from + length })
        return
      }
      const next = Math.round(
        Math.max(Math.min(20, whole), Math.min(whole, length * Math.exp(event.deltaY * 0.0015))),
      )
      const share = (event.clientX - element.getBoundingClientRect().left) / w
      const at = now.from + share * length
      const from = Math.round(Math.max(view.fromFrame, Math.min(view.toFrame - next, at - share * next)))
      setRange({ from, to: from + next })
    }
    element.addEventListener('wheel', wheel, { passive: false })
    return () => element.removeEventListener('wheel', wheel)
  }, [view.fromFrame, view.toFrame])

  const scrub = useRef<number | null>(null)
  const down = (event: ReactPointerEvent) => {
    if (event.button !== 0) return
    event.currentTarget.setPointerCapture(event.pointerId)
    scrub.current = frameOf(event)
    if (!event.shiftKey) showFrame(scrub.current)
  }
  const move = (event: ReactPointerEvent) => {
    if (scrub.current === null) return
    const to = frameOf(event)
    if (event.shiftKey) setLoop(Math.min(scrub.current, to), Math.max(scrub.current, to))
    else showFrame(to)
  }
  const up = () => {
    scrub.current = null
  }

  const flags = view.moments
    .map((moment) => ({ moment, x: xOf(dragged?.id === moment.id ? dragged.frame : moment.frame) }))
    .sort((a, b) => a.x - b.x)
  const places = flags.map((flag) => flag.x)
  const rows = flagRows(
    flags.map(({ moment, x }) => ({ x, widthPx: flagWidthPx(momentTitle(moment.name)) })),
    width,
  )
  const rooms = roomsInRows(places, rows, width)
  const { drawings } = drawingsOf(view)
  const momentFrame = new Map(view.moments.map((m) => [m.id, m.frame]))
  const thumbs = stripLayout(clip.frameCount)
  const isZoomed = range.from !== view.fromFrame || range.to !== view.toFrame
  return (
    <section className="strip" aria-label={stripWords('strip')}>
      <div className="strip-flags" style={{ height: 26 + rowPx * Math.max(0, ...rows) }}>
        {isArriving && (
          <p className="strip-arriving" role="status">
            {stripWords('beingRead')}
          </p>
        )}
        {flags.map(({ moment, x }, i) =>
          rows[i]! > 0 ? (
            <div
              key={moment.id}
              className={`flag-leader${moment.isConfirmed ? '' : ' is-unconfirmed'}`}
              style={{ left: rooms[i]!.isAtEnd ? x - 2 : x, height: 2 + rowPx * rows[i]! }}
            />
          ) : null,
        )}
        {flags.map(({ moment, x }, i) => (
          <Flag
            key={moment.id}
            moment={moment}
            viewId={view.id}
            x={x}
            room={rooms[i]!}
            row={rows[i]!}
            isSelected={moment.id === selectedMomentId}
            isFixed={isGuest}
            carries={[
              counted('drawings', drawings.filter((d) => d.momentId === moment.id).length),
              counted('cues', view.cues.filter((c) => c.momentId === moment.id).length),
            ]}
            when={
              times && impact && moment.name !== 'impact'
                ? stripWords('ms', { ms: signedMs(msFromImpact(times, impact.frame, moment.frame)) })
                : null
            }
            frameOfX={frameOfX}
            limits={{ first: view.fromFrame, last: view.toFrame }}
            onDrag={(f) => setDragged(f === null ? null : { id: moment.id, frame: f })}
          />
        ))}
      </div>
      <div
        ref={box}
        className="strip-line"
        role="slider"
        tabIndex={0}
        aria-label={stripWords('time')}
        aria-valuemin={view.fromFrame}
        aria-valuemax={view.toFrame}
        aria-valuenow={view.fromFrame}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={up}
        onDoubleClick={() => setRange({ from: view.fromFrame, to: view.toFrame })}
      >
        {isArriving ? (
          <div className="strip-thumbs" aria-hidden />
        ) : (
          <Thumbs clip={clip} range={range} width={width} every={thumbs.every} count={thumbs.count} />
        )}
        <Wave
          peaks={peaks}
          times={times}
          range={range}
          width={width}
          hasSound={clip.hasSound || isArriving}
        />
        {loop && (
          <div
            className="strip-loop"
            style={{ left: xOf(loop.from), width: Math.max(2, xOf(loop.to) - xOf(loop.from)) }}
          />
        )}
        {drawings.map((d) => (
          <div
            key={d.id}
            className="strip-drawing"
            style={{ left: xOf(d.fromFrame) - 2, width: Math.max(4, xOf(d.toFrame) - xOf(d.fromFrame) + 4) }}
          />
        ))}
        {view.cues.map((c) => {
          const at = momentFrame.get(c.momentId)
          return at === undefined ? null : (
            <div key={c.id} className="strip-cue" style={{ left: xOf(at) - 3 }} />
          )
        })}
        {view.moments.map((m) => (
          <div
            key={m.id}
            className={`strip-moment${m.isConfirmed ? '' : ' is-unconfirmed'}`}
            style={{ left: xOf(dragged?.id === m.id ? dragged.frame : m.frame) }}
          />
        ))}
        <Playhead xOf={xOf} slider={box} />
      </div>
      <Ticks view={view} times={times} range={range} width={width} impactFrame={impact?.frame ?? null} />
      {isZoomed && (
        <span className="unseen">{stripWords('shownFrames', { from: range.from, to: range.to })}</span>
      )}
    </section>
  )
}

/** The playhead, and the slider's value with it; apart from the rest so that only this follows every frame. */
function Playhead(props: { xOf: (frame: number) => number; slider: RefObject<HTMLDivElement | null> }) {
  const frame = useDesk((s) => s.frame)
  useLayoutEffect(() => {
    if (frame < 0) return
    props.slider.current?.setAttribute('aria-valuenow', String(frame))
    props.slider.current?.setAttribute('aria-valuetext', commonWords('frame', { frame }))
  })
  return frame < 0 ? null : (
    <div className="strip-playhead" style={{ transform: `translateX(${props.xOf(frame)}px)` }} />
  )
}

const counted = (what: 'drawings' | 'cues', count: number) =>
  count === 0 ? null : stripWords(what, { count })

function Flag(props: {
  moment: Moment
  viewId: string
  x: number
  /** A name that does not fit ends in …, and is shown in full when pointed at. */
  room: FlagRoom
  /** 0 is the lowest; above it a line leads down to its place. */
  row: number
  isSelected: boolean
  isFixed: boolean
  /** "2 drawings", "1 cue". */
  carries: (string | null)[]
  when: string | null
  limits: { first: number; last: number }
  frameOfX: (x: number) => number
  onDrag: (frame: number | null) => void
}) {
  const { moment, viewId, limits, room } = props
  const start = useRef<{ x: number; frame: number; footX: number } | null>(null)
  const current = useRef(moment.frame)
  const sure = stripWords('sure', { percent: Math.round(moment.confidence * 100) })
  const label = [
    moment.isConfirmed
      ? momentTitle(moment.name)
      : stripWords('notConfirmed', { moment: momentTitle(moment.name), sure }),
    moment.name === 'impact' && moment.how === 'body' && !moment.isConfirmed && moment.confidence >= 0.5
      ? stripWords('byHands')
      : null,
    commonWords('frame', { frame: moment.frame }),
    props.when ? stripWords('fromImpact', { time: props.when }) : null,
    ...props.carries,
  ]
    .filter(Boolean)
    .join(', ')
  return (
    <button
      className={`flag${moment.isConfirmed ? '' : ' is-unconfirmed'}${props.isSelected ? ' is-selected' : ''}${room.isAtEnd ? ' is-at-end' : ''}${room.isNarrow ? ' is-narrow' : ''}`}
      style={{
        bottom: 2 + rowPx * props.row,
        left: props.x,
        maxWidth: room.roomPx === Infinity ? undefined : Math.max(8, room.roomPx),
      }}
      aria-label={label}
      title={label}
      onClick={(event) => {
        if (start.current) return
        // From where the playhead is to this moment, and round again.
        const { frame } = useDesk.getState()
        if (event.shiftKey) setLoop(Math.min(frame, moment.frame), Math.max(frame, moment.frame))
        else jumpToMoment(moment)
      }}
      onKeyDown={(event) => {
        const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key]
        if (by === undefined || event.altKey || props.isFixed) return
        event.preventDefault()
        event.stopPropagation()
        const to = moment.frame + by * (event.shiftKey ? 10 : 1)
        const frame = Math.max(limits.first, Math.min(limits.last, to))
        showFrame(frame)
        void moveMoment(viewId, moment.id, frame)
      }}
      onPointerDown={(event) => {
        if (props.isFixed) return
        event.currentTarget.setPointerCapture(event.pointerId)
        // The flag is held where it was taken: at its name, its foot stays as far away.
        start.current = { x: event.clientX, frame: moment.frame, footX: props.x }
        current.current = moment.frame
      }}
      onPointerMove={(event) => {
        const from = start.current
        if (!from || (Math.abs(event.clientX - from.x) < 4 && current.current === from.frame)) return
        current.current = props.frameOfX(from.footX + event.clientX - from.x)
        props.onDrag(current.current)
        showFrame(current.current)
      }}
      onPointerUp={() => {
        const from = start.current
        start.current = null
        if (!from) return
        if (current.current !== from.frame) {
          void moveMoment(viewId, moment.id, current.current).finally(() => props.onDrag(null))
        } else props.onDrag(null)
      }}
      onPointerCancel={() => {
        start.current = null
        props.onDrag(null)
      }}
    >
      {/* The space keeps what is read apart; the row leaves it out. */}
      <span className="flag-name">{momentTitle(moment.name)}</span>{' '}
      {!moment.isConfirmed && <span className="flag-sure">{sure}</span>}
    </button>
  )
}

function Thumbs(props: {
  clip: Clip
  range: { from: number; to: number }
  width: number
  every: number
  count: number
}) {
  const { clip, range, width, every, count } = props
  const aspect = clip.width / clip.height
  const cell = Math.max(18, Math.round(58 * aspect))
  const cells = Math.max(1, Math.ceil(width / cell))
  return (
    <div className="strip-thumbs" aria-hidden>
      {Array.from({ length: cells }, (_, i) => {
        const frame = range.from + ((i + 0.5) / cells) * (range.to - range.from)
        const place = Math.max(0, Math.min(count - 1, Math.round(frame / every)))
        const share = count > 1 ? (place / (count - 1)) * 100 : 0
        return (
          <div
            key={i}
            style={{
              backgroundImage: `url("${mediaUrl(clip.id, 'strip')}")`,
              backgroundSize: `${count * 100}% 100%`,
              backgroundPosition: `${share}% 0`,
            }}
          />
        )
      })}
    </div>
  )
}

function Wave(props: {
  peaks: Peaks | null
  times: ClipTimes | null
  range: { from: number; to: number }
  width: number
  hasSound: boolean
}) {
  const { peaks, times, range, width, hasSound } = props
  const canvas = useRef<HTMLCanvasElement>(null)
  const height = 34
  useEffect(() => {
    const target = canvas.current
    if (!target || width === 0) return
    const density = devicePixelRatio
    target.width = Math.round(width * density)
    target.height = Math.round(height * density)
    const context = target.getContext('2d')!
    context.clearRect(0, 0, target.width, target.height)
    if (!peaks || !times || peaks.max.length === 0) return
    context.fillStyle = getComputedStyle(target).getPropertyValue('--wave')
    const at = (x: number) => {
      const frame = range.from + (x / target.width) * (range.to - range.from)
      const low = Math.max(0, Math.min(times.atSeconds.length - 1, Math.floor(frame)))
      const high = Math.min(times.atSeconds.length - 1, low + 1)
      const a = times.atSeconds[low] ?? 0
      return a + ((times.atSeconds[high] ?? a) - a) * (frame - low)
    }
    let loudest = 0.05
    for (let i = 0; i < peaks.max.length; i++) loudest = Math.max(loudest, peaks.max[i]!, -peaks.min[i]!)
    const middle = target.height / 2
    for (let x = 0; x < target.width; x++) {
      const from = Math.max(0, Math.floor(at(x) / peaks.binSeconds))
      const to = Math.max(from + 1, Math.ceil(at(x + 1) / peaks.binSeconds))
      let top = 0
      let bottom = 0
      for (let i = from; i < to && i < peaks.max.length; i++) {
        top = Math.max(top, peaks.max[i]!)
        bottom = Math.min(bottom, peaks.min[i]!)
      }
      const up = (top / loudest) * middle
      const down = (-bottom / loudest) * middle
      context.fillRect(x, middle - up, 1, Math.max(1, up + down))
    }
  }, [peaks, times, range, width])
  return (
    <div className="strip-wave" style={{ height }}>
      <canvas ref={canvas} aria-hidden />
      {!hasSound && <span className="strip-silent">{stripWords('noSound')}</span>}
    </div>
  )
}

function Ticks(props: {
  view: View
  times: ClipTimes | null
  range: { from: number; to: number }
  width: number
  impactFrame: number | null
}) {
  const { view, times, range, width, impactFrame } = props
  if (!times || width === 0) return <div className="strip-ticks" />
  const origin = impactFrame ?? view.fromFrame
  const from = msFromImpact(times, origin, range.from)
  const to = msFromImpact(times, origin, range.to)
  const span = Math.max(1, range.to - range.from)
  return (
    <div className="strip-ticks" aria-hidden>
      {niceTicks(from, to, width / 90).map((ms) => {
        const x = ((to === from ? 0 : (ms - from) / (to - from)) * span * width) / span
        if (x < 22 || x > width - 22) return null
        return (
          <span key={ms} style={{ left: x }}>
            {ms === 0 && impactFrame === null ? stripWords('ms', { ms: 0 }) : signedMs(ms)}
          </span>
        )
      })}
    </div>
  )
}
