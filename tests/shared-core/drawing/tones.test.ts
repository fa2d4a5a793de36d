import { describe, expect, it } from 'vitest'
import { toneNames, tones } from '../../../shared-core/drawing/tones.ts'

type Rgb = readonly [number, number, number]

const linear = (byte: number): number => {
  // sRGB transfer function, IEC 61966-2-1.
  const v = byte / 255
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4
}
const rgbOf = (hex: string): Rgb =>
  [1, 3, 5].map((i) => linear(Number.parseInt(hex.slice(i, i + 2), 16))) as unknown as Rgb
const times = (rows: readonly Rgb[], [r, g, b]: Rgb): Rgb =>
  rows.map((row) => row[0] * r + row[1] * g + row[2] * b) as unknown as Rgb

const luminance = ([r, g, b]: Rgb): number => 0.2126 * r + 0.7152 * g + 0.0722 * b

/** CIE 1976 L*a*b*, D65 white (CIE 15). */
const lab = (rgb: Rgb): Rgb => {
  const [x, y, z] = times(
    [
      [0.4124, 0.3576, 0.1805],
      [0.2126, 0.7152, 0.0722],
      [0.0193, 0.1192, 0.9505],
    ],
    rgb,
  )
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116)
  const [fx, fy, fz] = [f(x / 0.9505), f(y), f(z / 1.089)]
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)]
}

// Machado, Oliveira, Fernandes, "A physiologically-based model for simulation of color vision deficiency",
// IEEE TVCG 15 (2009) 1291-1298, severity 1.0; from memory, so each row is checked to keep greys grey.
const visions: Readonly<Record<string, readonly Rgb[]>> = {
  full: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
}

const contrast = (a: Rgb, b: Rgb): number => {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number]
  return (high + 0.05) / (low + 0.05)
}

describe('the tones', () => {
  it.each(Object.keys(visions))('stay apart with %s colour vision', (name) => {
    const seen = (hex: string): Rgb =>
      lab(times(visions[name]!, rgbOf(hex)).map((v) => Math.min(1, Math.max(0, v))) as unknown as Rgb)
    for (const row of visions[name]!) expect(row[0] + row[1] + row[2]).toBeCloseTo(1, 3)
    toneNames.forEach((one, i) => {
      for (const other of toneNames.slice(i + 1)) {
        const [a, b] = [seen(tones[one].hex), seen(tones[other].hex)]
        const apart = Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])
        // 2.3 is a just noticeable difference (Mahy et al. 1994); 15 is plainly another colour (common practice).
        expect(apart, `${one} and ${other}`).toBeGreaterThan(15)
      }
    })
  })

  it('have a casing with a contrast of 3 to 1 or more (WCAG 2.2, 1.4.11, for graphics)', () => {
    for (const name of toneNames) {
      expect(contrast(rgbOf(tones[name].hex), rgbOf(tones[name].casing)), name).toBeGreaterThan(3)
    }
  })

  it('step down in lightness, so that they stay apart on a grey print', () => {
    const lightness = toneNames.map((name) => lab(rgbOf(tones[name].hex))[0])
    lightness.slice(1).forEach((value, i) => expect(lightness[i]! - value).toBeGreaterThan(7))
  })
})
