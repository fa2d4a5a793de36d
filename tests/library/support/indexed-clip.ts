import { execFileSync } from 'node:child_process'
import { ffmpegFile } from './make-clip.ts'

const bits = 8
/** Upper part of the picture that holds the columns; below it is grey, free for drawings. */
const patternShare = 0.25
export const indexedGrey = 110

/** What a phone leaves in its files; none of it may reach a student. */
export const phoneSecrets = ['+52.5200+013.4050/', 'Phone 1', 'Maker', '2026-05-01T10:00:00']

/** A clip, tagged as by a phone, whose every frame carries its index (up to 255) as eight columns, lowest bit left. */
export const writeIndexedClip = (
  file: string,
  clip: { width: number; height: number; rate: number; frames: number },
) => {
  const small = { width: 64, height: 36 }
  const raw = Buffer.alloc(clip.frames * small.width * small.height, indexedGrey)
  for (let n = 0; n < clip.frames; n++) {
    for (let y = 0; y < small.height * patternShare; y++) {
      for (let x = 0; x < small.width; x++) {
        const bit = (n >> Math.floor((x * bits) / small.width)) & 1
        raw[(n * small.height + y) * small.width + x] = bit ? 230 : 25
      }
    }
  }
  const [place, model, make, time] = phoneSecrets
  execFileSync(
    ffmpegFile,
    ['-v', 'error', '-y', '-f', 'rawvideo', '-pix_fmt', 'gray', '-s', `${small.width}x${small.height}`]
      .concat(['-r', String(clip.rate), '-i', 'pipe:0'])
      .concat(['-vf', `scale=${clip.width}:${clip.height}:flags=neighbor`])
      .concat(['-c:v', 'libx264', '-preset', 'veryfast', '-pix_fmt', 'yuv420p', '-crf', '12', '-bf', '2'])
      .concat(['-metadata', `location=${place}`, '-metadata', `com.apple.quicktime.model=${model}`])
      .concat(['-metadata', `make=${make}`, '-metadata', `creation_time=${time}.000000Z`])
      .concat(['-movflags', 'use_metadata_tags', file]),
    { input: raw },
  )
}

/** The index on a picture, read with `redAt` (shares of the picture); `left` and `span` place it in a comparison. */
export const indexFrom = (redAt: (x: number, y: number) => number, { left = 0, span = 1 } = {}): number => {
  let index = 0
  for (let bit = 0; bit < bits; bit++) {
    if (redAt(left + (span * (bit + 0.5)) / bits, patternShare / 2) > 128) index |= 1 << bit
  }
  return index
}
