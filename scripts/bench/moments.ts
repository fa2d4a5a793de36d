import { execFileSync } from 'node:child_process'
import path from 'node:path'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { findMoments } from '../../electron/library/moments/find-moments.ts'
import { loadNote, type Measurement } from './support/measurement.ts'

const clip = path.join(import.meta.dirname, '../../demo-media/swing-02.mp4')

/** Finding the moments of one clip (548 frames) against decoding it alone, one after another, and the memory it takes. */
export async function bench(): Promise<Measurement[]> {
  const { ffmpeg, ffprobe } = await findMediaPrograms(null)
  const options = { ffmpegPath: ffmpeg.file, ffprobePath: ffprobe.file }
  const decode = ['-nostdin', '-v', 'error', '-i', clip, '-map', '0:V:0', '-f', 'null', '-']
  const decodeMs: number[] = []
  const readMs: number[] = []
  const before = process.memoryUsage().rss
  let most = 0
  let frames = 0
  for (let round = 0; round < 3; round++) {
    let begin = performance.now()
    execFileSync(ffmpeg.file, decode)
    decodeMs.push(performance.now() - begin)
    begin = performance.now()
    frames = (
      await findMoments(clip, {
        ...options,
        onProgress: () => (most = Math.max(most, process.memoryUsage().rss)),
      })
    ).frames
    readMs.push(performance.now() - begin)
  }
  const median = (values: number[]) => values.toSorted((a, b) => a - b)[values.length >> 1]!
  const note = loadNote()
  return [
    {
      name: 'finding the moments of a clip, against decoding it alone',
      value: median(readMs) / median(decodeMs),
      unit: '×',
      note,
    },
    {
      name: 'finding the moments, frames a second',
      value: (1000 * frames) / median(readMs),
      unit: '1/s',
      note,
    },
    { name: 'finding the moments, memory', value: (most - before) / 1e6, unit: 'MB' },
  ]
}
