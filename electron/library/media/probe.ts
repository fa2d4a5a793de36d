import { z } from 'zod'
import { playbackRateOf } from '../../../shared-core/moments/capture-rate.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { refusePlaylist } from './refuse-playlist.ts'
import { textFrom, type RunOptions } from './run-ffmpeg.ts'
import { headerArgs, streamHeaders, type StreamHeaders } from './stream-headers.ts'

/** What a clip file says about itself. Times in seconds, size as shown (rotation and shape of the pixels applied). */
export interface ClipFacts {
  codec: string
  pixelFormat: string
  width: number
  height: number
  rotationDeg: number
  /** Width of a pixel over its height, as coded; 1 for square ones. */
  pixelAspect: number
  frameCount: number
  durationSeconds: number
  /** How long the file says its picture is; null where it says nothing of it. */
  statedSeconds: number | null
  /** Each picture is two half-pictures, taken one after the other. */
  isInterlaced: boolean
  /** Its pictures are those half-pictures (`fields.ts`), not the file's frames. */
  showsFields: boolean
  /** Frames per second at which the file plays; the rate that moments and capture rate are reckoned with. */
  playbackRate: number
  hasVariableRate: boolean
  /** Time of every frame from the first one, ascending. */
  atSeconds: Float64Array
  /** Time of the first frame by the file's own clock. */
  firstSeconds: number
  /** True if every packet of the file is a frame that is shown, and there is one picture track only. */
  showsEveryPacket: boolean
  /** Frames between key frames at most; decides whether a proxy is needed. */
  longestKeyDistance: number
  recordedAt: string | null
  cameraTag: string | null
  /** Capture rate named by the file's own tags, if it names one. */
  taggedCaptureRate: number | null
  hasSound: boolean
  container: string
}

export interface ProbedClip extends ClipFacts {
  /** All that the headers say, for whoever reads the file next. */
  headers: StreamHeaders
}

/** More than the largest camera picture there is (8192 × 4320), and than a day at the range. */
const maxPixels = 8192 * 4352
const maxSeconds = 6 * 3600

const packetsSchema = z.object({
  packets: z
    .array(
      z.object({
        stream_index: z.number(),
        pts_time: z.string().optional(),
        dts_time: z.string().optional(),
        flags: z.string().default(''),
      }),
    )
    .default([]),
})

const framesSchema = z.object({
  frames: z
    .array(
      z.object({
        best_effort_timestamp_time: z.string().optional(),
        duration_time: z.string().optional(),
        pkt_duration_time: z.string().optional(),
      }),
    )
    .default([]),
})

/** Times of decoded frames, as texts; one that the decoder gives without a time follows the one before by its length. */
const decodedTimes = (frames: z.infer<typeof framesSchema>['frames']): (string | undefined)[] => {
  let last = NaN
  return frames.map((frame) => {
    const length = Number(frame.duration_time ?? frame.pkt_duration_time)
    const own = Number(frame.best_effort_timestamp_time)
    last = Number.isFinite(own) ? own : last + length
    return Number.isFinite(last) ? String(last) : undefined
  })
}

const captureRateTags = [
  'com.android.capture.fps',
  'com.apple.quicktime.capture.fps',
  'capture_fps',
  'captureFps',
]

/** Codecs of photos; a video may use some of them, but with more than one frame. */
const stillCodecs = new Set(['png', 'mjpeg', 'jpegls', 'webp', 'gif', 'bmp', 'tiff'])

const pixelAspectOf = (text: string): number => {
  const [across, down] = text.split(/[:/]/).map(Number)
  const aspect = across! / down!
  // Anything beyond is a slip in the file, not a camera's pixel.
  return aspect > 0.1 && aspect < 10 ? aspect : 1
}

/** No camera with its clock set filmed before; a clock never set says 1904, 1970 or 1980. */
const earliestRecording = Date.parse('2000-01-02T00:00:00Z')

const recordingTime = (text: string | undefined): string | null => {
  const at = Date.parse(text ?? '')
  return at >= earliestRecording ? new Date(at).toISOString() : null
}

/** MP4 and MOV say it for each track; Matroska in a tag ("00:00:05.000000000"), or for the whole file. */
const statedSecondsOf = ({ picture, durationSeconds }: StreamHeaders): number | null => {
  const [, h, m, s] = /^(\d+):(\d\d):(\d\d(?:\.\d+)?)/.exec(picture?.tags.DURATION ?? '') ?? []
  const tagged = h === undefined ? null : Number(h) * 3600 + Number(m) * 60 + Number(s)
  return picture?.duration ?? tagged ?? durationSeconds
}

const packetEntries = 'packet=stream_index,pts_time,dts_time,flags'

/** What ffprobe says of the moving picture alone. */
const pictureText = (file: string, entries: string, options: RunOptions): Promise<string> =>
  textFrom(
    'doing.frames',
    options.programs.ffprobe.file,
    ['-v', 'error', '-print_format', 'json', '-select_streams', 'V:0', '-show_entries', entries, file],
    options,
  )

/**
 * Headers and packets by one run: to start the program takes longer than what it does. Where that fails, they are asked for one
 * after the other, so that it is told which of them can't be read.
 */
const headersAndPackets = async (
  file: string,
  options: RunOptions,
): Promise<{ headers: StreamHeaders; packetsText: () => Promise<string> }> => {
  const ask = (args: string[]) =>
    textFrom('doing.reading', options.programs.ffprobe.file, [...args, ...headerArgs(file)], options)
  try {
    const all = await ask(['-show_entries', packetEntries])
    return { headers: streamHeaders(all), packetsText: () => Promise.resolve(all) }
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    const headers = streamHeaders(await ask([]))
    return { headers, packetsText: () => pictureText(file, packetEntries, options) }
  }
}

/**
 * Probes a clip: streams, tags and the timestamp of every frame. `by: 'packets'` decodes nothing; `by: 'decoding'` asks
 * the decoder, for a file with packets that give no frame (cut from a stream, damaged).
 * @throws Problem `not-a-clip` (no picture, nothing readable), `media`
 */
export const probeClip = async (
  file: string,
  options: RunOptions,
  by: 'packets' | 'decoding' = 'packets',
): Promise<ProbedClip> => {
  await refusePlaylist(file, options.clipName)
  const { headers, packetsText } = await headersAndPackets(file, options)
  const { picture, sound } = headers
  if (picture?.width === 0) {
    throw new Problem('not-a-clip.undecodable', { where: options.clipName })
  }
  if (!picture) {
    throw new Problem(sound ? 'not-a-clip.onlySound' : 'not-a-clip.noVideo', { where: options.clipName })
  }
  if (picture.width * picture.height > maxPixels) {
    throw new Problem('not-a-clip.tooLarge', {
      width: picture.width,
      height: picture.height,
      where: options.clipName,
    })
  }
  // "D" marks packets that an edit list hides; they are decoded but never shown.
  const stored = packetsSchema
    .parse(JSON.parse(await packetsText()))
    .packets.filter((p) => p.stream_index === picture.index)
  const packets = stored.filter((p) => !p.flags.includes('D'))
  // Where only some packets say when they are shown (MPEG-2), when the others are decoded is no answer.
  const shown = packets.filter((p) => p.pts_time !== undefined).length
  if (by === 'packets' && shown > 0 && shown < packets.length) return probeClip(file, options, 'decoding')
  const timeTexts =
    by === 'packets'
      ? packets.map((p) => p.pts_time ?? p.dts_time)
      : decodedTimes(
          framesSchema.parse(
            JSON.parse(
              await pictureText(
                file,
                'frame=best_effort_timestamp_time,duration_time,pkt_duration_time',
                options,
              ),
            ),
          ).frames,
        )
  const times = Float64Array.from(timeTexts, Number).filter(Number.isFinite).sort()
  if (times.length < 2 && timeTexts.length >= 2) {
    throw new Problem('not-a-clip.noTimes', { where: options.clipName })
  }
  if (times.length < 2 && stillCodecs.has(picture.codec_name)) {
    throw new Problem('not-a-clip.still', { where: options.clipName })
  }
  if (times.length < 2) {
    throw new Problem('not-a-clip.oneFrame', { where: options.clipName })
  }
  const first = times[0]!
  const atSeconds = times.map((t) => t - first)
  const steps = Array.from(atSeconds.slice(1), (t, i) => t - atSeconds[i]!)
  const span = atSeconds.at(-1)!
  const mean = span / steps.length
  if (span > maxSeconds) {
    throw new Problem('not-a-clip.tooLong', { where: options.clipName })
  }
  const keys = packets.flatMap((p, i) => (p.flags.includes('K') ? [i] : []))
  const longestKeyDistance = [...keys, packets.length].reduce(
    (most, key, i, all) => Math.max(most, key - (all[i - 1] ?? 0)),
    0,
  )
  const { tags } = headers
  const { rotationDeg, isTurned } = picture
  const pixelAspect = pixelAspectOf(picture.sample_aspect_ratio)
  const shownWidth = Math.round(picture.width * pixelAspect)
  const tagged = captureRateTags.map((t) => Number(tags[t])).find((v) => v > 0)
  const cameraTag =
    [
      tags['com.apple.quicktime.make'] ?? tags['com.android.manufacturer'],
      tags['com.apple.quicktime.model'] ?? tags['com.android.model'],
    ]
      .filter(Boolean)
      .join(' ') || null
  return {
    codec: picture.codec_name,
    pixelFormat: picture.pix_fmt,
    width: isTurned ? picture.height : shownWidth,
    height: isTurned ? shownWidth : picture.height,
    rotationDeg,
    pixelAspect,
    frameCount: times.length,
    durationSeconds: span + mean,
    statedSeconds: statedSecondsOf(headers),
    isInterlaced: ['tt', 'bb', 'tb', 'bt'].includes(picture.field_order),
    showsFields: false,
    playbackRate: playbackRateOf(atSeconds) ?? 1 / mean,
    hasVariableRate: steps.some((s) => Math.abs(s - mean) > 0.2 * mean),
    atSeconds,
    firstSeconds: first,
    showsEveryPacket: stored.length === times.length && headers.pictureCount === 1,
    longestKeyDistance,
    recordedAt: recordingTime(tags['com.apple.quicktime.creationdate']) ?? recordingTime(tags.creation_time),
    cameraTag,
    taggedCaptureRate: tagged ?? null,
    hasSound: sound !== null,
    container: headers.container,
    headers,
  }
}
