import { soundDelaySeconds } from '../../../shared-core/flight/air.ts'
import { FilmReader } from '../../../shared-core/moments/film-reader.ts'
import type { FilmReading } from '../../../shared-core/moments/film-reader.ts'
import type { ImpactClaim, TellPhases } from '../../../shared-core/moments/find-swings.ts'
import type { FoundSwing } from '../../../shared-core/moments/moment.ts'
import { ratesOf, soundSlowness, swingsOfFilm } from '../../../shared-core/moments/read-swings.ts'
import { SoundBandsBuilder } from '../../../shared-core/moments/sound-bands.ts'
import type { SoundBands } from '../../../shared-core/moments/sound-bands.ts'
import { soundEnvelope } from '../../../shared-core/moments/sound-envelope.ts'
import { strikeCandidates } from '../../../shared-core/moments/strike-sound.ts'
import type { StrikeCandidate } from '../../../shared-core/moments/strike-sound.ts'
import { tempoMeasures } from '../../../shared-core/swing-measures/tempo-measures.ts'
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
  /** Error of backswing over downswing, and the standard deviation said of it. */
  tempo: { error: number; sd: number } | null
}

/** How far each may lie from the truth to be right: the aims of this world, real ms. */
export const allowedMs = { takeaway: 80, top: 50, finish: 160 }

/** Reads a made film as the library would, frames and sound handed over directly. */
export const readMadeFilm = (film: Film): FilmReading => {
  const reader = new FilmReader()
  for (const frame of film.frames()) reader.push(frame)
  return reader.finish()
}

type Sound = NonNullable<ReturnType<typeof filmSound>>
const heard = new WeakMap<Sound, Map<number, StrikeCandidate[]>>()

/** The sharp sounds of a film's sound, kept: the same film is read several times over. */
const candidatesOf = (sound: Sound, slowness: number): StrikeCandidate[] => {
  const kept = heard.get(sound) ?? new Map<number, StrikeCandidate[]>()
  heard.set(sound, kept)
  const known = kept.get(slowness) ?? strikeCandidates(soundEnvelope(sound.pcm, sound.rate * slowness))
  kept.set(slowness, known)
  return known
}

const bandsOf = ({ pcm, rate }: Sound): SoundBands => {
  const builder = new SoundBandsBuilder(rate, 0)
  builder.push(pcm)
  return builder.finish()
}

export const findInFilm = (
  film: Film,
  reading: FilmReading,
  onClaim?: (claim: ImpactClaim) => void,
  sound = filmSound(film),
  onPhases?: TellPhases,
): { swings: FoundSwing[]; captureRate: number; how: string } => {
  const rates = ratesOf(reading, { tags: {}, claimedRate: null, bands: sound && bandsOf(sound) })
  const candidates = sound ? candidatesOf(sound, soundSlowness(reading, rates)) : []
  const swings = swingsOfFilm(
    reading,
    rates,
    {
      candidates,
      isThere: sound !== null,
      delaySeconds: soundDelaySeconds(3, 20),
      audioLateSeconds: 0,
    },
    onClaim,
    onPhases,
  )
  return { swings, captureRate: rates.rate.captureRate, how: rates.rate.how }
}

/** Frames a second that the film's frames really show: half of them gone, half the rate. */
export const trueRate = (film: Film): number => {
  const { spec } = film
  if (spec.missing === 'half') return spec.captureRate / 2
  return spec.captureRate
}

/** Finds everything in a film and compares it with the truth. */
export const judgeFilm = (
  film: Film,
  reading: FilmReading = readMadeFilm(film),
  sound = filmSound(film),
): JudgedFilm => {
  const { spec, times } = film
  const { swings, captureRate, how } = findInFilm(film, reading, undefined, sound)
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
  // Two frames where frames are as close as 240 a second's, be it only in the slow part of a ramp; else one.
  const toleranceAt = (realSeconds: number) => {
    const i = film.frameAt(realSeconds)
    const next = times.slice(i + 1).find((t) => t.realSeconds > times[i]!.realSeconds)
    return next && next.realSeconds - times[i]!.realSeconds < 0.0051 ? 2 : 1
  }
  let tempo: JudgedFilm['tempo'] = null
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
        (m.name === 'impact' ? Math.abs(frames) <= toleranceAt(is!) : Math.abs(ms!) <= allowedMs[m.name])
      if (m.name === 'impact' && isRight) met.add(truths.indexOf(truth))
      moments.push({ name: m.name, confidence: m.confidence, frames, ms, isRight })
    }
    const { tempoRatio } = tempoMeasures(
      swing.moments.map((m) => ({ ...m, isConfirmed: false })),
      {
        atSeconds: times.map((t) => t.realSeconds),
        playbackRate: spec.captureRate,
        captureRate: spec.captureRate,
      },
      'file',
    )
    if (tempoRatio && truth.impact !== null) {
      tempo = { error: tempoRatio.value - top / (impact - top), sd: tempoRatio.sd }
    }
  }
  const missed = truths.filter((t, i) => t.impact !== null && !met.has(i)).length
  const isRateRight = Math.abs(captureRate / trueRate(film) - 1) < 0.05
  return { spec, rateSaid: captureRate, rateHow: how, isRateRight, moments, missed, tempo }
}
