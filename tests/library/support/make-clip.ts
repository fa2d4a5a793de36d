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

/** What ffprobe says of a file and its streams: `T` is what the caller looks at. */
export const probed = <T>(file: string): T =>
  JSON.parse(
    execFileSync(ffprobe.file, [
      '-v',
      'error',
      '-show_streams',
      '-show_format',
      '-of',
      'json',
      file,
    ]).toString(),
  ) as T

/** Width and height of a file's picture. */
export const sizeOf = (file: string): [width: number, height: number] => {
  const { streams } = probed<{ streams: { width?: number; height?: number }[] }>(file)
  const { width, height } = streams.find((s) => s.width !== undefined)!
  return [width!, height!]
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
