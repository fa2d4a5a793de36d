import fs from 'node:fs'
import path from 'node:path'
import { runFfmpegNow } from './make-clip.ts'

const demo = path.join(import.meta.dirname, '../../../demo-media')
const truth = JSON.parse(fs.readFileSync(path.join(demo, 'swing-05.truth.json'), 'utf8')) as {
  swings: { moments: Record<string, { frame: number }> }[]
}

/** The last frame before the ball of {@link ballOutOfSight} moves. */
export const struckFrame = truth.swings[0]!.moments['impact']!.frame

/** An invented swing at 60 frames a second, mute, and cut off below the knees: neither ball nor feet are to be seen. */
export const ballOutOfSight = (folder: string): string => {
  const file = path.join(folder, 'ball-out-of-sight.mp4')
  runFfmpegNow(
    ...['-i', path.join(demo, 'swing-05.mp4'), '-an', '-vf', 'crop=iw:trunc(ih*0.33)*2:0:0'],
    ...['-c:v', 'libx264', '-preset', 'ultrafast', '-pix_fmt', 'yuv420p', file],
  )
  return file
}
