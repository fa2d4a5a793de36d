import fs from 'node:fs'
import path from 'node:path'
import { Problem } from '../../../shared-core/problem.ts'
import { refusePlaylist } from '../media/refuse-playlist.ts'
import { headerArgs, streamHeaders, type StreamHeaders } from '../media/stream-headers.ts'
import type { Luma } from './grey-frames.ts'
import { mediaStream } from './media-stream.ts'

/** What finding moments needs to know about a clip before reading it. */
export type ClipFacts = {
  /** Size as shown, after rotation. */
  width: number
  height: number
  /** Rate the container claims, frames/s; only for choosing how finely to read. */
  claimedRate: number | null
  hasSound: boolean
  sampleRate: number
  tags: Record<string, string>
  durationSeconds: number | null
  /** How its brightness is stored; null where it does not lie in a plane of its own, of 8 bits. */
  luma: Luma | null
}

const ratio = (text: string | undefined): number | null => {
  const [a, b] = (text ?? '').split('/').map(Number)
  const value = (a ?? NaN) / (b ?? 1)
  return Number.isFinite(value) && value > 0 ? value : null
}

/**
 * Reads the facts of a clip with ffprobe.
 * @throws Problem `clip-missing`, `clip-empty`, `clip-unreadable`, `clip-no-picture`, `no-ffmpeg`
 */
export const clipFacts = async (
  ffprobePath: string,
  clip: string,
  signal?: AbortSignal,
): Promise<ClipFacts> => {
  const name = path.basename(clip)
  const stat = fs.statSync(clip, { throwIfNoEntry: false })
  if (!stat?.isFile()) {
    throw new Problem('clip-missing', { where: name })
  }
  if (stat.size === 0) {
    throw new Problem('clip-empty', { where: name })
  }
  await refusePlaylist(clip, name, 'clip-unreadable')
  const pieces: Buffer[] = []
  for await (const piece of mediaStream(ffprobePath, headerArgs(clip), { clip, signal })) pieces.push(piece)
  return factsOfHeaders(readHeaders(Buffer.concat(pieces).toString('utf8'), name), name)
}

/** The same from headers that were read already. @throws Problem `clip-no-picture` */
export const factsOfHeaders = (headers: StreamHeaders, name: string): ClipFacts => {
  const { picture, sound, tags, durationSeconds } = headers
  if (!picture?.width || !picture.height) {
    throw new Problem('clip-no-picture', { where: name })
  }
  return {
    width: picture.isTurned ? picture.height : picture.width,
    height: picture.isTurned ? picture.width : picture.height,
    claimedRate: ratio(picture.avg_frame_rate),
    hasSound: sound !== null,
    sampleRate: sound?.sample_rate ?? 0,
    tags,
    durationSeconds,
    luma: lumaOf(picture.pix_fmt, picture.color_range),
  }
}

/** By ffmpeg's names; a film that does not say which levels it uses is of 16 to 235, except where the format says it. */
const lumaOf = (pixelFormat: string, colorRange: string): Luma | null => {
  const [, isFull] = /^yuv(j?)4\d\dp$/.exec(pixelFormat) ?? []
  if (isFull === undefined) return null
  return isFull === 'j' || colorRange === 'pc' ? 'full' : 'limited'
}

const readHeaders = (json: string, name: string): StreamHeaders => {
  try {
    return streamHeaders(json)
  } catch (cause) {
    throw new Problem('clip-unreadable.noFacts', { where: name }, { cause })
  }
}
