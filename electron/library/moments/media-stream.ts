import { spawn } from 'node:child_process'
import path from 'node:path'
import { Problem } from '../../../shared-core/problem.ts'
import { reasonOf } from '../media/reason-of.ts'

/** Throws the signal's reason once it has aborted. */
const throwIfAborted = (signal: AbortSignal | undefined): void => {
  if (signal?.aborted) throw signal.reason instanceof Error ? signal.reason : new Error('cancelled')
}

/**
 * Runs a media program and hands its output over as it comes, never faster than it is taken.
 * Ends the program when the consumer stops early or `signal` aborts (then throws the signal's reason).
 * @throws Problem `clip-unreadable`, naming the clip, with the program's reason, unless `mayFail`
 */
export async function* mediaStream(
  program: string,
  args: string[],
  options: { clip: string; signal?: AbortSignal; onLog?: (text: string) => void; mayFail?: boolean },
): AsyncGenerator<Buffer> {
  const { clip, signal, onLog, mayFail = false } = options
  throwIfAborted(signal)
  const child = spawn(program, args, { stdio: ['ignore', 'pipe', 'pipe'], windowsHide: true })
  const abort = () => child.kill('SIGKILL')
  signal?.addEventListener('abort', abort, { once: true })
  let log = ''
  let failure: Error | null = null
  child.stderr.setEncoding('utf8')
  child.stderr.on('data', (text: string) => {
    onLog?.(text)
    log = (log + text).slice(-8000)
  })
  const closed = new Promise<number | null>((resolve) => {
    child.on('error', (error) => {
      failure = error
      resolve(null)
    })
    child.on('close', (code) => resolve(code))
  })
  try {
    for await (const piece of child.stdout) yield piece as Buffer
    const code = await closed
    throwIfAborted(signal)
    if (failure !== null) {
      throw new Problem('no-ffmpeg', `${path.basename(program)} could not be started`, {
        where: path.basename(clip),
        toDo: 'Run "leadside check" to see which ffmpeg is in use',
        cause: failure,
      })
    }
    if (code !== 0 && !mayFail) {
      throw new Problem(
        'clip-unreadable',
        `the clip cannot be read: ${reasonOf(log.replaceAll(clip, path.basename(clip)))}`,
        {
          where: path.basename(clip),
          toDo: 'Play the file to see whether it is whole, or copy it from the camera again',
        },
      )
    }
  } finally {
    signal?.removeEventListener('abort', abort)
    if (child.exitCode === null) child.kill('SIGKILL')
  }
}
