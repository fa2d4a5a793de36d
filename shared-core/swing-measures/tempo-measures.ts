import { captureRateSources } from '../model/entities.ts'
import { realSecondsBetween, type ClipTimes } from '../timing/clip-clock.ts'
import { between, frameSdSeconds, tempo, type Mark } from '../timing/tempo.ts'
import type { MeasuredValues } from './measured-swing.ts'
import { said } from '../wording/phrase.ts'

/** A moment on its frame. */
export interface MarkedMoment {
  readonly name: string
  readonly frame: number
  readonly how: string
  readonly isConfirmed: boolean
}

export type CaptureRateHow = (typeof captureRateSources)[number]

/**
 * How unsure a clip's slowness is, one standard deviation as a share. What the coach, the file or its tag says is a rate set by
 * a clock (cameras keep it within 0.2 %, from memory). What was guessed from the motion is right or a step off; as one number we
 * take a tenth, our own choice.
 */
export const stretchSdShareOf = (how: CaptureRateHow): number => (isGuessed(how) ? 0.1 : 0.002)

/** Nobody has said how fast was filmed: neither the coach nor the file. */
export const isGuessed = (how: CaptureRateHow): boolean => how === 'motion' || how === 'assumed'

/**
 * What the program's own marks miss by, beyond the frame, until a coach has looked at them: one standard deviation in real
 * seconds. Takeaway and top: four in five of the made films of the tuning seeds (scripts/fit-moments.ts) lay within 89 and 44 ms,
 * which is 1.28 standard deviations; `npm run worlds -- moments` prints how often the ratio lies within what is said on others. Brace: scripts/worlds/body.ts.
 */
const foundSdSeconds: Readonly<Record<string, number>> = { takeaway: 0.07, top: 0.034, brace: 0.03 }

/** The same with the body's points as second witness, where they are not there to say it themselves (scripts/worlds/body.ts). */
const bodySdSeconds: Readonly<Record<string, number>> = {
  ...{ takeaway: 0.035, top: 0.016, brace: 0.045 },
  // By the hands' return, where neither ball nor sound told it.
  impact: 0.01,
}

const markOf = (moment: MarkedMoment, times: ClipTimes, within: MarksWithin): Mark => {
  const { frame, name } = moment
  // A frame lasts until the next; in a file of variable rate each its own time.
  const last = times.atSeconds.length - 1
  const neighbour = frame < last ? frame + 1 : Math.max(0, frame - 1)
  const frameSeconds = Math.abs(realSecondsBetween(times, frame, neighbour))
  const atSeconds = realSecondsBetween(times, 0, frame)
  const frameSd = frameSdSeconds(frameSeconds)
  if (isStruckAfter(moment) && within.marks.impact) {
    const { atSeconds: after, sdSeconds } = within.marks.impact
    return { atSeconds: atSeconds + after, sdSeconds }
  }
  if (moment.how === 'coach' || moment.isConfirmed) {
    // Confirmed is not moved: the program's impact is the last frame before the ball moves, half a frame early in the middle.
    return { atSeconds: atSeconds + (isStruckAfter(moment) ? frameSeconds / 2 : 0), sdSeconds: frameSd }
  }
  const own = name === 'takeaway' || name === 'top' ? within.marks[name] : undefined
  if (own) return { atSeconds: within.impactSeconds + own.atSeconds, sdSeconds: own.sdSeconds }
  const found = moment.how === 'body' ? bodySdSeconds : foundSdSeconds
  return {
    atSeconds: atSeconds + (isStruckAfter(moment) ? frameSeconds / 2 : 0),
    sdSeconds: Math.hypot(frameSd, found[name] ?? 0),
  }
}

const isStruckAfter = (moment: MarkedMoment): boolean => moment.name === 'impact' && moment.how !== 'coach'

interface MarksWithin {
  /** Real seconds of the impact frame. */
  readonly impactSeconds: number
  readonly marks: { readonly takeaway?: Mark; readonly top?: Mark; readonly impact?: Mark }
}

/**
 * Tempo and brace of one view, from its moments. A value whose moments are not marked is not there.
 *
 * @param marks takeaway and top within their frames, by the body, and impact within its own, by the sound (`strikeInstant`); real
 *   seconds from the impact frame's own time
 */
export const tempoMeasures = (
  moments: readonly MarkedMoment[],
  times: ClipTimes,
  captureRateHow: CaptureRateHow,
  marks: MarksWithin['marks'] = {},
): MeasuredValues => {
  const struck = moments.find((m) => m.name === 'impact')
  const impactSeconds = struck ? realSecondsBetween(times, 0, struck.frame) : 0
  const mark = (name: string): Mark | null => {
    const moment = moments.find((m) => m.name === name)
    return moment ? markOf(moment, times, { impactSeconds, marks }) : null
  }
  const [takeaway, top, brace, impact] = ['takeaway', 'top', 'brace', 'impact'].map(mark)
  const stretchSd = stretchSdShareOf(captureRateHow)
  const found = takeaway && top && impact ? tempo({ takeaway, top, impact }, stretchSd) : null
  const braced = brace && impact ? between(brace, impact, stretchSd) : null
  return {
    ...(found && {
      tempoRatio: found.ratio,
      backswingSeconds: found.backswingSeconds,
      downswingSeconds: found.downswingSeconds,
    }),
    ...(braced && { braceBeforeImpactSeconds: braced }),
  }
}

/** What the durations rest on, where that is a guess. */
export const tempoRemarks = (
  moments: readonly MarkedMoment[],
  captureRate: number,
  captureRateHow: CaptureRateHow,
  isSlowInPart = false,
): string[] => {
  const unseen = ['takeaway', 'top', 'impact', 'brace'].filter((name) =>
    moments.some((m) => m.name === name && m.how !== 'coach' && !m.isConfirmed),
  )
  return [
    ...(isGuessed(captureRateHow)
      ? [said(isSlowInPart ? 'tempo.guessedPart' : 'tempo.guessedRate', { rate: Math.round(captureRate) })]
      : []),
    ...(unseen.length > 0 ? [said('tempo.notLookedAt', { moments: unseen.join(', ') })] : []),
  ]
}
