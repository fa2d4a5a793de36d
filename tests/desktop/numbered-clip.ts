import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import { rotateClockwise } from '../../demo-media/display-rotation.ts'
import { ffmpegFile } from '../library/support/make-clip.ts'

/**
 * Clips whose every frame carries its own index as black and white blocks: 4 × 4 of them, 12 bits of the index and a
 * check of 4 bits (its own value turned over), so that a blend of two frames, or a frame read askew, is told from a good one.
 */
export const columns = 4
const bits = 12
export const cell = 48
export const codedSize = { width: 320, height: 240 }
/** Blocks begin here; the rest of the picture is grey. */
export const origin = { x: 32, y: 24 }

export const blocksOf = (index: number): boolean[] => {
  const data = Array.from({ length: bits }, (_, i) => ((index >> i) & 1) === 1)
  const check = [0, 1, 2, 3].map((k) => data.filter((_, i) => i % 4 === k).filter(Boolean).length % 2 === 0)
  return [...data, ...check]
}

/** The index that blocks stand for; null if they do not agree with their own check. */
export const indexOf = (blocks: readonly boolean[]): number | null => {
  const index = blocks.slice(0, bits).reduce((sum, on, i) => sum + (on ? 1 << i : 0), 0)
  return blocksOf(index).every((on, i) => on === blocks[i]) ? index : null
}

const pictureOf = (index: number): Buffer => {
  const { width, height } = codedSize
  const picture = Buffer.alloc(width * height, 110)
  blocksOf(index).forEach((on, i) => {
    const left = origin.x + (i % columns) * cell
    const top = origin.y + Math.floor(i / columns) * cell
    for (let y = top; y < top + cell; y++) {
      picture.fill(on ? 235 : 16, y * width + left, y * width + left + cell)
    }
  })
  return picture
}

export interface NumberedClip {
  name: string
  codec: 'libx264' | 'libx265'
  rate: number
  frames: number
  /** Frames are held for 1, 2, 1, 3 … ticks instead of one each. */
  isUneven?: boolean
  isTurned?: boolean
}

/** Writes one clip, with pictures that lean on later ones and few key pictures, as phones write them. */
export const writeNumberedClip = (file: string, clip: NumberedClip) => {
  const raw = Buffer.concat(Array.from({ length: clip.frames }, (_, i) => pictureOf(i)))
  const { width, height } = codedSize
  const done = spawnSync(
    ffmpegFile,
    [
      ['-v', 'error', '-y', '-f', 'rawvideo', '-pix_fmt', 'gray', '-s', `${width}x${height}`],
      ['-r', String(clip.rate), '-i', 'pipe:0'],
      clip.isUneven ? ['-vf', 'setpts=N+floor(N/2)+2*floor(N/5)', '-vsync', 'passthrough'] : [],
      [
        '-pix_fmt',
        'yuv420p',
        '-c:v',
        clip.codec,
        '-preset',
        'veryfast',
        '-crf',
        '16',
        '-g',
        '90',
        '-bf',
        '3',
      ],
      clip.codec === 'libx265' ? ['-tag:v', 'hvc1', '-x265-params', 'log-level=error'] : [],
      ['-video_track_timescale', '30000', file],
    ].flat(),
    { input: raw, maxBuffer: 1 << 28 },
  )
  if (done.status !== 0) throw new Error(`${clip.name}: ${done.stderr.toString() || String(done.error)}`)
  if (clip.isTurned) {
    const bytes = fs.readFileSync(file)
    rotateClockwise(bytes, height)
    fs.writeFileSync(file, bytes)
  }
}

/** Where the middles of the blocks are on the picture as shown, source pixels, in the order of `blocksOf`. */
export const blockMiddles = (isTurned: boolean): { x: number; y: number }[] =>
  Array.from({ length: columns * columns }, (_, i) => {
    const x = origin.x + ((i % columns) + 0.5) * cell
    const y = origin.y + (Math.floor(i / columns) + 0.5) * cell
    return isTurned ? { x: codedSize.height - y, y: x } : { x, y }
  })
