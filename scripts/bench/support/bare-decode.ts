import { execFileSync } from 'node:child_process'

/** Milliseconds a frame that bare ffmpeg takes to decode a file on one thread, without doing anything with it. Best of three. */
export const bareDecodeMsPerFrame = (ffmpeg: string, file: string, frames: number): number => {
  const times = Array.from({ length: 3 }, () => {
    const begin = performance.now()
    execFileSync(ffmpeg, ['-v', 'error', '-nostdin', '-threads', '1', '-i', file, '-an', '-f', 'null', '-'])
    return performance.now() - begin
  })
  return Math.min(...times) / frames
}
