import { chunkOf, jpegSegments } from './picture-parts.ts'

/**
 * How a photo has to be turned and mirrored to stand upright: its Exif orientation, 1 to 8 (CIPA DC-008, 4.6.4, tag 0x0112);
 * 1 where it says nothing. Exif is looked for where each format keeps it: JPEG in APP1, PNG in eXIf (PNG 3, 11.3.3.4), WebP in
 * the chunk EXIF.
 */
export const pictureOrientation = (bytes: Buffer): number => {
  const exif = exifOf(bytes)
  return exif ? orientationIn(exif) : 1
}

const exifOf = (bytes: Buffer): Buffer | null => {
  if (bytes.readUInt16BE(0) === 0xffd8) {
    const isExif = (data: Buffer) => data.toString('latin1', 0, 4) === 'Exif'
    return (
      jpegSegments(bytes)
        .find((s) => s.marker === 0xe1 && isExif(s.data))
        ?.data.subarray(6) ?? null
    )
  }
  if (bytes.toString('latin1', 1, 4) === 'PNG') return chunkOf(bytes, 8, 'eXIf', 'BE')
  if (bytes.toString('latin1', 8, 12) === 'WEBP') {
    const chunk = chunkOf(bytes, 12, 'EXIF', 'LE')
    return chunk?.toString('latin1', 0, 4) === 'Exif' ? chunk.subarray(6) : chunk
  }
  return null
}

/** In the first directory of a TIFF. */
const orientationIn = (tiff: Buffer): number => {
  if (tiff.length < 14) return 1
  const isLittle = tiff.toString('latin1', 0, 2) === 'II'
  const short = (at: number) => (isLittle ? tiff.readUInt16LE(at) : tiff.readUInt16BE(at))
  const directory = isLittle ? tiff.readUInt32LE(4) : tiff.readUInt32BE(4)
  if (directory + 2 > tiff.length) return 1
  for (let i = 0; i < short(directory); i++) {
    const at = directory + 2 + 12 * i
    if (at + 12 > tiff.length) return 1
    if (short(at) !== 0x0112) continue
    const value = short(at + 8)
    return value >= 1 && value <= 8 ? value : 1
  }
  return 1
}

/** ffmpeg filters that set a picture of this orientation upright; each ends with a comma. */
export const turnFilter = (orientation: number): string =>
  [
    '',
    '',
    'hflip,',
    'hflip,vflip,',
    'vflip,',
    'transpose=0,',
    'transpose=1,',
    'transpose=3,',
    'transpose=2,',
  ][orientation] ?? ''
