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
export const stretchSdShareOf = (how: CaptureRateHow): number =>
  how === 'motion' || how === 'assumed' ? 0.1 : 0.002

/**
 * What the program's own marks miss by, beyond the frame, until a coach has looked at them: one standard deviation in real
 * seconds. Takeaway and top: four in five of the made films of the tuning seeds (scripts/fit-moments.ts) lay within 89 and 44 ms,
 * which is 1.28 standard deviations; `npm run worlds -- moments` prints how often the ratio lies within what is said on others. Brace: an aim (30 ms median), not measured.
 */
const foundSdSeconds: Readonly<Record<string, number>> = { takeaway: 0.07, top: 0.034, brace: 0.044 }

const markOf = (moment: MarkedMoment, times: ClipTimes): Mark => {
  const { frame } = moment
  // A frame lasts until the next; in a file of variable rate each its own time.
  const last = times.atSeconds.length - 1
  const neighbour = frame < last ? frame + 1 : Math.max(0, frame - 1)
  const frameSeconds = Math.abs(realSecondsBetween(times, frame, neighbour))
  const isCoachs = moment.how === 'coach' || moment.isConfirmed
  return {
    atSeconds: realSecondsBetween(times, 0, frame),
    sdSeconds: Math.hypot(frameSdSeconds(frameSeconds), isCoachs ? 0 : (foundSdSeconds[moment.name] ?? 0)),
  }
}

/** Tempo and brace of one view, from its moments. A value whose moments are not marked is not there. */
export const tempoMeasures = (
  moments: readonly MarkedMoment[],
  times: ClipTimes,
  captureRateHow: CaptureRateHow,
): MeasuredValues => {
  const mark = (name: string): Mark | null => {
    const moment = moments.find((m) => m.name === name)
    return moment ? markOf(moment, times) : null
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
): string[] => {
  const unseen = ['takeaway', 'top', 'impact', 'brace'].filter((name) =>
    moments.some((m) => m.name === name && m.how !== 'coach' && !m.isConfirmed),
  )
  return [
    ...(captureRateHow === 'motion' || captureRateHow === 'assumed'
      ? [said('tempo.guessedRate', { rate: Math.round(captureRate) })]
      : []),
    ...(unseen.length > 0 ? [said('tempo.notLookedAt', { moments: unseen.join(', ') })] : []),
  ]
}
