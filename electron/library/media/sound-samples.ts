import { Problem } from '../../../shared-core/problem.ts'
import { pipeFrom, textFrom, type RunOptions } from './run-ffmpeg.ts'

const rate = 48_000

/**
 * A stretch of a clip's sound as mono samples, by the time of the picture: zero is the first frame. Seconds of the file.
 * Null where there is no sound that can be decoded.
 * @throws Cancelled
 */
export const soundSamples = async (
  file: string,
  from: number,
  to: number,
  options: RunOptions,
): Promise<{ samples: Float32Array; rate: number } | null> => {
  const { ffmpeg, ffprobe } = options.programs
  const entries = ['-show_entries', 'packet=pts_time', '-read_intervals', '%+#16', '-of', 'csv=p=0']
  const said = await textFrom(
    'doing.reading',
    ffprobe.file,
    ['-v', 'error', '-select_streams', 'V:0', ...entries, file],
    options,
  )
  // Pictures are stored in the order of decoding, so that the first shown is not always the first stored.
  const times = said.split(/\s+/).map(parseFloat).filter(Number.isFinite)
  const first = times.length > 0 ? Math.min(...times) : 0
  const pieces: Buffer[] = []
  const filter = `asetpts=PTS-${first.toFixed(6)}/TB,aresample=${rate}:async=1:first_pts=0,atrim=${from.toFixed(6)}:${to.toFixed(6)}`
  await pipeFrom(
    'doing.sound',
    ffmpeg.file,
    [
      ...['-v', 'error', '-nostdin', '-copyts', '-i', file, '-map', '0:a:0', '-vn', '-sn', '-dn'],
      ...['-af', filter, '-ac', '1', '-ar', String(rate), '-f', 'f32le', '-'],
    ],
    (piece) => pieces.push(piece),
    options,
  ).catch((error: unknown) => {
    if (!(error instanceof Problem)) throw error
  })
  const bytes = Buffer.concat(pieces)
  const count = Math.floor(bytes.length / 4)
  if (count === 0) return null
  // A copy, because samples must lie at a multiple of four.
  return { samples: new Float32Array(new Uint8Array(bytes.subarray(0, 4 * count)).buffer), rate }
}
