import path from 'node:path'
import { findBody } from '../../electron/library/body/find-body.ts'
import { loadPoseModel, modelSize } from '../../electron/library/body/pose-model.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { loadNote, type Measurement } from './support/measurement.ts'

const clip = path.join(import.meta.dirname, '../../demo-media/swing-02.mp4')
const wanted = 60

/** Body points on one thread: pictures a second with reading the clip, the model alone, and the memory it takes. */
export async function bench(): Promise<Measurement[]> {
  const { ffmpeg } = await findMediaPrograms(null)
  const before = process.memoryUsage().rss
  const model = await loadPoseModel()
  const blank = new Uint8Array(modelSize * modelSize * 3)
  await model(blank)
  const alone: number[] = []
  for (let i = 0; i < 8; i++) {
    const begin = performance.now()
    await model(blank)
    alone.push(performance.now() - begin)
  }
  const frames = Int32Array.from({ length: wanted }, (_, i) => 60 + 5 * i)
  let pictures = 0
  const begin = performance.now()
  const track = await findBody(
    model,
    { ffmpegPath: ffmpeg.file, clip, width: 848, height: 480, frames },
    { onProgress: () => pictures++ },
  )
  const seconds = (performance.now() - begin) / 1000
  if (track.frames.length !== wanted) {
    throw new Error(`${track.frames.length} of ${wanted} pictures were read`)
  }
  const note = loadNote()
  return [
    {
      name: 'body points, pictures a second (one thread)',
      value: pictures / seconds,
      unit: '1/s',
      aim: '≥ 4',
      note,
    },
    {
      name: 'body points, the model alone, a picture',
      value: alone.toSorted((a, b) => a - b)[4]!,
      unit: 'ms',
      note: 'median of 8',
    },
    { name: 'body points, one swing of 60 pictures', value: seconds, unit: 's', note },
    {
      name: 'body points, memory of the thread',
      value: (process.memoryUsage().rss - before) / 1e6,
      unit: 'MB',
    },
  ]
}
