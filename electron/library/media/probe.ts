import { z } from 'zod'
import { Problem } from '../../../shared-core/problem.ts'
import { textFrom, type RunOptions } from './run-ffmpeg.ts'

/** What a clip file says about itself. Times in seconds, size as shown (rotation applied). */
export interface ClipFacts {
  codec: string
  pixelFormat: string
  width: number
  height: number
  rotationDeg: number
  frameCount: number
  durationSeconds: number
  /** Mean frames per second at which the file plays. */
  playbackRate: number
  hasVariableRate: boolean
  /** Time of every frame from the first one, ascending. */
  atSeconds: Float64Array
  /** Frames between key frames at most; decides whether a proxy is needed. */
  longestKeyDistance: number
  recordedAt: string | null
  cameraTag: string | null
  /** Capture rate named by the file's own tags, if it names one. */
  taggedCaptureRate: number | null
  hasSound: boolean
  /** Seconds by which the sound track starts after the picture. */
  soundStartSeconds: number
  container: string
}

const tags = z.record(z.string(), z.string()).default({})
const probeSchema = z.object({
  streams: z
    .array(
      z.object({
        codec_type: z.string().optional(),
        codec_name: z.string().default('unknown'),
        pix_fmt: z.string().default(''),
        width: z.number().default(0),
        height: z.number().default(0),
        start_time: z.string().optional(),
        tags,
        side_data_list: z.array(z.looseObject({ rotation: z.number().optional() })).default([]),
        disposition: z.looseObject({ attached_pic: z.number().optional() }).optional(),
      }),
    )
    .default([]),
  format: z.object({ format_name: z.string().default(''), duration: z.string().optional(), tags }).optional(),
})

const packetsSchema = z.object({
  packets: z
    .array(
      z.object({
        pts_time: z.string().optional(),
        dts_time: z.string().optional(),
        flags: z.string().default(''),
      }),
    )
    .default([]),
})

const captureRateTags = [
  'com.android.capture.fps',
  'com.apple.quicktime.capture.fps',
  'capture_fps',
  'captureFps',
]

const tidyRotation = (degrees: number) => ((Math.round(degrees) % 360) + 360) % 360

/**
 * Probes a clip: streams, tags and the timestamp of every frame (from the packets, so nothing is decoded).
 * @throws Problem `not-a-clip` (no picture, nothing readable), `media`
 */
export const probeClip = async (file: string, options: RunOptions): Promise<ClipFacts> => {
  const ffprobe = options.programs.ffprobe.file
  const json = await textFrom(
    'reading',
    ffprobe,
    ['-v', 'error', '-print_format', 'json', '-show_streams', '-show_format', file],
    options,
  )
  const { streams, format } = probeSchema.parse(JSON.parse(json))
  const picture = streams.find((s) => s.codec_type === 'video' && !s.disposition?.attached_pic)
  const sound = streams.find((s) => s.codec_type === 'audio')
  if (!picture || picture.width === 0) {
    throw new Problem(
      'not-a-clip',
      sound ? 'this file has sound but no picture' : 'this file holds no video',
      {
        where: options.clipName,
        toDo: 'Choose a video file; the other clips are not affected',
      },
    )
  }
  const packetJson = await textFrom(
    'reading the frames',
    ffprobe,
    [
      '-v',
      'error',
      '-print_format',
      'json',
      '-select_streams',
      'v:0',
      '-show_entries',
      'packet=pts_time,dts_time,flags',
      file,
    ],
    options,
  )
  // "D" marks packets that an edit list hides; they are decoded but never shown.
  const packets = packetsSchema.parse(JSON.parse(packetJson)).packets.filter((p) => !p.flags.includes('D'))
  const times = Float64Array.from(packets, (p) => Number(p.pts_time ?? p.dts_time))
    .filter(Number.isFinite)
    .sort()
  if (times.length < 2) {
    throw new Problem('not-a-clip', 'this video has fewer than two frames', {
      where: options.clipName,
      toDo: 'The file may be cut short; copy it from the camera again',
    })
  }
  const first = times[0]!
  const atSeconds = times.map((t) => t - first)
  const steps = Array.from(atSeconds.slice(1), (t, i) => t - atSeconds[i]!)
  const span = atSeconds.at(-1)!
  const mean = span / steps.length
  const keys = packets.flatMap((p, i) => (p.flags.includes('K') ? [i] : []))
  const longestKeyDistance = Math.max(...[...keys, packets.length].map((k, i, all) => k - (all[i - 1] ?? 0)))
  const allTags = { ...format?.tags, ...picture.tags }
  const rotation =
    picture.side_data_list.find((s) => s.rotation !== undefined)?.rotation ??
    -Number(picture.tags.rotate ?? 0)
  const rotationDeg = tidyRotation(-rotation)
  const isTurned = rotationDeg === 90 || rotationDeg === 270
  const tagged = captureRateTags.map((t) => Number(allTags[t])).find((v) => v > 0)
  const recordedAt = allTags['com.apple.quicktime.creationdate'] ?? allTags.creation_time ?? null
  const cameraTag =
    [
      allTags['com.apple.quicktime.make'] ?? allTags['com.android.manufacturer'],
      allTags['com.apple.quicktime.model'] ?? allTags['com.android.model'],
    ]
      .filter(Boolean)
      .join(' ') || null
  return {
    codec: picture.codec_name,
    pixelFormat: picture.pix_fmt,
    width: isTurned ? picture.height : picture.width,
    height: isTurned ? picture.width : picture.height,
    rotationDeg,
    frameCount: times.length,
    durationSeconds: span + mean,
    playbackRate: 1 / mean,
    hasVariableRate: steps.some((s) => Math.abs(s - mean) > 0.2 * mean),
    atSeconds,
    longestKeyDistance,
    recordedAt:
      recordedAt && Number.isFinite(Date.parse(recordedAt)) ? new Date(recordedAt).toISOString() : null,
    cameraTag,
    taggedCaptureRate: tagged ?? null,
    hasSound: sound !== undefined,
    soundStartSeconds: sound ? Number(sound.start_time ?? 0) - first : 0,
    container: format?.format_name ?? '',
  }
}
