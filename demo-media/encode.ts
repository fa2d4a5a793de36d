import { execFileSync, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import os from 'node:os'
import path from 'node:path'
import { rotateClockwise } from './display-rotation.ts'

/** The ffmpeg to use: FFMPEG_PATH, the one on the PATH, else the one of @ffmpeg-installer. */
export const findFfmpeg = (): string => {
  const candidates = [process.env['FFMPEG_PATH'], 'ffmpeg']
  try {
    const require = createRequire(import.meta.url)
    candidates.push((require('@ffmpeg-installer/ffmpeg') as { path: string }).path)
  } catch {
    // Not installed: the others may do.
  }
  for (const candidate of candidates) {
    if (!candidate || (path.isAbsolute(candidate) && !existsSync(candidate))) continue
    try {
      execFileSync(candidate, ['-hide_banner', '-version'], { stdio: 'pipe' })
      return candidate
    } catch {
      // Try the next.
    }
  }
  throw new Error('no ffmpeg found: set FFMPEG_PATH, or install ffmpeg')
}

const majorVersion = (ffmpeg: string): number => {
  const text = execFileSync(ffmpeg, ['-hide_banner', '-version'], { encoding: 'utf8' })
  return Number(/version n?(\d+)\./.exec(text)?.[1] ?? 4)
}

export type EncodeJob = {
  ffmpeg: string
  file: string
  codec: 'h264' | 'hevc'
  /** Size of the frames given, as displayed. */
  widthPx: number
  heightPx: number
  rotated: boolean
  /** Times of the frames in the file, seconds from the first; equally spaced unless `variableRate`. */
  frameTimes: readonly number[]
  playbackRate: number
  variableRate: boolean
  crf: number
  wav: Buffer | null
  creationTime: string
  frames: Iterable<Buffer>
}

/** Terms added in nested pairs: ffmpeg's expressions allow no long chains. */
const bracketedSum = (terms: readonly string[]): string => {
  if (terms.length <= 1) return terms[0] ?? '0'
  const half = Math.ceil(terms.length / 2)
  return `(${bracketedSum(terms.slice(0, half))}+${bracketedSum(terms.slice(half))})`
}

/** Encodes raw frames (and sound) into one file. One encoder thread, so that the bytes do not depend on the machine. */
export const encode = async (job: EncodeJob): Promise<void> => {
  const scratch = mkdtempSync(path.join(os.tmpdir(), 'leadside-demo-media-'))
  try {
    const wavFile = path.join(scratch, 'sound.wav')
    if (job.wav) writeFileSync(wavFile, job.wav)
    const filters: string[] = []
    if (job.rotated) filters.push('transpose=2')
    filters.push('scale=out_color_matrix=bt709:out_range=tv', 'format=yuv420p')
    const clock = 90_000
    const timing: string[] = []
    if (job.variableRate) {
      // Timestamps as a sum of steps, one for each frame: PTS = Σ [N ≥ k]·d_k
      const ticks = job.frameTimes.map((t) => Math.round(t * clock))
      const steps = ticks.slice(1).map((tick, i) => `gte(N\\,${i + 1})*${tick - ticks[i]!}`)
      filters.push(`settb=1/${clock}`, `setpts=${bracketedSum(steps)}`)
      timing.push(majorVersion(job.ffmpeg) >= 6 ? '-fps_mode' : '-vsync', 'vfr')
      timing.push('-enc_time_base', `1:${clock}`)
      timing.push('-video_track_timescale', String(clock))
    }
    const codec =
      job.codec === 'h264'
        ? ['-c:v', 'libx264', '-preset', 'slow', '-profile:v', 'high', '-threads', '1']
        : [
            '-c:v',
            'libx265',
            '-preset',
            'medium',
            '-tag:v',
            'hvc1',
            '-x265-params',
            'pools=none:frame-threads=1:log-level=error',
          ]
    const arguments_ = [
      ...['-hide_banner', '-loglevel', 'error', '-y'],
      ...['-f', 'rawvideo', '-pix_fmt', 'rgb24', '-s', `${job.widthPx}x${job.heightPx}`],
      ...['-r', String(job.playbackRate), '-i', 'pipe:0'],
      ...(job.wav
        ? ['-i', wavFile, '-map', '0:v', '-map', '1:a', '-c:a', 'aac', '-b:a', '64k']
        : ['-map', '0:v']),
      ...['-vf', filters.join(',')],
      ...codec,
      ...['-crf', String(job.crf), '-g', String(Math.min(250, job.playbackRate * 2))],
      ...['-colorspace', 'bt709', '-color_primaries', 'bt709', '-color_trc', 'bt709', '-color_range', 'tv'],
      ...timing,
      ...['-fflags', '+bitexact', '-flags:v', '+bitexact', '-flags:a', '+bitexact'],
      ...['-metadata', `creation_time=${job.creationTime}`, '-movflags', '+faststart'],
      job.file,
    ]
    const child = spawn(job.ffmpeg, arguments_, { stdio: ['pipe', 'ignore', 'pipe'] })
    let reason = ''
    child.stderr.on('data', (data: Buffer) => (reason += data.toString()))
    child.stdin.on('error', () => undefined)
    const ended = once(child, 'close')
    for (const frame of job.frames) {
      if (child.exitCode !== null || child.stdin.destroyed) break
      // A pipe that breaks is reported below, with ffmpeg's own reason.
      if (!child.stdin.write(frame)) {
        await Promise.race([once(child.stdin, 'drain'), ended]).catch(() => undefined)
      }
    }
    child.stdin.end()
    const [code] = (await ended) as [number | null]
    if (code !== 0) throw new Error(`ffmpeg failed on ${path.basename(job.file)}: ${reason.trim()}`)
    if (job.rotated) {
      const bytes = readFileSync(job.file)
      rotateClockwise(bytes, job.widthPx)
      writeFileSync(job.file, bytes)
    }
  } finally {
    rmSync(scratch, { recursive: true, force: true })
  }
}
