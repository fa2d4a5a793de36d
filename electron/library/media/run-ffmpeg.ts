import path from 'node:path'
import ffmpegCommand, { type FfmpegCommand } from 'fluent-ffmpeg'
import { Problem } from '../../../shared-core/problem.ts'
import type { MediaPrograms } from './ffmpeg-path.ts'
import { programOutput } from './program-output.ts'
import { reasonOf } from './reason-of.ts'

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
}

export const mediaProblem = (clipName: string, doing: string, stderr: string, cause?: unknown) =>
  new Problem('media', `${doing} failed (ffmpeg: ${reasonOf(stderr)})`, {
    where: clipName,
    toDo: /no space/i.test(stderr)
      ? 'Free some disk space and try again'
      : 'Check that the file plays elsewhere; the other clips are not affected',
    cause,
  })

/** `-fps_mode passthrough` came with ffmpeg 5.1 and replaced `-vsync`. */
export const keepEveryTimestamp = (programs: Pick<MediaPrograms, 'hasFpsMode'>): string[] =>
  programs.hasFpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', 'passthrough']

/**
 * Runs one ffmpeg job that writes a file. `build` gets a fluent-ffmpeg command and adds inputs and outputs.
 * @throws Cancelled when the signal fires first; Problem `media` with ffmpeg's reason.
 */
export const runFfmpeg = (
  doing: string,
  build: (command: FfmpegCommand) => FfmpegCommand,
  options: RunOptions,
): Promise<void> =>
  new Promise((resolve, reject) => {
    const { programs, signal } = options
    if (signal?.aborted) {
      reject(new Cancelled())
      return
    }
    const command = build(
      ffmpegCommand({ logger: undefined })
        .setFfmpegPath(programs.ffmpeg.file)
        .setFfprobePath(programs.ffprobe.file),
    )
    const stop = () => command.kill('SIGKILL')
    signal?.addEventListener('abort', stop, { once: true })
    command
      .on('progress', ({ timemark }: { timemark?: string }) => {
        if (!timemark || !options.durationSeconds) return
        const [h = 0, m = 0, s = 0] = timemark.split(':').map(Number)
        const share = (h * 3600 + m * 60 + s) / options.durationSeconds
        if (Number.isFinite(share)) options.onProgress?.(Math.min(1, Math.max(0, share)))
      })
      .on('end', () => {
        signal?.removeEventListener('abort', stop)
        resolve()
      })
      .on('error', (error: Error, _out: string | null, stderr: string | null) => {
        signal?.removeEventListener('abort', stop)
        reject(
          signal?.aborted
            ? new Cancelled()
            : mediaProblem(options.clipName, doing, stderr || error.message, error),
        )
      })
      .run()
  })

/**
 * Runs ffmpeg or ffprobe and gives its standard output piece by piece; memory stays constant.
 * @throws Cancelled, Problem `media`
 */
export const pipeFrom = async (
  doing: string,
  program: string,
  args: string[],
  onData: (chunk: Buffer) => void,
  options: Omit<RunOptions, 'programs'>,
): Promise<{ stderr: string }> => {
  const { signal, clipName } = options
  if (signal?.aborted) throw new Cancelled()
  const output = programOutput(program, args, { signal })
  let step = await output.next()
  try {
    for (; !step.done; step = await output.next()) onData(step.value)
  } catch (error) {
    await output.return(undefined as never)
    throw error
  }
  const { code, signalName, failure, log } = step.value
  if (failure) throw mediaProblem(clipName, doing, failure.message, failure)
  if (signal?.aborted) throw new Cancelled()
  if (code === 0) return { stderr: log }
  const name = path.basename(program)
  if (signalName === 'SIGSEGV' || signalName === 'SIGABRT' || signalName === 'SIGBUS') {
    throw new Problem('media', `${doing} failed: the ${name} in use crashes on this file`, {
      where: clipName,
      toDo: 'Install a newer ffmpeg ("leadside check" tells which is in use), or save the clip as MP4; the other clips are not affected',
    })
  }
  throw mediaProblem(clipName, doing, log || `${name} stopped (${signalName ?? `exit code ${code}`})`)
}

/** Standard output of a short run as text. */
export const textFrom = async (
  doing: string,
  program: string,
  args: string[],
  options: Omit<RunOptions, 'programs'>,
): Promise<string> => {
  const chunks: Buffer[] = []
  await pipeFrom(doing, program, args, (chunk) => chunks.push(chunk), options)
  return Buffer.concat(chunks).toString('utf8')
}
