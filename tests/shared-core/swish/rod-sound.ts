import { normal, type Chance } from '../moments/synthetic-sound.ts'

/**
 * The sound of a rod swung through the air, as the sum of the aeolian tones of its short pieces, after the published model of
 * Selfridge, Moffat and Reiss, "Sound Synthesis of Objects Swinging through Air Using Physical Models", Applied Sciences
 * 7(11):1177, 2017 (from memory): each piece is a compact dipole whose power goes with the sixth power of its speed
 * (Curle 1955; Goldstein 1976) at f = St v / d, a noise of a bandwidth that grows with the Reynolds number (after Norberg
 * 1987), with a weak tone at three times that, a wake noise and a dipole's direction. Its Strouhal number varies from piece to
 * piece and rod to rod by a few percent, which our reading does not know of.
 */
export type RodSwing = {
  diameterM: number
  /** Greatest speed of the tip, m/s. */
  tipMps: number
  /** From the pivot of arms and rod to the near end of the rod and to its tip, m. */
  nearM: number
  tipM: number
  /** When the tip is fastest, seconds. */
  peakSeconds: number
  /** Time from a half of the greatest speed to it, before and after, s. */
  riseSeconds: number
  fallSeconds: number
  /** Microphone's distance at the peak, m, and how fast that grows, m/s. */
  distanceM: number
  awayMps: number
  strouhal: number
}

/** Speed as a share of the greatest. */
export const speedShare = (swing: RodSwing, seconds: number): number => {
  const t = seconds - swing.peakSeconds
  const half = t < 0 ? swing.riseSeconds : swing.fallSeconds
  return 1 / (1 + (t / half) ** 2)
}

const pieces = 16

export const addRodSwing = (
  pcm: Float32Array,
  rate: number,
  swing: RodSwing,
  gain: number,
  chance: Chance,
): void => {
  const c = 343
  for (let p = 0; p < pieces; p++) {
    const radius = swing.nearM + ((swing.tipM - swing.nearM) * (p + 0.5)) / pieces
    const share = radius / swing.tipM
    const reynolds = (swing.tipMps * share * swing.diameterM) / 1.5e-5
    const bandwidth = 0.04 + 0.05 * Math.log10(Math.max(10, reynolds) / 100)
    const st = swing.strouhal * (1 + 0.015 * normal(chance))
    // Narrow noise: a carrier whose two slow parts wander with the tone's own memory.
    let phase = chance() * 6.2832
    let a = normal(chance)
    let b = normal(chance)
    let a3 = normal(chance)
    let b3 = normal(chance)
    let wake = 0
    for (let i = 0; i < pcm.length; i++) {
      const t = i / rate
      const v = swing.tipMps * share * speedShare(swing, t)
      if (v < 3) continue
      const distance = Math.max(0.5, swing.distanceM + swing.awayMps * (t - swing.peakSeconds))
      const hz = ((st * v) / swing.diameterM) * (1 - swing.awayMps / c)
      const keep = Math.exp((-Math.PI * bandwidth * hz) / rate)
      const push = Math.sqrt(1 - keep * keep)
      a = keep * a + push * normal(chance)
      b = keep * b + push * normal(chance)
      a3 = keep * a3 + push * normal(chance)
      b3 = keep * b3 + push * normal(chance)
      phase += (6.2832 * hz) / rate
      const k = 1 - Math.exp((-6.2832 * hz * 1.5) / rate)
      wake += k * (normal(chance) - wake)
      // Amplitude: the root of the power, v³, of a piece of this length; 40 m/s at 3 m is one.
      const amplitude = ((v / 40) ** 3 * 3) / distance / Math.sqrt(pieces)
      const tone = a * Math.cos(phase) + b * Math.sin(phase)
      const third = 0.1 * (a3 * Math.cos(3 * phase) + b3 * Math.sin(3 * phase))
      pcm[i]! += gain * amplitude * (tone + third + 0.15 * wake)
    }
  }
}
