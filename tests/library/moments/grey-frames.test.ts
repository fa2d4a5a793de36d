import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findMediaPrograms } from '../../../electron/library/media/ffmpeg-path.ts'
import { clipFacts } from '../../../electron/library/moments/clip-facts.ts'
import { greyFrames, type Luma } from '../../../electron/library/moments/grey-frames.ts'

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-grey-'))
let ffmpeg = ''
let ffprobe = ''

beforeAll(async () => {
  const programs = await findMediaPrograms(null)
  ffmpeg = programs.ffmpeg.file
  ffprobe = programs.ffprobe.file
})
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

const size = { width: 160, height: 90 }

const levelsOf = async (file: string, luma: Luma | null): Promise<Uint8Array[]> => {
  const frames: Uint8Array[] = []
  for await (const { pixels } of greyFrames(ffmpeg, file, size, { luma })) frames.push(pixels.slice())
  return frames
}

/** Black and white at their ends beside all that lies between, moving. */
const write = (name: string, args: string[]): string => {
  const file = path.join(folder, name)
  execFileSync(ffmpeg, [
    ...['-v', 'error', '-nostdin', '-y', '-f', 'lavfi', '-i', 'testsrc2=size=640x360:rate=30:duration=0.4'],
    ...['-vf', `drawbox=0:0:120:90:black:fill,drawbox=160:0:120:90:white:fill`, ...args, file],
  ])
  return file
}

describe('grey frames', () => {
  it.each([
    ['limited', 'plain.mp4', ['-c:v', 'libx264', '-pix_fmt', 'yuv420p']],
    ['limited', 'wide.mp4', ['-c:v', 'libx264', '-pix_fmt', 'yuv422p']],
    ['full', 'full.mp4', ['-c:v', 'libx264', '-pix_fmt', 'yuvj420p', '-color_range', 'pc']],
    ['full', 'photos.mov', ['-c:v', 'mjpeg', '-q:v', '2', '-pix_fmt', 'yuvj422p']],
  ] as const)(
    'are the same from the plane of brightness (%s, %s) as from the colours',
    async (luma, name, args) => {
      const file = write(name, [...args])
      const facts = await clipFacts(ffprobe, file)
      expect(facts.luma).toBe(luma)
      const [short, long] = [await levelsOf(file, facts.luma), await levelsOf(file, null)]
      expect(short.length).toBe(12)
      expect(long.length).toBe(12)
      const worst = short.map((pixels, k) =>
        pixels.reduce((most, level, i) => Math.max(most, Math.abs(level - long[k]![i]!)), 0),
      )
      // One for each of the two roundings, before and after the levels are spread.
      expect(Math.max(...worst)).toBeLessThanOrEqual(2)
      expect(Math.min(...long[0]!)).toBeLessThanOrEqual(2)
      expect(Math.max(...long[0]!)).toBeGreaterThanOrEqual(253)
    },
  )

  it('are read from the colours where the brightness has no plane of 8 bits', async () => {
    const file = write('deep.mp4', ['-c:v', 'libx264', '-pix_fmt', 'yuv420p10le'])
    expect((await clipFacts(ffprobe, file)).luma).toBeNull()
  })
})
