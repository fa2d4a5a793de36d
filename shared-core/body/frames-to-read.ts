import { frameNearest, realSecondsBetween, type ClipTimes } from '../timing/clip-clock.ts'

/** Frames a swing at most: about ten seconds of one processor. */
const most = 80

interface Stretch {
  readonly from: number
  readonly to: number
  readonly rate: number
}

/**
 * The frames of a swing whose body is read: dense round setup, top and from the start of the downswing to just after impact,
 * sparse elsewhere. Without moments evenly over the range.
 */
export const framesToRead = (
  view: { fromFrame: number; toFrame: number; moments: readonly { name: string; frame: number }[] },
  times: ClipTimes,
): Int32Array => {
  const { fromFrame, toFrame } = view
  const frameOf = (name: string) => view.moments.find((m) => m.name === name)?.frame
  const impact = frameOf('impact')
  const span = realSecondsBetween(times, fromFrame, toFrame)
  if (impact === undefined) {
    const n = Math.min(most, toFrame - fromFrame + 1)
    return unique(
      Array.from(
        { length: n },
        (_, i) => fromFrame + Math.round((i * (toFrame - fromFrame)) / Math.max(1, n - 1)),
      ),
    )
  }
  const second = (frame: number) => realSecondsBetween(times, impact, frame)
  // The motion's takeaway may be a waggle: nobody takes longer back than two seconds.
  const takeaway = Math.max(
    -2.4,
    Math.min(-0.6, second(frameOf('takeaway') ?? frameOf('setup') ?? fromFrame)),
  )
  const top = frameOf('top') === undefined ? -0.27 : Math.min(-0.12, second(frameOf('top')!))
  const finish = Math.min(second(toFrame), Math.max(0.6, second(frameOf('finish') ?? toFrame)))
  // Real seconds from impact and pictures a second.
  const stretches: Stretch[] = [
    { from: takeaway - 0.35, to: top - 0.12, rate: 30 },
    { from: top - 0.12, to: top + 0.1, rate: 80 },
    { from: top + 0.1, to: -0.14, rate: 80 },
    { from: -0.14, to: 0.05, rate: 120 },
    { from: 0.05, to: 0.16, rate: 70 },
    { from: 0.16, to: 0.36, rate: 15 },
    { from: 0.36, to: Math.min(1, finish + 0.15), rate: 25 },
  ]
  const wanted = stretches.flatMap(({ from, to, rate }) =>
    to <= from || span <= 0
      ? []
      : Array.from({ length: Math.ceil((to - from) * rate) }, (_, i) => from + (i + 0.5) / rate),
  )
  const named = view.moments.map((m) => m.frame)
  const frames = [...named, ...wanted.map((s) => frameNearest(times, impact, s))].filter(
    (f) => f >= fromFrame && f <= toFrame,
  )
  return unique(frames)
}

const unique = (frames: number[]): Int32Array => Int32Array.from([...new Set(frames)].sort((a, b) => a - b))
