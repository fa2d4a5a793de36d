import { Problem } from '../../../shared-core/problem.ts'
import type { FfmpegCommand } from 'fluent-ffmpeg'
import { fieldsFilter } from './fields.ts'
import { posterArgs } from './pictures.ts'
import { probeClip, type ClipFacts } from './probe.ts'
import { keepEveryTimestamp, runFfmpeg, type RunOptions } from './run-ffmpeg.ts'

/**
 * A key frame every 4 frames: a random seek decodes 4 pictures at most. Every 8 frames the files are a third smaller and
 * the seek twice as long; every frame one, they are twice as large.
 */
const keyEvery = 4

/**
 * Made to be decoded fast: without the codec's dearest steps a picture of 1080p takes 1.9 instead of 3.3 ms of processor
 * time for a sixth more bytes, and its slices are decoded side by side even where pictures must come one by one.
 */
const forFastDecoding = ['-tune', 'fastdecode', '-slices', '6']

/**
 * And made fast: the quickest preset at a constant quantiser takes 0.55 of what veryfast at -crf 18 does, as like the original
 * (SSIM 0.998 and 0.997 on grain, 0.997 and 0.998 on a plain picture), for a third to six tenths more bytes.
 */
const forFastMaking = ['-preset', 'ultrafast', '-qp', '22']

/**
 * The original itself can be looked at, frame by frame, until its working copy is there: what the window decodes
 * anywhere, upright or turned, with nothing hidden. A jump in it takes as long as its key frames are apart.
 */
export const showsAtOnce = (facts: ClipFacts): boolean =>
  facts.codec === 'h264' &&
  !facts.showsFields &&
  /^yuvj?420p$/.test(facts.pixelFormat) &&
  facts.pixelAspect === 1 &&
  facts.showsEveryPacket &&
  facts.width * facts.height <= 1920 * 1088 &&
  /mp4|mov/.test(facts.container)

/**
 * A proxy is skipped when the original already decodes fast everywhere: shown at once, not turned, key frames close
 * together.
 */
export const needsProxy = (facts: ClipFacts): boolean =>
  !(showsAtOnce(facts) && facts.rotationDeg === 0 && facts.longestKeyDistance <= 2 * keyEvery)

/** How far the copy's frames are from the original's: how many there are, and the largest difference of a timestamp. */
const differenceOf = (made: ClipFacts, facts: ClipFacts) => ({
  frames: made.frameCount,
  worstSeconds: made.atSeconds.reduce(
    (most, t, i) => Math.max(most, Math.abs(t - (facts.atSeconds[i] ?? Infinity))),
    0,
  ),
})

/**
 * Writes an upright H.264 copy with every frame (of an interlaced film: every field) and every timestamp of the original, no sound, and checks that it has.
 * @returns what the copy is
 * @throws Problem `proxy-differs` if a frame or a timestamp was lost
 */
export const makeProxy = async (
  file: string,
  target: string,
  facts: ClipFacts,
  options: RunOptions,
  /** The picture of one frame, written out of the same decoding. */
  poster: { file: string; frame: number } | null = null,
): Promise<ClipFacts> => {
  await encodeProxy(file, target, facts, options, poster)
  const made = await probeClip(target, options)
  const { frames, worstSeconds } = differenceOf(made, facts)
  // Half a frame of a 480 frames/s clip is the most that could ever be taken for another frame.
  if (frames === facts.frameCount && worstSeconds <= 0.001) return made
  throw new Problem('proxy-differs', {
    frames,
    wanted: facts.frameCount,
    worstMs: (worstSeconds * 1000).toFixed(1),
    where: options.clipName,
  })
}

const encodeProxy = async (
  file: string,
  target: string,
  facts: ClipFacts,
  options: RunOptions,
  poster: { file: string; frame: number } | null,
): Promise<void> => {
  const isLarge = facts.width * facts.height > 1920 * 1088
  const scale = isLarge ? 1920 / Math.max(facts.width, facts.height) : 1
  const even = (pixels: number) => Math.max(2, 2 * Math.round((pixels * scale) / 2))
  const fields = facts.showsFields ? `${fieldsFilter},` : ''
  const scaled = `scale=${even(facts.width)}:${even(facts.height)},setsar=1`
  const withPoster = (command: FfmpegCommand): FfmpegCommand => {
    if (poster === null) return command
    const args = posterArgs(poster.file, poster.frame, facts, options.programs, fields)
    return command.output(poster.file).outputOptions(args.slice(0, -1))
  }
  await runFfmpeg(
    'doing.preparing',
    (command) => {
      const copy = command
        .input(file)
        .output(target)
        .outputOptions(['-map', '0:V:0', '-an', '-sn', '-dn', '-map_metadata', '-1'])
        .outputOptions([
          '-vf',
          `${fields}${isLarge || facts.pixelAspect !== 1 ? scaled : 'crop=trunc(iw/2)*2:trunc(ih/2)*2:0:0'}`,
        ])
        .outputOptions(keepEveryTimestamp(options.programs))
        .outputOptions(['-c:v', 'libx264', ...forFastMaking, '-pix_fmt', 'yuv420p'])
        .outputOptions(forFastDecoding)
        .outputOptions(['-g', `${keyEvery}`, '-keyint_min', `${keyEvery}`, '-sc_threshold', '0', '-bf', '0'])
        .outputOptions(['-enc_time_base', '-1', '-video_track_timescale', '90000'])
        // Without B-frames no edit list is needed; an old ffmpeg's hides the last frame.
        .outputOptions(['-use_editlist', '0', '-movflags', '+faststart', '-f', 'mp4'])
      return withPoster(copy)
    },
    { ...options, durationSeconds: facts.durationSeconds },
  )
}
