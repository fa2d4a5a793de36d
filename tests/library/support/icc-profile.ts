type Three = readonly [number, number, number]

/** Primaries under D50 as in the profiles themselves, and their curve. */
export const profiles = {
  /** Display P3, curve of sRGB. */
  displayP3: {
    red: [0.51512, 0.2412, -0.00105],
    green: [0.29198, 0.69225, 0.04189],
    blue: [0.1571, 0.06657, 0.78407],
    curve: [2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045],
  },
  /** Adobe RGB (1998), annex of the specification; 2.19921875. */
  adobeRgb: {
    red: [0.60974, 0.31111, 0.01947],
    green: [0.20528, 0.62567, 0.06087],
    blue: [0.14919, 0.06322, 0.74457],
    curve: [563 / 256],
  },
  srgb: {
    red: [0.43607, 0.22249, 0.01392],
    green: [0.38515, 0.71687, 0.09708],
    blue: [0.14307, 0.06061, 0.7141],
    curve: [2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045],
  },
} satisfies Record<string, { red: Three; green: Three; blue: Three; curve: number[] }>

const fixed = (value: number) => {
  const bytes = Buffer.alloc(4)
  bytes.writeInt32BE(Math.round(value * 65_536))
  return bytes
}
const uint32 = (value: number) => {
  const bytes = Buffer.alloc(4)
  bytes.writeUInt32BE(value)
  return bytes
}

const curveTag = (curve: number[]) => {
  if (curve.length > 1) {
    const para = Buffer.from('7061726100000000' + '00030000', 'hex')
    return Buffer.concat([para, ...curve.map(fixed)])
  }
  const gamma = Buffer.alloc(4)
  gamma.writeUInt16BE(Math.round(256 * curve[0]!))
  return Buffer.concat([Buffer.from('6375727600000000', 'hex'), uint32(1), gamma])
}

/** A profile of three primaries and one curve (ICC.1:2022, 7 and 8.3). `space` as in its header. */
export const iccProfile = (
  { red, green, blue, curve }: { red: Three; green: Three; blue: Three; curve: number[] },
  space = 'RGB ',
): Buffer => {
  const xyz = (value: Three) => Buffer.concat([Buffer.from('58595a2000000000', 'hex'), ...value.map(fixed)])
  const trc = curveTag(curve)
  const tags: [string, Buffer][] = [
    ['rXYZ', xyz(red)],
    ['gXYZ', xyz(green)],
    ['bXYZ', xyz(blue)],
    ['rTRC', trc],
    ['gTRC', trc],
    ['bTRC', trc],
  ]
  const head = Buffer.alloc(128)
  head.write('mntr', 12, 'latin1')
  head.write(space, 16, 'latin1')
  head.write('XYZ ', 20, 'latin1')
  head.write('acsp', 36, 'latin1')
  let at = 128 + 4 + 12 * tags.length
  const table = tags.map(([name, data]) => {
    const entry = Buffer.concat([Buffer.from(name, 'latin1'), uint32(at), uint32(data.length)])
    at += data.length
    return entry
  })
  const all = Buffer.concat([head, uint32(tags.length), ...table, ...tags.map(([, data]) => data)])
  all.writeUInt32BE(all.length, 0)
  return all
}
