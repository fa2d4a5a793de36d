import fs from 'node:fs'
import path from 'node:path'
import { setImmediate } from 'node:timers/promises'
import { Problem } from '../../../shared-core/problem.ts'
import { embeddedProfile, toSrgbFrom, type ToSrgb } from './colour-profile.ts'
import { makePoster, makeStrip } from './pictures.ts'
import type { ClipFacts } from './probe.ts'
import { pictureOrientation, turnFilter } from './picture-turn.ts'
import { runFfmpeg, textFrom, type RunOptions } from './run-ffmpeg.ts'
import { type ProblemKey } from '../../../shared-core/wording/problem-words.ts'

export const stillExtensions = new Set(['.jpg', '.jpeg', '.png', '.webp', '.heic', '.heif'])
export const isStillName = (file: string): boolean => stillExtensions.has(path.extname(file).toLowerCase())

/** The longest side of what is looked at, pixels; the photo itself stays as it is. */
const longestPx = 3840
/** Large enough to read a strike from. */
const posterHeightPx = 1080
const maxBytes = 60_000_000
const maxPixels = 120_000_000
const limits = { seconds: 120, memoryBytes: 3 * 2 ** 29 }

const wrong = (key: Extract<ProblemKey, `bad-picture.${string}`>, where: string) =>
  new Problem(key, { where })

/** Width, height and number of pictures as stored. */
const storedSize = async (file: string, options: RunOptions) => {
  const text = await textFrom(
    'doing.picture',
    options.programs.ffprobe.file,
    ['-v', 'error', '-select_streams', 'v', '-show_entries', 'stream=width,height', '-of', 'csv=p=0', file],
    { ...options, limits },
  )
  const sizes = text
    .trim()
    .split(/\s+/)
    .map((line) => line.split(',').map(Number))
  return { width: sizes[0]?.[0] ?? 0, height: sizes[0]?.[1] ?? 0, count: sizes.length }
}

/** Changes the colours of a file of raw pixels; others get their turn in between. */
const convertFile = async (file: string, toSrgb: ToSrgb) => {
  const pixels = fs.readFileSync(file)
  const pieceBytes = 4 * 500_000
  for (let at = 0; at < pixels.length; at += pieceBytes) {
    toSrgb(pixels.subarray(at, at + pieceBytes))
    await setImmediate()
  }
  fs.writeFileSync(file, pixels)
}

/**
 * Makes of a photo what a film's clip has: a film of one frame, upright, in the colours that the window and the hand-over
 * expect (BT.709, video range; those of an embedded profile are converted), on white where it is see-through, with nothing of the photo's but its pixels; a poster, a
 * row of thumbnails. `hasKnownColours` is false where its profile is of a kind that can't be read.
 * @throws Problem `bad-picture`, `media`
 */
export const makeStillParts = async (file: string, work: string, options: RunOptions) => {
  const isHeic = /^\.hei[cf]$/.test(path.extname(file).toLowerCase())
  const { clipName } = options
  const noHeic = () => wrong('bad-picture.heic', clipName)
  if (fs.statSync(file).size > maxBytes) {
    throw wrong('bad-picture.stillFileTooLarge', clipName)
  }
  let stored: Awaited<ReturnType<typeof storedSize>>
  try {
    stored = await storedSize(file, options)
  } catch (error) {
    if (isHeic && error instanceof Problem) throw noHeic()
    throw error
  }
  // Without support such a file is a heap of tiles, or its small preview.
  if (isHeic && (stored.count !== 1 || stored.width <= 512)) throw noHeic()
  if (!(stored.width > 1 && stored.height > 1)) {
    throw wrong('bad-picture.unreadable', clipName)
  }
  if (stored.width * stored.height > maxPixels) {
    throw wrong('bad-picture.stillTooLarge', clipName)
  }
  const proxy = path.join(work, 'proxy.mp4')
  const bytes = fs.readFileSync(file)
  const orientation = isHeic ? 1 : pictureOrientation(bytes)
  const profile = embeddedProfile(bytes)
  const toSrgb = profile ? toSrgbFrom(profile) : 'same'
  const shrink = Math.min(1, longestPx / Math.max(stored.width, stored.height))
  const isTurned = orientation >= 5
  const even = (pixels: number) => Math.max(2, 2 * Math.round((pixels * shrink) / 2))
  const [width, height] = [
    even(isTurned ? stored.height : stored.width),
    even(isTurned ? stored.width : stored.height),
  ]
  const onWhite =
    'format=rgba,split[a][b];[a]lutrgb=r=255:g=255:b=255:a=255[w];[w][b]overlay=format=rgb:shortest=1'
  const upright = `${turnFilter(orientation)}scale=${width}:${height}:flags=lanczos+accurate_rnd,setsar=1`
  let source = { file, inputOptions: isHeic ? [] : ['-noautorotate'], filters: [upright] }
  if (typeof toSrgb === 'function') {
    const raw = path.join(work, 'colours.rgba')
    await runFfmpeg(
      'doing.picture',
      (command) =>
        command
          .input(file)
          .inputOptions(source.inputOptions)
          .outputOptions(['-map', '0:v:0', '-an', '-frames:v', '1', '-vf', `${upright},format=rgba`])
          .outputOptions(['-f', 'rawvideo'])
          .output(raw),
      { ...options, limits },
    )
    await convertFile(raw, toSrgb)
    const shape = ['-f', 'rawvideo', '-pix_fmt', 'rgba', '-s', `${width}x${height}`]
    source = { file: raw, inputOptions: shape, filters: [] }
  }
  const filter = [
    ...source.filters,
    onWhite,
    'scale=out_range=tv:out_color_matrix=bt709:flags=accurate_rnd+full_chroma_int,format=yuv420p',
  ].join(',')
  await runFfmpeg(
    'doing.picture',
    (command) =>
      command
        .input(source.file)
        .inputOptions(source.inputOptions)
        .outputOptions(['-map', '0:v:0', '-an', '-map_metadata', '-1', '-frames:v', '1', '-vf', filter])
        .outputOptions(['-c:v', 'libx264', '-preset', 'medium', '-crf', '12', '-bf', '0'])
        .outputOptions(['-color_range', 'tv', '-colorspace', 'bt709'])
        .outputOptions(['-color_primaries', 'bt709', '-color_trc', 'bt709'])
        .outputOptions(['-use_editlist', '0', '-movflags', '+faststart', '-f', 'mp4'])
        .output(proxy),
    { ...options, limits },
  )
  const facts: ClipFacts = {
    codec: path.extname(file).slice(1).toLowerCase(),
    pixelFormat: 'yuv420p',
    ...{ width, height, rotationDeg: 0, pixelAspect: 1, frameCount: 1, durationSeconds: 0, playbackRate: 25 },
    ...{ hasVariableRate: false, atSeconds: new Float64Array(1), firstSeconds: 0, showsEveryPacket: true },
    ...{ longestKeyDistance: 1, recordedAt: null, cameraTag: null, taggedCaptureRate: null, hasSound: false },
    ...{ container: 'picture', statedSeconds: null, isInterlaced: false, showsFields: false },
  }
  const strip = path.join(work, 'strip.jpg')
  const poster = path.join(work, 'poster.jpg')
  await makeStrip(proxy, strip, facts, options)
  await makePoster(proxy, poster, 0, facts, options, Math.min(height, posterHeightPx))
  return { facts, parts: { proxy, strip, poster, peaks: null }, hasKnownColours: toSrgb !== null }
}
