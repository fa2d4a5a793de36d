import fs from 'node:fs'
import path from 'node:path'
import {
  contract,
  type CallInput,
  type CallName,
  type CallOutput,
  type EventBody,
  type EventName,
} from '../../shared-core/contract/index.ts'
import { hostCalls } from '../../shared-core/contract/custody.ts'
import { Problem } from '../../shared-core/problem.ts'
import { assertMovable, moveLibrary } from './custody/move.ts'
import { restoreBackup } from './custody/restore.ts'
import { databaseFile } from './database/database-file.ts'
import { Library, type LibraryOptions } from './library.ts'
import { Cancelled } from './media/run-ffmpeg.ts'

type HostName = keyof typeof hostCalls
const isHostCall = (name: CallName): name is HostName => Object.hasOwn(hostCalls, name)

/** A folder that came back with another database in it is looked for this often. */
const lookMs = 1000

export interface HostOptions extends Omit<LibraryOptions, 'rebuild'> {
  emit: <N extends EventName>(name: N, body: EventBody<N>) => void
  /**
   * Keeps the place of the library on this machine, and where it is being moved to; null where it is given from outside and
   * can't be changed.
   */
  choosePlace: ((folder: string, movingTo?: string) => void) | null
}

/** The library that is open, and what closes it and opens it anew: restoring, rebuilding, moving. */
export class LibraryHost {
  readonly #options: HostOptions
  #library: Library
  #folder: string
  /** One change of library at a time; calls that come meanwhile wait. */
  #changing: Promise<unknown> = Promise.resolve()
  #isChanging = false
  /** Stops what restores or moves just now. */
  #stopping: AbortController | null = null
  readonly #watch: NodeJS.Timeout

  /** @throws Problem from opening */
  constructor(options: HostOptions) {
    this.#options = options
    this.#folder = options.folder
    this.#library = this.#open()
    this.#watch = setInterval(() => void this.#reopenReplaced(), lookMs)
    this.#watch.unref()
  }

  get library(): Library {
    return this.#library
  }

  #open(rebuild = false): Library {
    return new Library({ ...this.#options, folder: this.#folder, rebuild })
  }

  async ask<N extends CallName>(name: N, input: CallInput<N>, from: string | null): Promise<CallOutput<N>> {
    if (name === 'library.stop') {
      this.#stopping?.abort()
      return {} as CallOutput<N>
    }
    if (!isHostCall(name)) {
      await this.#changing.catch(() => {})
      return this.#library.ask(name, input, from)
    }
    const parsed = contract[name].input.safeParse(input)
    if (!parsed.success) {
      throw new Problem('bad-input.said', { message: parsed.error.issues[0]!.message, where: name })
    }
    return (await this.#change(() => this.#answer(name, parsed.data as never))) as CallOutput<N>
  }

  async #answer(
    name: Exclude<HostName, 'library.stop'>,
    input: { file: string; snapshotId: string | null; folder: string },
  ) {
    const say = (doing: string, progress: number) =>
      this.#options.emit('library.progress', { doing, progress })
    switch (name) {
      case 'library.rebuild':
        await this.#library.close()
        this.#library = this.#open(true)
        return {}
      case 'library.restore': {
        const { file, snapshotId } = input
        await this.#library.close()
        const restored = await this.#unlessStopped((signal) =>
          restoreBackup({ file, snapshotId, folder: this.#folder, now: new Date(), say, signal }),
        )
        return { aside: restored?.aside ?? null, isStopped: restored === null }
      }
      case 'library.move': {
        const keep = this.#keeper()
        const to = path.resolve(input.folder)
        await this.#library.close()
        const from = this.#folder
        assertMovable(from, to)
        keep(from, to)
        try {
          const moved = await this.#unlessStopped((signal) => moveLibrary(from, to, say, signal))
          if (moved !== null) this.#folder = to
          return { isStopped: moved === null }
        } finally {
          keep(this.#folder)
        }
      }
      case 'library.use': {
        const keep = this.#keeper()
        const to = path.resolve(input.folder)
        const isEmpty = !fs.existsSync(to) || fs.readdirSync(to).length === 0
        if (!isEmpty && !fs.existsSync(databaseFile(to)) && !fs.existsSync(path.join(to, 'clips'))) {
          throw new Problem('not-a-library.choosing', { where: to })
        }
        await this.#library.close()
        const before = this.#folder
        this.#folder = to
        try {
          this.#library = this.#open()
        } catch (error) {
          this.#folder = before
          throw error
        }
        keep(to)
        return {}
      }
    }
  }

  /** What the work gives, or null if it was stopped. */
  async #unlessStopped<T>(work: (signal: AbortSignal) => Promise<T>): Promise<T | null> {
    this.#stopping = new AbortController()
    try {
      return await work(this.#stopping.signal)
    } catch (error) {
      if (error instanceof Cancelled) return null
      throw error
    } finally {
      this.#stopping = null
    }
  }

  #keeper(): NonNullable<HostOptions['choosePlace']> {
    if (this.#options.choosePlace) return this.#options.choosePlace
    throw new Problem('place-given')
  }

  /** Runs something that closes the library; whatever comes of it, a library is open afterwards. */
  #change<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#changing
      .catch(() => {})
      .then(async () => {
        this.#isChanging = true
        try {
          return await work()
        } finally {
          if (!this.#library.context.sqlite.open) this.#library = this.#open()
          this.#isChanging = false
          this.#options.emit('library.opened', { folder: this.#folder })
        }
      })
    this.#changing = done
    return done
  }

  /** The folder went while it was open, and came back as another one (a drive that was connected again, say). */
  async #reopenReplaced() {
    if (this.#isChanging || !this.#library.isReplaced) return
    await this.#change(() => this.#library.close()).catch((error: unknown) => {
      console.error(`the library could not be opened again: ${(error as Error).message}`)
    })
  }

  async close() {
    clearInterval(this.#watch)
    await this.#changing.catch(() => {})
    await this.#library.close()
  }
}
