import { inflateSync } from 'node:zlib'
import { chunkOf, jpegSegments } from './picture-parts.ts'

/**
 * The ICC profile that a photo carries: JPEG in APP2, in parts (ICC.1:2022, annex B.4), PNG in iCCP (PNG 3, 11.3.2.3), WebP in
 * ICCP, HEIC in a colr box of type prof (ISO/IEC 14496-12, 12.1.5); null for none.
 */
export const embeddedProfile = (bytes: Buffer): Buffer | null => {
  if (bytes.readUInt16BE(0) === 0xffd8) {
    const parts = jpegSegments(bytes)
      .filter((s) => s.marker === 0xe2 && s.data.toString('latin1', 0, 12) === 'ICC_PROFILE\0')
      .toSorted((a, b) => a.data[12]! - b.data[12]!)
      .map((s) => s.data.subarray(14))
    return parts.length > 0 ? Buffer.concat(parts) : null
  }
  if (bytes.toString('latin1', 1, 4) === 'PNG') {
    const chunk = chunkOf(bytes, 8, 'iCCP', 'BE')
    if (!chunk) return null
    try {
      // A name, a zero, the way of packing, the profile.
      return inflateSync(chunk.subarray(chunk.indexOf(0) + 2), { maxOutputLength: 8_000_000 })
    } catch {
      return null
    }
  }
  if (bytes.toString('latin1', 8, 12) === 'WEBP') return chunkOf(bytes, 12, 'ICCP', 'LE')
  const at = bytes.indexOf('colrprof')
  return at >= 4 ? bytes.subarray(at + 8, at - 4 + bytes.readUInt32BE(at - 4)) : null
}

/** What a profile's value in a channel (0 to 255) is in light (0 to 1). @throws RangeError where the profile is cut off */
type Curve = (value: number) => number

const fixed = (profile: Buffer, at: number) => profile.readInt32BE(at) / 65_536

/** Curves of type curv and para (ICC.1:2022, 10.6 and 10.18). */
const curveAt = (profile: Buffer, at: number): Curve | null => {
  const type = profile.toString('latin1', at, at + 4)
  if (type === 'curv') {
    const count = profile.readUInt32BE(at + 8)
    if (count === 0) return (v) => v / 255
    if (count === 1) {
      const power = profile.readUInt16BE(at + 12) / 256
      return (v) => (v / 255) ** power
    }
    const entry = (i: number) => profile.readUInt16BE(at + 12 + 2 * i) / 65_535
    return (v) => {
      const place = (v / 255) * (count - 1)
      const low = Math.min(count - 2, Math.floor(place))
      return entry(low) + (place - low) * (entry(low + 1) - entry(low))
    }
  }
  if (type !== 'para') return null
  const kind = profile.readUInt16BE(at + 8)
  const number = (i: number) => fixed(profile, at + 12 + 4 * i)
  const g = number(0)
  if (kind === 0) return (v) => (v / 255) ** g
  if (kind > 4) return null
  const [a, b] = [number(1), number(2)]
  // Kinds 1 and 2 bend where a·x + b is 0; 3 and 4 say where, and how straight below it.
  const [c, d, e, f] = [
    kind >= 3 ? number(3) : 0,
    kind >= 3 ? number(4) : -b / a,
    kind === 4 ? number(5) : kind === 2 ? number(3) : 0,
    kind === 4 ? number(6) : kind === 2 ? number(3) : 0,
  ]
  return (v) => {
    const x = v / 255
    return x >= d ? (a * x + b) ** g + e : c * x + f
  }
}

/** From the profile's connection space (XYZ under D50) to the light of sRGB, adapted after Bradford (as B. Lindbloom gives it). */
const toLinearSrgb = [
  [3.1338561, -1.6168667, -0.4906146],
  [-0.9787684, 1.9161415, 0.033454],
  [0.0719453, -0.2289914, 1.4052427],
] as const

/** IEC 61966-2-1, of 0 to 1 in 4096 steps. */
const encoded = Uint8ClampedArray.from({ length: 4097 }, (_, i) => {
  const x = i / 4096
  return Math.round(255 * (x <= 0.0031308 ? 12.92 * x : 1.055 * x ** (1 / 2.4) - 0.055))
})

/** Changes pixels in place: four bytes each, red, green, blue and anything. */
export type ToSrgb = (rgba: Uint8Array) => void

/**
 * How colours of a profile become those of sRGB, out of its range cut off at its edge: by the profile's three primaries and
 * their curves (ICC.1:2022, F.3), which is what cameras, phones and drawing programs write. 'same' where it makes no
 * difference, null where the profile is of another kind (tables, four inks).
 */
export const toSrgbFrom = (profile: Buffer): ToSrgb | 'same' | null => {
  try {
    const space = profile.toString('latin1', 16, 20)
    if (space === 'GRAY') return 'same'
    if (space !== 'RGB ' || profile.toString('latin1', 20, 24) !== 'XYZ ') return null
    const tags = new Map<string, number>()
    for (let i = 0; i < Math.min(100, profile.readUInt32BE(128)); i += 1) {
      const at = 132 + 12 * i
      tags.set(profile.toString('latin1', at, at + 4), profile.readUInt32BE(at + 4))
    }
    const primaries = ['rXYZ', 'gXYZ', 'bXYZ'].map((tag) => tags.get(tag))
    const curves = ['rTRC', 'gTRC', 'bTRC'].map((tag) => {
      const at = tags.get(tag)
      return at === undefined ? null : curveAt(profile, at)
    })
    if (primaries.includes(undefined) || curves.includes(null)) return null
    const [red, green, blue] = curves.map((curve) =>
      Float64Array.from({ length: 256 }, (_, v) => curve!(v)),
    ) as [Float64Array, Float64Array, Float64Array]
    const xyz = primaries.map((at) => [8, 12, 16].map((offset) => fixed(profile, at! + offset)))
    const m = toLinearSrgb.flatMap((row) =>
      xyz.map((primary) => row.reduce((sum, factor, i) => sum + factor * primary[i]!, 0)),
    )
    if (m.some(Number.isNaN) || [red, green, blue].some((curve) => curve.some(Number.isNaN))) return null
    const step = (light: number) => encoded[light <= 0 ? 0 : light >= 1 ? 4096 : Math.round(4096 * light)]!
    const convert: ToSrgb = (rgba) => {
      for (let i = 0; i + 2 < rgba.length; i += 4) {
        const [r, g, b] = [red[rgba[i]!]!, green[rgba[i + 1]!]!, blue[rgba[i + 2]!]!]
        rgba[i] = step(m[0]! * r + m[1]! * g + m[2]! * b)
        rgba[i + 1] = step(m[3]! * r + m[4]! * g + m[5]! * b)
        rgba[i + 2] = step(m[6]! * r + m[7]! * g + m[8]! * b)
      }
    }
    return isSame(convert) ? 'same' : convert
  } catch (error) {
    if (error instanceof RangeError) return null
    throw error
  }
}

/** Less than what is seen, over greys and the corners of the colours. */
const isSame = (convert: ToSrgb): boolean => {
  const levels = [0, 64, 128, 192, 255]
  const all = levels.flatMap((r) => levels.flatMap((g) => levels.flatMap((b) => [r, g, b, 255])))
  const converted = Uint8Array.from(all)
  convert(converted)
  return converted.every((v, i) => Math.abs(v - all[i]!) <= 3)
}
