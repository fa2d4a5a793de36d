import path from 'node:path'
import ffmpegCommand, { type FfmpegCommand } from 'fluent-ffmpeg'
import { Problem } from '../../../shared-core/problem.ts'
import type { MediaPrograms } from './ffmpeg-path.ts'
import { overPhrase, programOutput, type Feed, type RunLimits } from './program-output.ts'
import { reasonOf } from './reason-of.ts'
import { phrase, type PhraseKey } from '../../../shared-core/wording/phrase.ts'

/** Work that was stopped on purpose; never reported as a failure. */
export class Cancelled extends Error {
  constructor() {
    super('cancelled')
    this.name = 'Cancelled'
  }
}

export interface RunOptions {
  programs: MediaPrograms
  /** Name of the clip as the coach knows it, for messages. */
  clipName: string
  signal?: AbortSignal
  onProgress?: (share: number) => void
  /** Length of the output in seconds, to turn ffmpeg's time into a share. */
  durationSeconds?: number
  /** Where the usual ones are too wide. */
  limits?: Partial<RunLimits>
  /** What is written into the program's pipes 3, 4… while it runs. */
  feeds?: readonly Feed[]
}

/** What a program was run for, as the coach is told where it fails (`doing.…` in `wording/coach/phrases.ts`). */
export type Doing = Extract<PhraseKey, `doing.${string}`>

export const mediaProblem = (clipName: string, doing: Doing, stderr: string, cause?: unknown) => {
  if (/no space left/i.test(stderr)) {
    return new Problem('disk-full.brokenOff', { doing: phrase(doing), where: clipName }, { cause })
  }
  // Our own list of kinds (guarded-args.ts), not a fault of the file.
  if (/format not on whitelist/i.test(stderr)) {
    return new Problem('not-a-clip.otherKind', { where: clipName }, { cause })
  }
  return new Problem(
    'media.said',
    { doing: phrase(doing), reason: reasonOf(stderr), where: clipName },
    { cause },
  )
}

/** `-fps_mode passthrough` came with ffmpeg 5.1 and replaced `-vsync`. */
export const keepEveryTimestamp = (programs: Pick<MediaPrograms, 'hasFpsMode'>): string[] =>
  programs.hasFpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', 'passthrough']

/** Seconds in ffmpeg's "time=00:01:02.50"; null if the text has none. */
const timeIn = (text: string): number | null => {
  const [, h, m, s] = /time=(\d+):(\d\d):(\d\d(?:\.\d+)?)/.exec(text) ?? []
  return h === undefined ? null : Number(h) * 3600 + Number(m) * 60 + Number(s)
}

/**
 * Runs one ffmpeg job that writes a file. `build` gets a fluent-ffmpeg command and adds inputs and outputs; only its
 * arguments are used, the program is run by `programOutput`, guarded and held to limits like every other.
 * @throws Cancelled when the signal fires first; Problem `media` with ffmpeg's reason.
 */
export const runFfmpeg = async (
  doing: Doing,
  build: (command: FfmpegCommand) => FfmpegCommand,
  options: RunOptions,
): Promise<void> => {
  const command = build(ffmpegCommand({ logger: undefined })) as FfmpegCommand & {
    _getArguments(): string[]
  }
  const { durationSeconds, onProgress } = options
  const onLog = (text: string) => {
    const at = timeIn(text)
    if (at !== null && durationSeconds) onProgress?.(Math.min(1, at / durationSeconds))
  }
  const args = ['-hide_banner', '-nostdin', '-stats', ...command._getArguments().map(String)]
  await pipeFrom(doing, options.programs.ffmpeg.file, args, () => {}, { ...options, onLog })
}

/**
 * Runs ffmpeg or ffprobe and gives its standard output piece by piece; memory stays constant.
 * @throws Cancelled, Problem `media`
 */
export const pipeFrom = async (
  doing: Doing,
  program: string,
  args: string[],
  onData: (chunk: Buffer) => void,
  options: Omit<RunOptions, 'programs'> & { onLog?: (text: string) => void },
): Promise<{ stderr: string }> => {
  const { signal, clipName, limits, onLog, feeds } = options
  if (signal?.aborted) throw new Cancelled()
  const output = programOutput(program, args, {
    ...(signal ? { signal } : {}),
    ...(limits ? { limits } : {}),
    ...(onLog ? { onLog } : {}),
    ...(feeds ? { feeds } : {}),
  })
  let step = await output.next()
  try {
    for (; !step.done; step = await output.next()) onData(step.value)
  } catch (error) {
    await output.return(undefined as never)
    throw error
  }
  const { code, signalName, failure, over, log } = step.value
  if (failure) throw mediaProblem(clipName, doing, failure.message, failure)
  if (signal?.aborted) throw new Cancelled()
  if (over !== null) {
    throw new Problem('media.over', { doing: phrase(doing), limit: overPhrase(over), where: clipName })
  }
  if (code === 0) return { stderr: log }
  const name = path.basename(program)
  if (signalName === 'SIGSEGV' || signalName === 'SIGABRT' || signalName === 'SIGBUS') {
    throw new Problem('media.crash', { doing: phrase(doing), program: name, where: clipName })
  }
  throw mediaProblem(clipName, doing, log || `${name} stopped (${signalName ?? `exit code ${code}`})`)
}

/** Times of a million frames, as text. */
const maxText = 256 * 1024 * 1024

/** Standard output of a short run as text. */
export const textFrom = async (
  doing: Doing,
  program: string,
  args: string[],
  options: Omit<RunOptions, 'programs'>,
): Promise<string> => {
  const chunks: Buffer[] = []
  const limits = { seconds: 600, outputBytes: maxText, ...options.limits }
  await pipeFrom(doing, program, args, (chunk) => chunks.push(chunk), { ...options, limits })
  return Buffer.concat(chunks).toString('utf8')
}
