import fs from 'node:fs'
import path from 'node:path'
import { z } from 'zod'
import { Problem } from '../../../shared-core/problem.ts'
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
}

const tagsSchema = z.record(z.string(), z.coerce.string()).optional()
const probeSchema = z.object({
  streams: z
    .array(
      z.object({
        codec_type: z.string().optional(),
        width: z.number().optional(),
        height: z.number().optional(),
        avg_frame_rate: z.string().optional(),
        sample_rate: z.string().optional(),
        tags: tagsSchema,
        disposition: z.object({ attached_pic: z.number().optional() }).optional(),
        side_data_list: z.array(z.object({ rotation: z.coerce.number().optional() })).optional(),
      }),
    )
    .default([]),
  format: z.object({ duration: z.string().optional(), tags: tagsSchema }).optional(),
})

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
    throw new Problem('clip-missing', 'there is no such file', {
      where: name,
      toDo: 'Check the path, or connect the disk it is on',
    })
  }
  if (stat.size === 0) {
    throw new Problem('clip-empty', 'the file is empty', {
      where: name,
      toDo: 'Copy it from the camera again',
    })
  }
  const pieces: Buffer[] = []
  const args = ['-v', 'error', '-of', 'json', '-show_format', '-show_streams', clip]
  for await (const piece of mediaStream(ffprobePath, args, { clip, signal })) pieces.push(piece)
  const parsed = probeSchema.safeParse(JSON.parse(Buffer.concat(pieces).toString('utf8') || '{}'))
  if (!parsed.success) {
    throw new Problem('clip-unreadable', 'ffprobe said nothing sensible about the clip', {
      where: name,
      cause: parsed.error,
    })
  }
  const { streams, format } = parsed.data
  const picture = streams.find((s) => s.codec_type === 'video' && s.disposition?.attached_pic !== 1)
  if (!picture?.width || !picture.height) {
    throw new Problem('clip-no-picture', 'the file has no picture, only sound or data', {
      where: name,
      toDo: 'Choose the video file of the swing',
    })
  }
  const sound = streams.find((s) => s.codec_type === 'audio')
  const turn =
    picture.side_data_list?.find((d) => d.rotation !== undefined)?.rotation ??
    Number(picture.tags?.rotate ?? 0)
  const upright = Math.round(Math.abs(turn) / 90) % 2 === 1
  const duration = Number(format?.duration)
  return {
    width: upright ? picture.height : picture.width,
    height: upright ? picture.width : picture.height,
    claimedRate: ratio(picture.avg_frame_rate),
    hasSound: sound !== undefined,
    sampleRate: Number(sound?.sample_rate ?? 0),
    tags: { ...format?.tags, ...picture.tags },
    durationSeconds: Number.isFinite(duration) && duration > 0 ? duration : null,
  }
}
