/** The parts of a JPEG before its picture, by their markers, without marker and length (ITU-T T.81, B.1.1). */
export const jpegSegments = (bytes: Buffer): { marker: number; data: Buffer }[] => {
  const segments: { marker: number; data: Buffer }[] = []
  let at = 2
  while (at + 4 <= bytes.length && bytes[at] === 0xff) {
    const marker = bytes[at + 1]!
    const length = bytes.readUInt16BE(at + 2)
    // The picture's own data begins.
    if (marker === 0xda || length < 2) break
    segments.push({ marker, data: bytes.subarray(at + 4, at + 2 + length) })
    at += 2 + length
  }
  return segments
}

/** A chunk of PNG (length, name, data, check) or of RIFF (name, length, data, padded to even). */
export const chunkOf = (bytes: Buffer, from: number, name: string, order: 'BE' | 'LE'): Buffer | null => {
  let at = from
  while (at + 8 <= bytes.length) {
    const length = order === 'BE' ? bytes.readUInt32BE(at) : bytes.readUInt32LE(at + 4)
    const found = bytes.toString('latin1', at + (order === 'BE' ? 4 : 0), at + (order === 'BE' ? 8 : 4))
    if (found === name) return bytes.subarray(at + 8, at + 8 + length)
    at += 8 + length + (order === 'BE' ? 4 : length % 2)
  }
  return null
}
