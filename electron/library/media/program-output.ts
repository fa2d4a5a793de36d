import { spawn } from 'node:child_process'

/** How a media program ended. */
export interface Ending {
  /** Its exit code; null if it was ended by a signal or never started. */
  code: number | null
  signalName: NodeJS.Signals | null
  /** Why it could not be started. */
  failure: Error | null
  /** The end of what it said on its standard error. */
  log: string
}

const keptOfLog = 20_000

/**
 * Runs a media program and hands its standard output over as it comes, never faster than it is taken, so memory stays
 * constant. Ends the program when the consumer stops early or `signal` aborts. Never throws of itself: what an ending
 * means to the coach is for the caller to say.
 */
export async function* programOutput(
  program: string,
  args: string[],
  options: { signal?: AbortSignal; onLog?: (text: string) => void } = {},
): AsyncGenerator<Buffer, Ending> {
  const { signal, onLog } = options
  const child = spawn(program, args, { stdio: ['ignore', 'pipe', 'pipe'], windowsHide: true })
  const abort = () => child.kill('SIGKILL')
  signal?.addEventListener('abort', abort, { once: true })
  if (signal?.aborted) abort()
  let log = ''
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    onLog?.(text)
    log = (log + text).slice(-keptOfLog)
  })
  const closed = new Promise<Omit<Ending, 'log'>>((resolve) => {
    child.once('error', (failure) => resolve({ code: null, signalName: null, failure }))
    child.once('close', (code, signalName) => resolve({ code, signalName, failure: null }))
  })
  try {
    for await (const piece of child.stdout) yield piece as Buffer
    return { ...(await closed), log }
  } finally {
    signal?.removeEventListener('abort', abort)
    if (child.exitCode === null) child.kill('SIGKILL')
  }
}
