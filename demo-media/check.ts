import { execFileSync } from 'node:child_process'
import { readFileSync, readdirSync, statSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { planFilm } from './clip-film.ts'
import { project } from './camera.ts'
import type { ClipTruth } from './clip-truth.ts'
import { findFfmpeg } from './encode.ts'
import { demoLesson } from './scenario.ts'

/**
 * Looks at the files as they are and compares them with their truth: `node demo-media/check.ts`. Needs ffprobe on
 * the PATH (or FFPROBE_PATH). Prints one line a clip; ends with 1 when something does not agree.
 */
const folder = path.dirname(fileURLToPath(import.meta.url))
const ffmpeg = findFfmpeg()
const ffprobe = process.env['FFPROBE_PATH'] ?? 'ffprobe'
const soundRate = 48_000

type Probe = {
  streams: {
    codec_type: string
    codec_name: string
    codec_tag_string: string
    width?: number
    height?: number
    side_data_list?: { rotation?: number }[]
  }[]
  format: { tags?: { creation_time?: string } }
}

const probe = (file: string): Probe =>
  JSON.parse(
    execFileSync(
      ffprobe,
      [
        ...'-v error -show_streams -show_format -of json'.split(' '),
        '-show_entries',
        'packet=pts_time',
        file,
      ],
      { encoding: 'utf8', maxBuffer: 1 << 26 },
    ),
  ) as Probe

const videoTimes = (file: string): number[] =>
  execFileSync(
    ffprobe,
    [...'-v error -select_streams v:0 -show_entries packet=pts_time -of csv=p=0'.split(' '), file],
    { encoding: 'utf8', maxBuffer: 1 << 26 },
  )
    .split('\n')
    .map((line) => parseFloat(line))
    .filter((t) => !Number.isNaN(t))
    .sort((a, b) => a - b)

/** Mean brightness of a small square in every decoded frame, displayed orientation. */
const patchByFrame = (file: string, x: number, y: number, half: number): number[] => {
  const size = half * 2
  const raw = execFileSync(
    ffmpeg,
    [
      ...[
        '-v',
        'error',
        '-i',
        file,
        '-vf',
        `crop=${size}:${size}:${Math.round(x) - half}:${Math.round(y) - half}`,
      ],
      ...['-fps_mode', 'passthrough', '-f', 'rawvideo', '-pix_fmt', 'gray', '-'],
    ],
    { maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'ignore'] },
  )
  const patches: number[] = []
  for (let at = 0; at + size * size <= raw.length; at += size * size) {
    let sum = 0
    for (let i = 0; i < size * size; i++) sum += raw[at + i]!
    patches.push(sum / (size * size))
  }
  return patches
}

/** First sample above 35 % of the peak within ±15 ms (real) of the expected time, in file seconds. */
const strikeOnset = (file: string, expected: number, slow: number): number => {
  const raw = execFileSync(
    ffmpeg,
    ['-v', 'error', '-i', file, '-vn', '-ac', '1', '-ar', String(soundRate), '-f', 'f32le', '-'],
    { maxBuffer: 1 << 28 },
  )
  const sound = new Float32Array(raw.buffer.slice(raw.byteOffset, raw.byteOffset + (raw.length & ~3)))
  const from = Math.max(0, Math.round((expected - 0.015 * slow) * soundRate))
  const to = Math.min(sound.length, Math.round((expected + 0.015 * slow) * soundRate))
  let peak = 0
  for (let i = from; i < to; i++) peak = Math.max(peak, Math.abs(sound[i]!))
  for (let i = from; i < to; i++) if (Math.abs(sound[i]!) > peak * 0.35) return i / soundRate
  return NaN
}

const { clips } = demoLesson()
let bytes = 0
let faults = 0
for (const { kind, swings } of clips) {
  const film = planFilm(kind, swings)
  const truth = JSON.parse(readFileSync(path.join(folder, `${kind.name}.truth.json`), 'utf8')) as ClipTruth
  const file = path.join(folder, truth.file)
  const wrong: string[] = []
  const seen = probe(file)
  const video = seen.streams.find((s) => s.codec_type === 'video')!
  const sound = seen.streams.find((s) => s.codec_type === 'audio')
  const times = videoTimes(file)
  if (video.codec_name !== truth.codec) wrong.push(`codec ${video.codec_name}`)
  if (truth.codec === 'hevc' && video.codec_tag_string !== 'hvc1') wrong.push(`tag ${video.codec_tag_string}`)
  const rotation = (360 - (video.side_data_list?.find((d) => d.rotation !== undefined)?.rotation ?? 0)) % 360
  if (rotation !== truth.rotationDeg) wrong.push(`rotation ${rotation}`)
  const shown = rotation === 90 ? [video.height, video.width] : [video.width, video.height]
  if (shown[0] !== truth.widthPx || shown[1] !== truth.heightPx) wrong.push(`size ${shown.join('×')}`)
  if (times.length !== truth.frames) wrong.push(`${times.length} frames for ${truth.frames}`)
  const drift = Math.max(...times.map((t, i) => Math.abs(t - times[0]! - (film.fileTimes[i] ?? NaN))))
  if (!(drift < 0.0006)) wrong.push(`frame times off by ${(drift * 1000).toFixed(2)} ms`)
  const created = seen.format.tags?.creation_time
  if (Date.parse(created ?? '') !== Date.parse(truth.creationTime)) wrong.push(`creation time ${created}`)
  if (Boolean(sound) !== truth.sound) wrong.push(sound ? 'has sound' : 'no sound')
  const notes: string[] = []
  truth.swings.forEach((swing, k) => {
    const { frame } = swing.moments.impact
    const [x, y] = project(film.view, film.filmed[k]!.motion.ballRest)
    const patch = patchByFrame(file, x, y, 2)
    // Compared with the top of the swing, when nothing is in front of the ball.
    const watched = [swing.moments.top.frame, frame, frame + 1, frame + 2]
    const [before, there, next, gone] = watched.map((i) => patch[i]!)
    // The ball, the brightest thing on the mat, rests up to the impact frame, has moved in the next, is gone after.
    const rests = there! > 140 && Math.abs(there! - before!) < 12
    if (!(rests && there! - next! > 12 && there! - gone! > 60)) {
      wrong.push(`ball ${[before, there, next, gone].map((v) => v!.toFixed(0)).join(' ')} about impact`)
    }
    if (patch.length !== truth.frames) wrong.push(`${patch.length} frames decoded`)
    notes.push(`ball ${there!.toFixed(0)}→${next!.toFixed(0)}→${gone!.toFixed(0)}`)
    if (swing.strikeHeardAtFileSeconds !== null) {
      const slow = truth.captureRate / truth.playbackRate
      const off =
        (1000 * (strikeOnset(file, swing.strikeHeardAtFileSeconds, slow) - swing.strikeHeardAtFileSeconds)) /
        slow
      if (!(Math.abs(off) < 1.5)) wrong.push(`strike off by ${off.toFixed(2)} ms`)
      notes.push(`strike ${off.toFixed(2)} ms`)
    }
    const speed = swing.modelClubSpeedMps / swing.clubSpeedMps - 1
    if (Math.abs(speed) > 0.02) wrong.push(`club speed off by ${(speed * 100).toFixed(1)} %`)
  })
  faults += wrong.length
  console.log(
    `${wrong.length ? 'WRONG' : 'ok   '} ${truth.file.padEnd(28)} ${Math.round(statSync(file).size / 1024)} kB  ${notes.join(', ')}  ${wrong.join('; ')}`,
  )
}
for (const name of readdirSync(folder)) bytes += statSync(path.join(folder, name)).size
console.log(`all files together ${(bytes / 1e6).toFixed(2)} MB`)
if (faults > 0 || bytes > 11e6) process.exitCode = 1
