/** Sounds of a range, made from chance with a given start, so that every run hears the same. */
export type Chance = () => number

/** mulberry32: small, repeatable, good enough for noise. */
export const chanceFrom = (start: number): Chance => {
  let a = start >>> 0
  return () => {
    a = (a + 0x6d2b79f5) >>> 0
    let t = a
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

export const normal = (chance: Chance): number =>
  Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance())

/**
 * A strike at `atSeconds`: a click with a rise of a tenth of a millisecond and a few ringing modes of the club head.
 * Frequencies and decay times are drawn from broad ranges (common practice, no source).
 */
export const addStrike = (
  pcm: Float32Array,
  rate: number,
  atSeconds: number,
  gain: number,
  chance: Chance,
  kind: 'driver' | 'iron' = 'driver',
): void => {
  const modes = Array.from({ length: 5 }, () => ({
    hz: (kind === 'driver' ? 2200 : 3000) + chance() * 5500,
    phase: chance() * 6.28,
    decay: kind === 'driver' ? 0.006 + chance() * 0.018 : 0.002 + chance() * 0.006,
    level: 0.15 + 0.3 * chance(),
  })).filter((m) => m.hz < rate * 0.47)
  const thump = 150 + chance() * 200
  const clickDecay = 0.0015 + chance() * 0.002
  const first = Math.max(0, Math.ceil(atSeconds * rate))
  for (let i = first; i < Math.min(pcm.length, first + rate * 0.25); i++) {
    const t = i / rate - atSeconds
    let v = normal(chance) * Math.exp(-t / clickDecay) * 0.7
    for (const m of modes) v += m.level * Math.exp(-t / m.decay) * Math.sin(6.2832 * m.hz * t + m.phase)
    v += 0.4 * Math.exp(-t / 0.02) * Math.sin(6.2832 * thump * t)
    pcm[i]! += gain * Math.min(1, t / 0.0001) * v
  }
}

/** Wind on the microphone: noise that lives below a few hundred hertz, in gusts. */
export const addWind = (pcm: Float32Array, rate: number, gain: number, chance: Chance): void => {
  let slow = 0
  let slower = 0
  const k = 1 - Math.exp((-2 * Math.PI * 250) / rate)
  let gust = 0.5
  for (let i = 0; i < pcm.length; i++) {
    slow += k * (normal(chance) - slow)
    slower += k * (slow - slower)
    if (i % Math.round(rate / 10) === 0) gust = Math.max(0.1, Math.min(1, gust + 0.3 * (chance() - 0.5)))
    pcm[i]! += gain * gust * slower * 12 * Math.sqrt(rate / 48_000)
  }
}

export const addHiss = (pcm: Float32Array, gain: number, chance: Chance): void => {
  for (let i = 0; i < pcm.length; i++) pcm[i]! += gain * normal(chance)
}

/** Speech: syllables of a buzzing voice with formants, hissing consonants, and plosives with a burst of breath. */
export const addVoice = (
  pcm: Float32Array,
  rate: number,
  fromSeconds: number,
  toSeconds: number,
  gain: number,
  chance: Chance,
): void => {
  const pitch = 100 + chance() * 130
  let t = fromSeconds
  while (t < toSeconds) {
    const long = 0.12 + chance() * 0.15
    const formants = [300 + chance() * 500, 900 + chance() * 1300, 2400 + chance() * 900]
    const consonant = chance()
    const at = Math.round(t * rate)
    const ring = formants.map(() => [0, 0])
    for (let i = 0; i < long * rate && at + i < pcm.length; i++) {
      if (at + i < 0) continue
      const s = i / rate
      const pulse = (i % Math.round(rate / pitch) === 0 ? 1 : 0) + 0.02 * normal(chance)
      let v = 0
      formants.forEach((hz, f) => {
        if (hz > rate * 0.45) return
        const r = Math.exp((-Math.PI * 90) / rate)
        const y = pulse + 2 * r * Math.cos((6.2832 * hz) / rate) * ring[f]![0]! - r * r * ring[f]![1]!
        ring[f] = [y, ring[f]![0]!]
        v += y / (1 + f)
      })
      pcm[at + i]! += gain * 0.4 * v * Math.min(1, s / 0.03) * Math.min(1, (long - s) / 0.04)
    }
    const end = Math.round((t + long) * rate)
    if (consonant < 0.4) {
      // a hissing consonant, swelling over 20 ms
      let before = 0
      for (let i = 0; i < 0.11 * rate && end + i < pcm.length; i++) {
        const s = i / rate
        const x = normal(chance)
        if (end + i >= 0) {
          pcm[end + i]! += gain * 0.25 * (x - before) * Math.min(1, s / 0.02) * Math.min(1, (0.11 - s) / 0.03)
        }
        before = x
      }
    } else if (consonant < 0.7) {
      // a plosive: up within 2 ms, breath for 40 ms
      for (let i = 0; i < 0.045 * rate && end + i < pcm.length; i++) {
        const s = i / rate
        if (end + i >= 0) {
          pcm[end + i]! += gain * 0.2 * normal(chance) * Math.min(1, s / 0.002) * Math.exp(-s / 0.025)
        }
      }
    }
    t += long + 0.05 + chance() * 0.12
  }
}

/** The strike of the next bay: farther, so its highs are weaker, and drowned in the hall's echo. */
export const addNeighbour = (
  pcm: Float32Array,
  rate: number,
  atSeconds: number,
  gain: number,
  chance: Chance,
): void => {
  const dry = new Float32Array(Math.round(rate * 0.2))
  addStrike(dry, rate, 0.001, 1, chance)
  const k = 1 - Math.exp((-2 * Math.PI * Math.min(5000, rate * 0.4)) / rate)
  let state = 0
  for (let i = 0; i < dry.length; i++) {
    state += k * (dry[i]! - state)
    dry[i] = state
  }
  const taps = Array.from({ length: 160 }, () => {
    const t = 0.004 + 0.4 * chance() ** 1.5
    return {
      at: Math.round((atSeconds + t) * rate),
      level: 0.45 * Math.exp(-t / 0.12) * (chance() < 0.5 ? -1 : 1),
    }
  })
  for (const { at, level } of [{ at: Math.round((atSeconds - 0.001) * rate), level: 1 }, ...taps]) {
    for (let i = 0; i < dry.length; i++) {
      if (at + i >= 0 && at + i < pcm.length) pcm[at + i]! += gain * level * dry[i]!
    }
  }
}
