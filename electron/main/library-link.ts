import { fork, type ChildProcess } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { app, utilityProcess, type UtilityProcess } from 'electron'
import { printPdf } from './print-pdf.mjs'
import { libraryFolder } from './shipped.ts'
import type { CallResult, FromLibrary, ToLibrary } from '../../shared-core/contract/envelope.ts'
import { Problem, type ProblemBody } from '../../shared-core/problem.ts'

type Listener = (name: string, body: unknown) => void

/** better-sqlite3 needs Node-API 10; an older Electron build hands the library to Node 24 instead. */
const hasNewNodeApi = Number(process.versions.napi) >= 10

/** What the library's process is told by its surroundings: in a shipped build nothing by which others steer a Node. */
const surroundings = (): NodeJS.ProcessEnv => ({
  ...(app.isPackaged
    ? Object.fromEntries(Object.entries(process.env).filter(([name]) => !name.startsWith('NODE_')))
    : process.env),
  LEADSIDE_CODE_CACHE: path.join(app.getPath('userData'), 'library-code'),
})

const node24 = (): string => {
  // Nobody's word from outside names a program that a shipped build would run.
  const named = app.isPackaged ? undefined : process.env.LEADSIDE_NODE
  if (named) return named
  const beside = path.join(
    app.isPackaged
      ? path.join(libraryFolder(), '..', '..', 'node')
      : path.join(app.getAppPath(), 'node_modules', 'node', 'bin'),
    process.platform === 'win32' ? 'node.exe' : 'node',
  )
  if (fs.existsSync(beside)) return beside
  throw new Error('this Electron is too old for the library, and no Node 24 was found: run npm install')
}

/** Starts the library process and relays calls to it; main itself holds no data. */
export class LibraryLink {
  readonly #post: (message: ToLibrary) => void
  readonly #waiting = new Map<number, (result: CallResult<unknown>) => void>()
  readonly #process: UtilityProcess | ChildProcess
  readonly #listener: Listener
  /** Resolves to null when the library is open, or to the reason why it can't be. */
  readonly opened: Promise<ProblemBody | null>
  #seq = 0
  #closed: ProblemBody | null = null
  #onClosed: () => void = () => {}

  /** @param userData where the place of the library is kept; null if it can't be changed */
  constructor(folder: string, userData: string | null, listener: Listener) {
    this.#listener = listener
    const file = path.join(libraryFolder(), 'library.js')
    let settle: (problem: ProblemBody | null) => void = () => {}
    this.opened = new Promise((resolve) => {
      settle = resolve
    })
    const receive = (message: FromLibrary) => {
      if (message.type === 'ready') settle(null)
      else if (message.type === 'refused') settle(message.problem)
      else if (message.type === 'event') this.#listener(message.name, message.body)
      else if (message.type === 'print') void this.#print(message)
      else {
        const done = this.#waiting.get(message.seq)
        this.#waiting.delete(message.seq)
        done?.(
          message.type === 'answer'
            ? { ok: true, output: message.output }
            : { ok: false, problem: message.problem },
        )
      }
    }
    const ended = () => {
      this.#closed = new Problem('library-ended').body
      settle(this.#closed)
      for (const done of this.#waiting.values()) done({ ok: false, problem: this.#closed })
      this.#waiting.clear()
      this.#onClosed()
    }
    if (hasNewNodeApi) {
      const child = utilityProcess.fork(file, [folder, ...(userData === null ? [] : [userData])], {
        serviceName: 'Leadside library',
        stdio: 'inherit',
        env: surroundings(),
      })
      child.on('message', receive)
      child.once('exit', ended)
      this.#post = (message) => child.postMessage(message)
      this.#process = child
    } else {
      const child = fork(file, [folder, ...(userData === null ? [] : [userData])], {
        execPath: node24(),
        env: surroundings(),
        stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
        serialization: 'advanced',
      })
      child.on('message', (message) => receive(message as FromLibrary))
      child.once('exit', ended)
      child.once('error', ended)
      this.#post = (message) => {
        if (child.connected) child.send(message)
      }
      this.#process = child
    }
  }

  async #print({ seq, htmlFile, pdfFile }: Extract<FromLibrary, { type: 'print' }>) {
    const reason = await printPdf(htmlFile, pdfFile).then(
      () => null,
      (error: unknown) => (error as Error).message,
    )
    this.#post({ type: 'printed', seq, reason })
  }

  /** A call made before the library is open waits for that. */
  async ask(name: string, input: unknown, from: string | null = null): Promise<CallResult<unknown>> {
    const refused = (await this.opened) ?? this.#closed
    if (refused) return { ok: false, problem: refused }
    this.#seq += 1
    const seq = this.#seq
    return new Promise((resolve) => {
      this.#waiting.set(seq, resolve)
      this.#post({ type: 'call', seq, name, input, from })
    })
  }

  /** Lets running jobs clean up; ends the process by force if that takes too long. */
  async close(): Promise<void> {
    if (this.#closed) return
    const ended = new Promise<void>((resolve) => {
      this.#onClosed = resolve
    })
    this.#post({ type: 'close' })
    const force = setTimeout(() => this.#process.kill(), 5000)
    await ended
    clearTimeout(force)
  }
}
