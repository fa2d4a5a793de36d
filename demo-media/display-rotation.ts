/** Calls `visit` for every box of an MP4 between two offsets, with its type and the bounds of its content. */
const boxes = (
  file: Buffer,
  from: number,
  to: number,
  visit: (type: string, start: number, end: number) => void,
): void => {
  for (let at = from; at + 8 <= to;) {
    let size = file.readUInt32BE(at)
    let head = 8
    if (size === 1) {
      size = Number(file.readBigUInt64BE(at + 8))
      head = 16
    }
    if (size < head) return
    visit(file.toString('latin1', at + 4, at + 8), at + head, at + size)
    at += size
  }
}

/**
 * Writes a display matrix "turn 90 degrees clockwise" into the video track's header of an MP4 or MOV (ISO/IEC
 * 14496-12, tkhd), in place. Done here because the option for it differs between versions of ffmpeg.
 */
export const rotateClockwise = (file: Buffer, codedHeightPx: number): void => {
  let done = false
  boxes(file, 0, file.length, (type, start, end) => {
    if (type !== 'moov') return
    boxes(file, start, end, (inMoov, trakStart, trakEnd) => {
      if (inMoov !== 'trak') return
      let header = -1
      let isVideo = false
      boxes(file, trakStart, trakEnd, (inTrak, s, e) => {
        if (inTrak === 'tkhd') header = s
        if (inTrak === 'mdia') {
          boxes(file, s, e, (inMdia, h) => {
            if (inMdia === 'hdlr' && file.toString('latin1', h + 8, h + 12) === 'vide') isVideo = true
          })
        }
      })
      if (!isVideo || header < 0) return
      const matrix = header + (file[header] === 1 ? 52 : 40)
      const one = 0x10000
      const values = [0, one, 0, -one, 0, 0, codedHeightPx * one, 0, 0x40000000]
      values.forEach((value, i) => file.writeInt32BE(value, matrix + i * 4))
      done = true
    })
  })
  if (!done) throw new Error('no video track header found to write the rotation into')
}
