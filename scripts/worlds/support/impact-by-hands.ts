import type { BodyTrack } from '../../../shared-core/body/body-track.ts'
import { returnInView, weighImpact, type ToldImpact } from '../../../shared-core/body/impact-by-hands.ts'
import { jointCount } from '../../../shared-core/body/joints.ts'
import { framesAllowed } from '../../../shared-core/moments/strike-frame.ts'
import { frameAfter, type ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import type { BodyClip, BodyFilm } from './body-film.ts'
import { share, worldTable } from './world.ts'

/** What the hands told of the impact of one film at one rate, its sound and ball taken away. */
export interface HandsTold {
  readonly rate: number
  readonly isFaceOn: boolean
  readonly isFigure: boolean
  /** The return against the strike, real seconds; null where none was seen. */
  readonly seen: { readonly error: number; readonly sd: number } | null
  /** The impact proposed where nothing was told, and where the motion told one at 30 %. */
  readonly alone: HandsFrame | null
  readonly withMotion: HandsFrame | null
}

interface HandsFrame {
  readonly isRight: boolean
  readonly confidence: number
}

/** The read frames nearest to those of a clip of fewer frames a second, as that clip. */
const thinned = (
  track: BodyTrack,
  times: ClipTimes,
  rate: number,
): { track: BodyTrack; times: ClipTimes } => {
  const second = (k: number) => times.atSeconds[track.frames[k]!]!
  const all = Array.from(track.frames, (_, k) => k)
  const kept = [
    ...new Set(
      Array.from({ length: Math.ceil(times.atSeconds[times.atSeconds.length - 1]! * rate) }, (_, i) => {
        const nearest = all.reduce((a, b) =>
          Math.abs(second(b) - i / rate) < Math.abs(second(a) - i / rate) ? b : a,
        )
        return Math.abs(second(nearest) - i / rate) < 0.5 / rate ? [nearest] : []
      }).flat(),
    ),
  ].sort((a, b) => a - b)
  const width = jointCount * 3
  return {
    track: {
      frames: Int32Array.from(kept, (_, i) => i),
      points: Float32Array.from(
        kept.flatMap((k) => Array.from(track.points.subarray(k * width, (k + 1) * width))),
      ),
    },
    times: { atSeconds: Float64Array.from(kept, second), playbackRate: rate, captureRate: rate },
  }
}

const mute = { isBallSeen: false, isSoundRecorded: false }

/** Impact by the hands' return in a read film at its own rate, and thinned out to 30 and 15 frames a second. */
export const impactByHands = (film: BodyFilm, track: BodyTrack, filmed: BodyClip): HandsTold[] =>
  [film.captureRate, ...[30, 15].filter((rate) => rate < film.captureRate)].map((rate) => {
    const own =
      rate === film.captureRate ? { track, times: filmed.times } : thinned(track, filmed.times, rate)
    const { times } = own
    const last = times.atSeconds.length - 1
    const side = film.isLeftHanded ? ('left' as const) : ('right' as const)
    const view = { fromFrame: 0, toFrame: last }
    const seen = returnInView({ ...own, side, tiltDeg: 0, isRateGuessed: false }, view)
    const zero = filmed.startSeconds + times.atSeconds[0]!
    const struckAt = film.moments.impact - zero
    const struck = frameAfter(times, 0, struckAt)
    const frame = (told: ToldImpact | undefined): HandsFrame | null => {
      const found = seen && weighImpact(seen, told, mute)
      return (
        found && {
          isRight: Math.abs(found.frame - struck) <= framesAllowed(1 / rate),
          confidence: found.confidence,
        }
      )
    }
    // The motion is as far off here as it is with the top.
    const off = frameAfter(times, 0, struckAt + film.found.top - film.moments.top)
    return {
      rate,
      isFaceOn: film.view === 'face-on',
      isFigure: film.ballAt !== null,
      seen: seen && { error: seen.atSeconds - struckAt, sd: seen.sdSeconds },
      alone: frame(undefined),
      withMotion: frame({ name: 'impact', frame: off, how: 'motion', confidence: 0.3, isConfirmed: false }),
    }
  })

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? NaN

/** How near the return lies to the strike, and how often the frame that is proposed is right, by rate. */
export const impactTable = (all: readonly HandsTold[]): string => {
  const kinds: [string, (h: HandsTold) => boolean][] = [
    ...[...new Set(all.map((h) => h.rate))]
      .sort((a, b) => b - a)
      .map((rate): [string, (h: HandsTold) => boolean] => [`${rate}/s`, (h) => h.rate === rate]),
    ['figure face on', (h) => h.isFigure && h.isFaceOn],
    ['figure down the line', (h) => h.isFigure && !h.isFaceOn],
    ['captured', (h) => !h.isFigure],
  ]
  const right = (frames: readonly HandsFrame[]) => frames.filter((f) => f.isRight).length
  return worldTable(
    [
      'impact by hands',
      'films',
      'seen',
      'median error',
      'median signed',
      'within 2 sd said',
      'frame right, with the motion',
      'of those said at 50 %',
      'nothing told: of those said at 50 %',
    ],
    kinds.flatMap(([name, isOwn]) => {
      const own = all.filter(isOwn)
      if (own.length === 0) return []
      const seen = own.flatMap((h) => (h.seen ? [h.seen] : []))
      const of = (which: 'alone' | 'withMotion') => own.flatMap((h) => h[which] ?? [])
      const sure = (frames: readonly HandsFrame[]) => frames.filter((f) => f.confidence >= 0.5)
      return [
        [
          ...[name, own.length, seen.length],
          `${(1000 * median(seen.map((s) => Math.abs(s.error)))).toFixed(1)} ms`,
          `${(1000 * median(seen.map((s) => s.error))).toFixed(1)} ms`,
          share(seen.filter((s) => Math.abs(s.error) <= 2 * s.sd).length, seen.length),
          share(right(of('withMotion')), own.length),
          `${right(sure(of('withMotion')))}/${sure(of('withMotion')).length}`,
          `${right(sure(of('alone')))}/${sure(of('alone')).length}`,
        ],
      ]
    }),
  )
}

const steps = [0.8, 0.65, 0.5, 0]

/** How often the proposed frame is right of those said at a confidence. */
export const impactReliability = (all: readonly HandsTold[]): string =>
  worldTable(
    ['impact by hands', ...steps.map((low) => (low === 0 ? 'below' : `said ${100 * low} % and more`))],
    (
      [
        ['nothing told', 'alone'],
        ['motion told at 30 %', 'withMotion'],
      ] as const
    ).map(([name, which]) => [
      name,
      ...steps.map((low, i) => {
        const there = all
          .flatMap((h) => h[which] ?? [])
          .filter((f) => f.confidence >= low && f.confidence < (steps[i - 1] ?? 2))
        return there.length === 0 ? '–' : `${there.filter((f) => f.isRight).length}/${there.length}`
      }),
    ]),
  )
