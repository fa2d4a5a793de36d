import { soundDelaySeconds } from '../../../shared-core/flight/air.ts'
import { FilmReader } from '../../../shared-core/moments/film-reader.ts'
import type { FilmReading } from '../../../shared-core/moments/film-reader.ts'
import type { ImpactClaim } from '../../../shared-core/moments/find-swings.ts'
import type { FoundSwing } from '../../../shared-core/moments/moment.ts'
import { ratesOf, soundSlowness, swingsOfFilm } from '../../../shared-core/moments/read-swings.ts'
import { soundEnvelope } from '../../../shared-core/moments/sound-envelope.ts'
import { strikeCandidates } from '../../../shared-core/moments/strike-sound.ts'
import { filmSound } from './film-sound.ts'
import { Film } from './film-frames.ts'
import type { FilmSpec } from './film-spec.ts'

/** One moment said, against the truth. `error` in frames and in real ms; null where the film has no such moment. */
export type JudgedMoment = {
  name: 'takeaway' | 'top' | 'impact' | 'finish'
  confidence: number
  frames: number | null
  ms: number | null
  isRight: boolean
}

export type JudgedFilm = {
  spec: FilmSpec
  rateSaid: number
  rateHow: string
  isRateRight: boolean
  moments: JudgedMoment[]
  /** Impacts in the film that nothing was said about. */
  missed: number
  tempoError: number | null
}

/** How far each may lie from the truth to be right: the aims of this world, real ms. */
const allowedMs = { takeaway: 80, top: 50, finish: 160 }

/** Reads a made film as the library would, frames and sound handed over directly. */
export const readMadeFilm = (film: Film): FilmReading => {
  const reader = new FilmReader()
  for (const frame of film.frames()) reader.push(frame)
  return reader.finish()
}

export const findInFilm = (
  film: Film,
  reading: FilmReading,
  onClaim?: (claim: ImpactClaim) => void,
): { swings: FoundSwing[]; captureRate: number; how: string } => {
  const { playbackRate, rate } = ratesOf(reading, { tags: {}, claimedRate: null })
  const slowness = rate.captureRate / playbackRate
  const sound = filmSound(film)
  const candidates = sound
    ? strikeCandidates(soundEnvelope(sound.pcm, sound.rate * soundSlowness(reading, slowness)))
    : []
  const swings = swingsOfFilm(
    reading,
    slowness,
    {
      candidates,
      delaySeconds: soundDelaySeconds(3, 20),
      audioLateSeconds: 0,
    },
    onClaim,
  )
  return { swings, captureRate: rate.captureRate, how: rate.how }
}

/** Frames a second that the film's frames really show: half of them gone, half the rate. */
export const trueRate = (film: Film): number => {
  const { spec } = film
  if (spec.missing === 'half') return spec.captureRate / 2
  return spec.captureRate
}

/** Finds everything in a film and compares it with the truth. */
export const judgeFilm = (film: Film, reading: FilmReading = readMadeFilm(film)): JudgedFilm => {
  const { spec, times } = film
  const { swings, captureRate, how } = findInFilm(film, reading)
  const moments: JudgedMoment[] = []
  const { impact, top } = spec.motion.moments
  const end = times.at(-1)!.realSeconds
  const truths = spec.swings.map((s) => ({
    swing: s,
    takeaway: s.takeawaySeconds,
    top: s.takeawaySeconds + top,
    impact: s.isStruck && s.takeawaySeconds + impact < end ? s.takeawaySeconds + impact : null,
    near: s.takeawaySeconds + impact,
  }))
  const tolerance = spec.captureRate >= 200 && spec.timeBase !== 'ramp-baked' ? 2 : 1
  let tempoError: number | null = null
  const met = new Set<number>()
  for (const swing of swings) {
    const anchor = swing.moments.find((m) => m.name === 'impact') ?? swing.moments.at(-1)!
    const at = times[anchor.frame]!.realSeconds
    const truth = truths.reduce((a, b) => (Math.abs(b.near - at) < Math.abs(a.near - at) ? b : a))
    for (const m of swing.moments) {
      if (m.name === 'setup') continue
      const real = times[m.frame]!.realSeconds
      const is =
        m.name === 'impact'
          ? truth.impact
          : m.name === 'finish'
            ? film.handsAtRest(truth.swing)
            : truth[m.name]
      const ms = is === null || is > end ? null : 1000 * (real - is)
      let frames = ms === null ? null : m.frame - film.frameAt(is!)
      // Of two frames with the same picture either is right.
      if (frames === 1 && times[m.frame - 1]!.realSeconds === real) frames = 0
      const isRight =
        frames !== null &&
        (m.name === 'impact' ? Math.abs(frames) <= tolerance : Math.abs(ms!) <= allowedMs[m.name])
      if (m.name === 'impact' && isRight) met.add(truths.indexOf(truth))
      moments.push({ name: m.name, confidence: m.confidence, frames, ms, isRight })
    }
    const real = (name: string) => {
      const m = swing.moments.find((x) => x.name === name)
      return m ? times[m.frame]!.realSeconds : null
    }
    const [a, b, c] = [real('takeaway'), real('top'), real('impact')]
    if (a !== null && b !== null && c !== null && truth.impact !== null && c > b) {
      tempoError = (b - a) / (c - b) - top / (impact - top)
    }
  }
  const missed = truths.filter((t, i) => t.impact !== null && !met.has(i)).length
  const isRateRight = Math.abs(captureRate / trueRate(film) - 1) < 0.05
  return { spec, rateSaid: captureRate, rateHow: how, isRateRight, moments, missed, tempoError }
}
