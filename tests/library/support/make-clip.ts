import { execFileSync } from 'node:child_process'
import { findMediaPrograms } from '../../../electron/library/media/ffmpeg-path.ts'

const { ffmpeg, ffprobe } = await findMediaPrograms(null)
export const ffmpegFile = ffmpeg.file
export const ffprobeFile = ffprobe.file

export const runFfmpegNow = (...args: string[]) => execFileSync(ffmpeg.file, ['-v', 'error', '-y', ...args])

/** A small real clip: a test picture and a click, made by ffmpeg. */
export const makeClip = (
  file: string,
  options: { seconds?: number; rate?: number; sound?: boolean; extra?: string[] } = {},
) => {
  const { seconds = 1, rate = 30, sound = true, extra = [] } = options
  runFfmpegNow(
    '-f',
    'lavfi',
    '-i',
    `testsrc2=size=320x180:rate=${rate}:duration=${seconds}`,
    ...(sound ? ['-f', 'lavfi', '-i', `sine=frequency=1000:duration=${seconds}`] : []),
    '-pix_fmt',
    'yuv420p',
    ...extra,
    file,
  )
}

/** Timestamps as ffprobe's decoder gives them: the outside witness for our own reading of packets. */
export const decodedTimes = (file: string): number[] =>
  execFileSync(ffprobe.file, [
    '-v',
    'error',
    '-select_streams',
    'v:0',
    '-show_entries',
    'frame=best_effort_timestamp_time',
    '-of',
    'csv=p=0',
    file,
  ])
    .toString()
    .trim()
    .split(/\s+/)
    .map((line) => Number(line.replace(/,.*$/, '')))
