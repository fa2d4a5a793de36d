import { Problem } from '../../../shared-core/problem.ts'
import { keepEveryTimestamp, pipeFrom, textFrom, type RunOptions } from '../media/run-ffmpeg.ts'
import type { ClipFacts } from '../media/probe.ts'
import type { RgbaImage } from './raster.ts'
import { toShownSize } from './shown-size.ts'

/** What has to be known of a clip to find a frame in it. */
export type FrameFacts = Pick<ClipFacts, 'width' | 'height' | 'atSeconds'>

/**
 * The pixels of one frame, by its index among the frames that are shown, upright.
 *
 * First a jump to a key frame before it, and the one frame whose timestamp is the wanted one (the window around it
 * ends half way to the neighbours, so that a variable rate does not matter). If that does not give exactly one
 * frame, the whole clip is decoded and counted.
 *
 * @throws Problem `no-such-frame`, `media`; Cancelled
 */
export async function framePicture(
  file: string,
  frame: number,
  facts: FrameFacts,
  options: RunOptions,
): Promise<RgbaImage> {
  const atSeconds = facts.atSeconds[frame]
  if (!Number.isInteger(frame) || atSeconds === undefined) {
    throw new Problem('no-such-frame.outside', {
      frame,
      last: facts.atSeconds.length - 1,
      where: options.clipName,
    })
  }
  const quick = await byTimestamp(file, frame, atSeconds, facts, options)
  if (quick) return quick
  const counted = await decode(file, [], `select=eq(n\\,${frame})`, facts, options)
  if (counted) return counted
  throw new Problem('no-such-frame.undecodable', { frame, where: options.clipName })
}

/** Pictures that may wait for a later one before they are shown: H.264 and H.265 keep at most 16 (A.3.1, A.4.2). */
const maxReordered = 16

async function byTimestamp(
  file: string,
  frame: number,
  atSeconds: number,
  facts: FrameFacts,
  options: RunOptions,
): Promise<RgbaImage | null> {
  const first = await firstTimestamp(file, options)
  if (first === null) return null
  const before = facts.atSeconds[frame - 1] ?? atSeconds - 1
  const after = facts.atSeconds[frame + 1] ?? atSeconds + 1
  const from = (first + (before + atSeconds) / 2).toFixed(7)
  const to = (first + (atSeconds + after) / 2).toFixed(7)
  // A little early: key frames are found by decoding time, which runs ahead of what is shown.
  const seek = facts.atSeconds[Math.max(0, frame - maxReordered - 1)]!
  return decode(
    file,
    ['-noaccurate_seek', '-copyts', '-ss', seek.toFixed(6)],
    `select=gte(t\\,${from})*lt(t\\,${to})`,
    facts,
    options,
  )
}

/** The file's own time of the first shown frame. */
async function firstTimestamp(file: string, options: RunOptions): Promise<number | null> {
  const text = await textFrom(
    'doing.firstFrames',
    options.programs.ffprobe.file,
    ['-v', 'error', '-select_streams', 'v:0', '-read_intervals', '%+#32'].concat([
      '-show_entries',
      'packet=pts_time,flags',
      '-of',
      'csv=p=0',
      file,
    ]),
    options,
  )
  // "D" marks packets that an edit list hides.
  const times = text
    .split(/\r?\n/)
    .filter((row) => row !== '' && !row.includes('D'))
    .map((row) => Number.parseFloat(row))
    .filter(Number.isFinite)
  return times.length === 0 ? null : Math.min(...times)
}

/** Decodes what `select` lets through; null unless that is exactly one frame of the clip's size. */
async function decode(
  file: string,
  seek: string[],
  select: string,
  { width, height }: FrameFacts,
  options: RunOptions,
): Promise<RgbaImage | null> {
  const chunks: Buffer[] = []
  let length = 0
  await pipeFrom(
    'doing.frame',
    options.programs.ffmpeg.file,
    ['-v', 'error', '-nostdin', ...seek, '-i', file, '-map', '0:v:0', '-an', '-sn', '-dn']
      .concat(['-vf', `${select},${toShownSize({ width, height }, 'bicubic+accurate_rnd+full_chroma_int')}`])
      .concat([...keepEveryTimestamp(options.programs), '-frames:v', '1'])
      .concat(['-f', 'rawvideo', '-pix_fmt', 'rgba', 'pipe:1']),
    (chunk) => {
      chunks.push(chunk)
      length += chunk.length
    },
    options,
  )
  return length === width * height * 4 ? { width, height, rgba: Buffer.concat(chunks) } : null
}
