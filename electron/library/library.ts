import { AsyncLocalStorage } from 'node:async_hooks'
import fs from 'node:fs'
import {
  contract,
  type CallInput,
  type CallName,
  type CallOutput,
  type EventBody,
  type EventName,
  type Handlers,
} from '../../shared-core/contract/index.ts'
import { defaultSettings, settingsSchema, type Settings } from '../../shared-core/model/hand-over.ts'
import { Problem } from '../../shared-core/problem.ts'
import { Journal } from './database/journal.ts'
import { pathsOf, type LibraryContext } from './context.ts'
import { openDatabase, type Db } from './database/open.ts'
import { enterLibrary } from './presence.ts'
import * as t from './database/schema.ts'
import { resumeDeletions } from './deletion/delete-for-good.ts'
import { handlersOf } from './handlers/index.ts'
import { browserPrinter, type PrintPdf } from './hand-over/print-pdf.ts'
import { JobQueue } from './jobs/queue.ts'
import { workersOf } from './jobs/workers.ts'
import { findMediaPrograms, type MediaPrograms } from './media/ffmpeg-path.ts'
import { Reports } from './queries/reports.ts'
import { Reporter } from './reporter.ts'
import { starterRecords } from './starter-records.ts'
import { clearIncoming, sweepMedia } from './sweep.ts'

export interface LibraryOptions {
  folder: string
  emit?: <N extends EventName>(name: N, body: EventBody<N>) => void
  /** The clock; tests hand in their own. */
  now?: () => Date
  /** Prints a page as PDF; by default a browser engine found on this machine, null for none. */
  printPdf?: PrintPdf | null
  /** Clip files that nothing speaks of are looked for this much later, once no job runs; by default on opening. */
  sweepAfterMs?: number
}

const readSettings = (db: Db): Settings => {
  const stored = Object.fromEntries(
    db
      .select()
      .from(t.setting)
      .all()
      .map((row) => [row.key, row.value]),
  )
  const parsed = settingsSchema.safeParse({ ...defaultSettings, ...stored })
  return parsed.success ? parsed.data : defaultSettings
}

/** A library that is open: the one way to read and change it, for the window, the command line and the tests. */
export class Library {
  readonly context: LibraryContext
  readonly #handlers: Handlers
  /** The window (or whoever) whose call is being answered. */
  readonly #asker = new AsyncLocalStorage<string | null>()
  readonly #lastRevision = new Map<string, number>()
  readonly #watch: NodeJS.Timeout
  readonly #leave: () => void
  #sweep: NodeJS.Timeout | undefined

  /**
   * Opens or creates the library in `folder`.
   * @throws Problem from openDatabase
   */
  constructor(options: LibraryOptions) {
    const now = options.now ?? (() => new Date())
    const { sqlite, db } = openDatabase(options.folder)
    const paths = pathsOf(options.folder)
    for (const own of [paths.clips, paths.incoming, paths.talks, paths.coachPictures]) {
      fs.mkdirSync(own, { recursive: true })
    }
    const presence = enterLibrary(options.folder)
    this.#leave = presence.leave
    const journal = new Journal(sqlite, now, () => this.#asker.getStore() ?? null)
    const emit: LibraryContext['emit'] = (name, body) => options.emit?.(name, body)
    let programs: Promise<MediaPrograms> | null = null
    const settings = () => readSettings(db)
    const handlers = () => this.#handlers
    const context: LibraryContext = {
      get calls() {
        return handlers()
      },
      folder: options.folder,
      sqlite,
      db,
      journal,
      now,
      emit,
      settings,
      paths,
      reporter: new Reporter(),
      get reports() {
        return reports
      },
      printPdf: options.printPdf === undefined ? browserPrinter() : options.printPdf,
      mediaPrograms: () => {
        programs ??= findMediaPrograms(settings().ffmpegPath).catch((error: unknown) => {
          programs = null
          throw error
        })
        return programs
      },
      jobs: new JobQueue({
        db,
        now,
        changed: (job) => {
          emit('job.changed', job)
          if (job.state === 'done') {
            this.#tellChanges()
            emit('roster.changed', {})
          }
        },
        workers: workersOf(() => context),
      }),
    }
    const reports = new Reports(context)
    this.context = context
    starterRecords(db)
    resumeDeletions(context)
    if (presence.isAlone()) {
      // A deletion that was cut off leaves what it deleted in the log.
      sqlite.pragma('wal_checkpoint(TRUNCATE)')
      clearIncoming(context)
      context.jobs.recover()
      if (options.sweepAfterMs === undefined) sweepMedia(context)
      else this.#sweepLater(options.sweepAfterMs, presence.isAlone)
    }
    this.#handlers = handlersOf(context)
    // Another program (the command line) may write to the same library; its changes show here, too.
    let dataVersion = sqlite.pragma('data_version', { simple: true })
    this.#watch = setInterval(() => {
      const version = sqlite.pragma('data_version', { simple: true })
      if (version !== dataVersion) {
        dataVersion = version
        this.#tellChanges()
        emit('roster.changed', {})
      }
    }, 1000)
    this.#watch.unref()
  }

  /** In a large library the search takes a while: nobody should wait for it to begin work. */
  #sweepLater(afterMs: number, isAlone: () => boolean) {
    this.#sweep = setTimeout(() => {
      if (!isAlone()) return
      if (this.context.jobs.isBusy) this.#sweepLater(afterMs, isAlone)
      else sweepMedia(this.context)
    }, afterMs)
    this.#sweep.unref()
  }

  /**
   * Answers one call of the contract: input is checked, problems are thrown as Problem. `from` tells windows apart, so that
   * one does not undo unseen what another did.
   */
  async ask<N extends CallName>(
    name: N,
    input: CallInput<N>,
    from: string | null = null,
  ): Promise<CallOutput<N>> {
    const call = contract[name]
    if (!call) throw new Problem('no-call', `there is no call "${String(name)}"`)
    const parsed = call.input.safeParse(input)
    if (!parsed.success) {
      const issue = parsed.error.issues[0]!
      throw new Problem('bad-input', issue.message, { where: `${name} ${issue.path.join('.')}`.trim() })
    }
    const handler = this.#handlers[name] as (input: unknown) => CallOutput<N> | Promise<CallOutput<N>>
    const output = await this.#asker.run(from, () => handler(parsed.data))
    if (call.changes) {
      this.#tellChanges()
      if (call.showsOnRoster) this.context.emit('roster.changed', {})
    }
    return output
  }

  /** Tells the windows which lessons have a new revision since they were last told. */
  #tellChanges() {
    for (const { lessonId, revision } of this.context.db.select().from(t.lessonRevision).all()) {
      if (this.#lastRevision.get(lessonId) !== revision) {
        this.#lastRevision.set(lessonId, revision)
        this.context.emit('lesson.changed', { lessonId, revision })
      }
    }
  }

  async close() {
    clearInterval(this.#watch)
    clearTimeout(this.#sweep)
    await this.context.jobs.close()
    await this.context.reporter.close()
    this.context.sqlite.close()
    this.#leave()
  }
}
