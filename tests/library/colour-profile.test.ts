import { expect, it } from 'vitest'
import { toSrgbFrom } from '../../electron/library/media/colour-profile.ts'
import { iccProfile, profiles } from './support/icc-profile.ts'

type Matrix = number[][]
const times = (m: Matrix, v: readonly number[]) => m.map((row) => row.reduce((s, x, i) => s + x * v[i]!, 0))

/** Inverse of a 3 × 3 matrix by cofactors. */
const inverse = (m: Matrix): Matrix => {
  const at = (r: number, c: number) => m[r % 3]![c % 3]!
  const minor = (r: number, c: number) =>
    at(r + 1, c + 1) * at(r + 2, c + 2) - at(r + 1, c + 2) * at(r + 2, c + 1)
  const det = [0, 1, 2].reduce((s, c) => s + at(0, c) * minor(0, c), 0)
  return [0, 1, 2].map((r) => [0, 1, 2].map((c) => minor(c, r) / det))
}

/** From light in a space's primaries to XYZ under D65, by its chromaticities alone (as in SMPTE RP 177). */
const toXyz = (chromaticities: readonly (readonly [number, number])[]): Matrix => {
  const columns = chromaticities.map(([x, y]) => [x / y, 1, (1 - x - y) / y])
  const asRows = [0, 1, 2].map((r) => columns.map((c) => c[r]!))
  const white = [0.3127 / 0.329, 1, (1 - 0.3127 - 0.329) / 0.329]
  const scale = times(inverse(asRows), white)
  return asRows.map((row) => row.map((v, c) => v * scale[c]!))
}
const srgb = toXyz([
  [0.64, 0.33],
  [0.3, 0.6],
  [0.15, 0.06],
])
/** SMPTE EG 432-1's primaries under D65. */
const p3 = toXyz([
  [0.68, 0.32],
  [0.265, 0.69],
  [0.15, 0.06],
])
/** Adobe RGB (1998), 4.2.2. */
const adobe = toXyz([
  [0.64, 0.33],
  [0.21, 0.71],
  [0.15, 0.06],
])
/** IEC 61966-2-1. */
const decode = (x: number) => (x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4)
const encode = (x: number) =>
  255 * Math.min(1, Math.max(0, x <= 0.0031308 ? 12.92 * x : 1.055 * x ** (1 / 2.4) - 0.055))

const levels = [0, 30, 90, 150, 200, 234, 255]
const grid = levels.flatMap((r) => levels.flatMap((g) => levels.map((b) => [r, g, b] as const)))

it.each([
  ['Display P3', profiles.displayP3, p3, decode],
  ['Adobe RGB', profiles.adobeRgb, adobe, (x: number) => x ** (563 / 256)],
] as const)(
  'colours of %s become those of sRGB, as the primaries alone say',
  (_name, profile, space, curve) => {
    const convert = toSrgbFrom(iccProfile(profile))
    if (typeof convert !== 'function') throw new Error('nothing to convert by')
    const pixels = Uint8Array.from(grid.flatMap((c) => [...c, 255]))
    convert(pixels)
    const worst = Math.max(
      ...grid.flatMap((colour, i) => {
        const light = times(
          inverse(srgb),
          times(
            space,
            colour.map((v) => curve(v / 255)),
          ),
        )
        return light.map((x, c) => Math.abs(encode(x) - pixels[4 * i + c]!))
      }),
    )
    // Half a level for rounding, and what the profile's five digits are worth near black.
    expect(worst).toBeLessThan(2)
    expect([...pixels.subarray(-4)].every((v) => v >= 254)).toBe(true)
  },
)

it('the red of sRGB is 234, 51, 35 in Display P3 (CSS Color 4: 0.9175, 0.2003, 0.1386)', () => {
  const convert = toSrgbFrom(iccProfile(profiles.displayP3))
  if (typeof convert !== 'function') throw new Error('nothing to convert by')
  const pixel = Uint8Array.from([234, 51, 35, 255])
  convert(pixel)
  expect([...pixel].map((v, i) => Math.abs(v - [255, 0, 0, 255][i]!)).every((d) => d <= 4)).toBe(true)
})

it('a profile of sRGB changes nothing; of four inks, cut off or nonsense says that it can’t be read', () => {
  expect(toSrgbFrom(iccProfile(profiles.srgb))).toBe('same')
  const whole = iccProfile(profiles.displayP3)
  expect(toSrgbFrom(iccProfile(profiles.displayP3, 'CMYK'))).toBeNull()
  for (const length of [0, 20, 130, 180, 220, whole.length - 3]) {
    expect(toSrgbFrom(whole.subarray(0, length))).toBeNull()
  }
  const nonsense = Buffer.from(whole)
  nonsense.fill(0xff, 132)
  expect(toSrgbFrom(nonsense)).toBeNull()
})
