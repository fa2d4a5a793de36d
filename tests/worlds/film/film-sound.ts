import {
  addHiss,
  addNeighbour,
  addStrike,
  addVoice,
  addWind,
  chanceFrom,
} from '../../shared-core/moments/synthetic-sound.ts'
import type { Film } from './film-frames.ts'

/** Half the width of the kernel that sound is slowed with, samples of the recording. */
const reach = 12

/** The sound played `factor` times slower, nothing above where the recording ended: windowed sinc, as editing programs do it. */
const stretchSound = (sound: Float32Array, factor: number): Float32Array => {
  const out = new Float32Array(Math.floor(sound.length * factor))
  // A whole factor needs only so many kernels.
  const kernels = Array.from({ length: factor }, (_, phase) =>
    Array.from({ length: 2 * reach }, (_, j) => {
      const x = j - reach + 1 - phase / factor
      const window = 0.5 + 0.5 * Math.cos((Math.PI * x) / (reach + 1))
      return (x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x)) * window
    }),
  )
  for (let i = 0; i < out.length; i++) {
    const kernel = kernels[i % factor]!
    const first = Math.floor(i / factor) - reach + 1
    let sum = 0
    for (let j = 0; j < kernel.length; j++) sum += kernel[j]! * (sound[first + j] ?? 0)
    out[i] = sum
  }
  return out
}

/** The sound of a film as the file carries it: mono samples from the file's time zero. Null where it has none. */
export const filmSound = (film: Film): { pcm: Float32Array; rate: number } | null => {
  const { spec, times } = film
  const { sound } = spec
  if (!sound.has) return null
  const chance = chanceFrom(spec.seed * 131 + 7)
  const { rate } = sound
  const pcm = new Float32Array(Math.ceil((times.at(-1)!.realSeconds + 0.2) * rate))
  addWind(pcm, rate, sound.wind, chance)
  addHiss(pcm, sound.hiss, chance)
  if (sound.voice) addVoice(pcm, rate, 0.05, spec.seconds * 0.7, sound.gain * 0.3, chance)
  const metresPerSecond = 343.2
  for (const impact of film.impactsSeconds) {
    addStrike(
      pcm,
      rate,
      impact + sound.microphoneM / metresPerSecond + sound.lateSeconds,
      sound.gain,
      chance,
      sound.strike,
    )
    if (spec.net && chance() < 0.6) {
      addStrike(
        pcm,
        rate,
        impact + 2.6 / spec.motion.spec.ballSpeedMps + 0.012,
        sound.gain * 0.4,
        chance,
        'iron',
      )
    }
  }
  for (const at of sound.bangsAtSeconds) addNeighbour(pcm, rate, at, sound.gain * sound.bangGain, chance)
  if (spec.timeBase === 'plain') return { pcm, rate }
  // Slowed along with the picture, piece by piece where the slowness changes.
  const out: number[] = []
  const slow = spec.captureRate / spec.playbackRate
  if (spec.timeBase === 'slowed') return { pcm: stretchSound(pcm, slow), rate }
  const piece = (from: number, to: number, factor: number) => {
    for (const v of stretchSound(pcm.subarray(Math.round(from * rate), Math.round(to * rate)), factor)) {
      out.push(v)
    }
  }
  piece(0, spec.slowFromSeconds, 1)
  piece(spec.slowFromSeconds, spec.slowToSeconds, slow)
  piece(spec.slowToSeconds, pcm.length / rate, 1)
  return { pcm: Float32Array.from(out), rate }
}
