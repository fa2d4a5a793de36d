import { spawn, type ChildProcess, type StdioOptions } from 'node:child_process'
import path from 'node:path'
import type { Writable } from 'node:stream'
import { guardedArgs } from './guarded-args.ts'
import { phrase, type Phrase } from '../../../shared-core/wording/phrase.ts'

/** How a media program ended. */
export interface Ending {
  /** Its exit code; null if it was ended by a signal or never started. */
  code: number | null
  signalName: NodeJS.Signals | null
  /** Why it could not be started. */
  failure: Error | null
  /** The limit that it went over, and was ended for. */
  over: keyof RunLimits | null
  /** The end of what it said on its standard error. */
  log: string
}

/** What one run may take. A clip's file is whatever somebody made it; a small one can ask for a machine. */
export interface RunLimits {
  /** From start to end, by the clock. */
  seconds: number
  /** Address space, where the system can hold a program to it (not on Windows). */
  memoryBytes: number
  /** Standard output, or any one file. */
  outputBytes: number
}

/** Writes one of a program's inputs into its pipe, and ends it. */
export type Feed = (into: Writable) => Promise<void>

const gib = 1 << 30
export const usualLimits: RunLimits = { seconds: 2 * 3600, memoryBytes: 4 * gib, outputBytes: 64 * gib }

const keptOfLog = 20_000
const hasGroups = process.platform !== 'win32'

/** Programs that run, so that none outlives this process. */
const running = new Set<ChildProcess>()
process.once('exit', () => {
  for (const child of running) endWhole(child)
})

/** Ends a program and whatever it started. */
export const endWhole = (child: ChildProcess): void => {
  if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return
  try {
    if (hasGroups) process.kill(-child.pid, 'SIGKILL')
    else child.kill('SIGKILL')
  } catch {
    // It has ended by itself meanwhile.
  }
}

// exec: the program takes the shell's place, so that its signals and its exit code are its own.
const limited = 'ulimit -v "$1" 2>/dev/null; ulimit -f "$2" 2>/dev/null; shift 2; exec "$@"'

/** Starts a media program with every input guarded, in a group of its own, held to its limits. */
export const startProgram = (
  program: string,
  args: readonly string[],
  stdio: StdioOptions,
  limits: RunLimits = usualLimits,
): ChildProcess => {
  const all = guardedArgs(args)
  // Many threads reserve far more than they use unless they share.
  const env = { ...process.env, MALLOC_ARENA_MAX: '4' }
  const kib = String(Math.floor(limits.memoryBytes / 1024))
  const blocks = String(Math.floor(limits.outputBytes / 512))
  const child = hasGroups
    ? spawn('/bin/sh', ['-c', limited, 'sh', kib, blocks, program, ...all], {
        stdio,
        env,
        detached: true,
      })
    : spawn(program, all, { stdio, env, windowsHide: true })
  running.add(child)
  child.once('close', () => running.delete(child))
  child.once('error', () => running.delete(child))
  return child
}

/** Exit codes by which a shell says that there is no such program, or none that can be run (POSIX, 2.8.2). */
const notStarted = [126, 127]

/**
 * Runs a media program and hands its standard output over as it comes, never faster than it is taken, so memory stays
 * constant. Ends the program when the consumer stops early, `signal` aborts, or it goes over a limit. Throws only what a feed
 * throws: what an ending means to the coach is for the caller to say.
 */
export async function* programOutput(
  program: string,
  args: readonly string[],
  options: {
    signal?: AbortSignal
    onLog?: (text: string) => void
    limits?: Partial<RunLimits>
    feeds?: readonly Feed[]
  } = {},
): AsyncGenerator<Buffer, Ending> {
  const { signal, onLog, feeds = [] } = options
  const limits = { ...usualLimits, ...options.limits }
  const child = startProgram(
    program,
    args,
    ['ignore', 'pipe', 'pipe', ...feeds.map(() => 'pipe' as const)],
    limits,
  )
  const end = () => endWhole(child)
  signal?.addEventListener('abort', end, { once: true })
  if (signal?.aborted) end()
  let over: Ending['over'] = null
  const clock = setTimeout(() => {
    over = 'seconds'
    end()
  }, limits.seconds * 1000)
  let log = ''
  child.stderr!.setEncoding('utf8').on('data', (text: string) => {
    onLog?.(text)
    log = (log + text).slice(-keptOfLog)
  })
  const closed = new Promise<Pick<Ending, 'code' | 'signalName' | 'failure'>>((resolve) => {
    child.once('error', (failure) => resolve({ code: null, signalName: null, failure }))
    child.once('close', (code, signalName) => resolve({ code, signalName, failure: null }))
  })
  const feedFailures: unknown[] = []
  const fed = feeds.map((feed, i) => {
    const into = child.stdio[3 + i] as Writable
    // A broken pipe means that the program ended; why is told by its exit.
    into.on('error', () => {})
    return feed(into).catch((error: unknown) => {
      feedFailures.push(error)
      end()
    })
  })
  let bytes = 0
  try {
    for await (const piece of child.stdout!) {
      bytes += (piece as Buffer).length
      if (bytes > limits.outputBytes) {
        over = 'outputBytes'
        end()
        break
      }
      yield piece as Buffer
    }
    const ending = await closed
    await Promise.all(fed)
    if (feedFailures.length > 0) throw feedFailures[0]
    if (hasGroups && ending.code !== null && notStarted.includes(ending.code)) {
      const failure = new Error(`${path.basename(program)} can’t be started`)
      return { ...ending, code: null, failure, over, log }
    }
    if (ending.signalName === 'SIGXFSZ') over = 'outputBytes'
    if (over === null && ending.code !== 0 && ranOutOfMemory(log)) over = 'memoryBytes'
    return { ...ending, over, log }
  } finally {
    clearTimeout(clock)
    signal?.removeEventListener('abort', end)
    end()
  }
}

const ranOutOfMemory = (log: string): boolean => /cannot allocate memory|out of memory|bad_alloc/i.test(log)

/** What it means that a program went over a limit, in the coach's words. */
export const overPhrase = (over: keyof RunLimits): Phrase => phrase(`over.${over}`)
