import { chance } from './chance.ts'

export const soundRate = 48_000
/** Air at 20 °C: 331.3 + 0.606·t m/s (textbook). */
export const speedOfSoundMps = 331.3 + 0.606 * 20

export type SoundPlan = {
  seconds: number
  /** Strikes of the filmed player: when the ball is hit, seconds from the first frame. */
  strikes: readonly { atSeconds: number; club: 'driver' | '7-iron'; mishit: boolean }[]
  microphoneM: number
  /** When a neighbouring bay's strike reaches the microphone, seconds from the first frame. */
  neighbourAtSeconds: number | null
  draw: number
}

/** Two-pole resonator, the building block of vowels and of a ringing club head. */
const resonator = (frequencyHz: number, bandwidthHz: number) => {
  const r = Math.exp((-Math.PI * bandwidthHz) / soundRate)
  const a1 = 2 * r * Math.cos((2 * Math.PI * frequencyHz) / soundRate)
  const a2 = -r * r
  let y1 = 0
  let y2 = 0
  return (x: number): number => {
    const y = (1 - r) * x + a1 * y1 + a2 * y2
    y2 = y1
    y1 = y
    return y
  }
}

const lowPass = (cutHz: number) => {
  const k = 1 - Math.exp((-2 * Math.PI * cutHz) / soundRate)
  let y = 0
  return (x: number): number => (y += k * (x - y))
}

/** A strike from its onset: a click, the head's ringing modes, and a short thump of the mat. */
const strike = (club: 'driver' | '7-iron', mishit: boolean, draw: number): Float32Array => {
  const { uniform, between } = chance(draw)
  const n = Math.round(0.16 * soundRate)
  const out = new Float32Array(n)
  const tone = between(0.98, 1.02)
  const modes =
    club === 'driver'
      ? [
          [2950, 0.012, 0.3],
          [4120, 0.02, 0.34],
          [5630, 0.014, 0.22],
          [7850, 0.007, 0.12],
        ]
      : [
          [1850, 0.006, 0.26],
          [3300, 0.005, 0.22],
          [6400, 0.004, 0.12],
        ]
  for (let i = 0; i < n; i++) {
    const t = i / soundRate
    let v = (uniform() * 2 - 1) * 0.62 * Math.exp(-t / 0.0016)
    v += (uniform() * 2 - 1) * (club === 'driver' ? 0.05 : 0.12) * Math.exp(-t / 0.018)
    for (const [f, tau, level] of modes) {
      const ring = mishit ? 0.55 : 1
      v += level! * ring * Math.sin(2 * Math.PI * f! * tone * (mishit ? 0.86 : 1) * t) * Math.exp(-t / tau!)
    }
    v += (club === 'driver' ? 0.1 : 0.3) * Math.sin(2 * Math.PI * 140 * t) * Math.exp(-t / 0.03)
    // Contact lasts about half a millisecond: the onset rises in a quarter of that.
    out[i] = v * Math.min(1, t / 0.00012)
  }
  return out
}

/** The sound of a clip, mono, -1 to 1, at real speed. Sample 0 is at the first frame. */
export const clipSound = (plan: SoundPlan): Float32Array => {
  const { uniform, between } = chance(plan.draw)
  const n = Math.ceil(plan.seconds * soundRate)
  const out = new Float32Array(n)
  const noise = (): number => uniform() * 2 - 1

  // Wind: low noise in slow gusts.
  const wind = lowPass(190)
  const windSoft = lowPass(420)
  const gustRate = between(0.5, 1.1)
  const gustPhase = between(0, 6)
  const hiss = lowPass(5000)
  for (let i = 0; i < n; i++) {
    const t = i / soundRate
    const gust = 0.55 + 0.45 * Math.sin(2 * Math.PI * gustRate * t + gustPhase)
    out[i] = windSoft(wind(noise())) * 0.42 * gust + hiss(noise()) * 0.006
  }

  // Babble: a buzzing source through three vowel resonances that change with every syllable.
  const vowels = [
    [730, 1090, 2440],
    [270, 2290, 3010],
    [570, 840, 2410],
    [300, 870, 2240],
    [530, 1840, 2480],
  ]
  let at = between(0, 0.5)
  while (at < plan.seconds) {
    const talk = Math.min(plan.seconds, at + between(0.5, 1.4))
    const pitch = between(105, 195)
    while (at < talk) {
      const syllable = between(0.11, 0.22)
      const vowel = vowels[Math.floor(uniform() * vowels.length)]!
      const filters = vowel.map((f, k) => resonator(f, [80, 110, 170][k]!))
      const levels = [1, 0.6, 0.3]
      const from = Math.floor(at * soundRate)
      const to = Math.min(n, Math.floor((at + syllable) * soundRate))
      let phase = 0
      const bend = between(-0.12, 0.12)
      for (let i = from; i < to; i++) {
        const s = (i - from) / (to - from)
        phase += (pitch * (1 + bend * s + 0.01 * noise())) / soundRate
        const pulse = phase >= 1 ? 1 : 0
        if (pulse) phase -= 1
        const source = pulse * 6 + noise() * 0.08
        let v = 0
        filters.forEach((filter, k) => (v += filter(source) * levels[k]!))
        out[i] = out[i]! + v * Math.sin(Math.PI * s) ** 0.7 * 0.16
      }
      at += syllable
    }
    at += between(0.35, 1.0)
  }

  const place = (sound: Float32Array, atSeconds: number, level: number): void => {
    const from = Math.round(atSeconds * soundRate)
    for (let i = 0; i < sound.length; i++) {
      const k = from + i
      if (k >= 0 && k < n) out[k] = out[k]! + sound[i]! * level
    }
  }
  plan.strikes.forEach((hit, k) => {
    const heard = hit.atSeconds + plan.microphoneM / speedOfSoundMps
    // The club's swish rises with its speed and dies after the ball.
    const low = lowPass(1400)
    const lower = lowPass(350)
    for (
      let i = Math.max(0, Math.round((heard - 0.16) * soundRate));
      i < Math.min(n, (heard + 0.09) * soundRate);
      i++
    ) {
      const u = i / soundRate - heard
      const level = u < 0 ? Math.exp(u / 0.045) : Math.exp(-u / 0.03)
      const x = low(noise())
      out[i] = out[i]! + (x - lower(x)) * 0.09 * level
    }
    place(strike(hit.club, hit.mishit, plan.draw * 31 + k), heard, (0.78 * 3) / Math.max(2, plan.microphoneM))
  })
  if (plan.neighbourAtSeconds !== null) {
    // Farther, duller, and with the roof's and walls' reverberation.
    const dry = strike('7-iron', false, plan.draw * 53 + 7)
    const length = Math.round(0.45 * soundRate)
    const wet = new Float32Array(length)
    const dull = lowPass(2600)
    const echoes = Array.from({ length: 26 }, () => [between(0.004, 0.22), between(-1, 1)] as const)
    for (let i = 0; i < length; i++) {
      let v = (dry[i] ?? 0) * 0.8
      for (const [delay, level] of echoes) {
        v += (dry[i - Math.round(delay * soundRate)] ?? 0) * level * 0.5 * Math.exp(-delay / 0.07)
      }
      wet[i] = dull(v)
    }
    place(wet, plan.neighbourAtSeconds, 0.42)
  }
  for (let i = 0; i < n; i++) out[i] = Math.tanh(out[i]! * 0.95)
  return out
}

/** The sound slowed down `factor` times, as phones do for slow motion: lower and longer (cubic between samples). */
export const stretchSound = (sound: Float32Array, factor: number): Float32Array => {
  const out = new Float32Array(Math.floor(sound.length * factor))
  for (let i = 0; i < out.length; i++) {
    const x = i / factor
    const k = Math.floor(x)
    const u = x - k
    const p0 = sound[k - 1] ?? 0
    const p1 = sound[k] ?? 0
    const p2 = sound[k + 1] ?? 0
    const p3 = sound[k + 2] ?? 0
    out[i] = p1 + 0.5 * u * (p2 - p0 + u * (2 * p0 - 5 * p1 + 4 * p2 - p3 + u * (3 * (p1 - p2) + p3 - p0)))
  }
  return out
}

/** 16-bit mono WAV. */
export const wavOf = (sound: Float32Array): Buffer => {
  const wav = Buffer.alloc(44 + sound.length * 2)
  wav.write('RIFF', 0, 'latin1')
  wav.writeUInt32LE(36 + sound.length * 2, 4)
  wav.write('WAVEfmt ', 8, 'latin1')
  wav.writeUInt32LE(16, 16)
  wav.writeUInt16LE(1, 20)
  wav.writeUInt16LE(1, 22)
  wav.writeUInt32LE(soundRate, 24)
  wav.writeUInt32LE(soundRate * 2, 28)
  wav.writeUInt16LE(2, 32)
  wav.writeUInt16LE(16, 34)
  wav.write('data', 36, 'latin1')
  wav.writeUInt32LE(sound.length * 2, 40)
  sound.forEach((v, i) => wav.writeInt16LE(Math.round(Math.max(-1, Math.min(1, v)) * 32_767), 44 + i * 2))
  return wav
}
