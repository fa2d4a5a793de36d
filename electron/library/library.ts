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
import { isMissing, originalsIn, troubleOf, troubleWords, type Trouble } from './custody/inspect.ts'
import { dailyBackup } from './custody/daily-backup.ts'
import { clearLeftParts } from './custody/left-parts.ts'
import { countOn, markBeside } from './custody/mark.ts'
import { takeInUnknown } from './custody/rebuild.ts'
import { finishRestore } from './custody/restore.ts'
import { setAside } from './custody/set-aside.ts'
import { databaseFile } from './database/database-file.ts'
import { isDamaged, openDatabase, openInMemory, type Db } from './database/open.ts'
import { problemOfSqlite } from './database/problem-of-sqlite.ts'
import { registerProcess, isRegistered } from './process-registry.ts'
import * as t from './database/schema.ts'
import { resumeDeletions } from './deletion/delete-for-good.ts'
import { keepReserve } from './deletion/reserve.ts'
import { handlersOf } from './handlers/index.ts'
import { browserPrinter, type PrintPdf } from './hand-over/print-pdf.ts'
import { JobQueue } from './jobs/queue.ts'
import { workersOf } from './jobs/workers.ts'
import { LiveLessons } from './live/live-lessons.ts'
import { findMediaPrograms, type MediaPrograms } from './media/ffmpeg-path.ts'
import { LibraryReports } from './queries/reports.ts'
import { Reporter } from './reporter.ts'
import { starterRecords } from './starter-records.ts'
import { clearIncoming, sweepMedia } from './sweep.ts'
import { phrase } from '../../shared-core/wording/phrase.ts'

export interface LibraryOptions {
  folder: string
  emit?: <N extends EventName>(name: N, body: EventBody<N>) => void
  /** The clock; tests hand in their own. */
  now?: () => Date
  /** Prints a page as PDF; by default a browser engine found on this machine, null for none. */
  printPdf?: PrintPdf | null
  /** Clip files that nothing speaks of are looked for this much later, once no job runs; by default on opening. */
  sweepAfterMs?: number
  /** Makes a backup every day, if a folder for it is chosen. */
  dailyBackup?: boolean
  /** The coach has chosen to go on with records that don't fit the files: what is not in them is set aside and taken in. */
  rebuild?: boolean
  /** Goes on with the lessons that were live when the program ended; the window does. */
  resumesLive?: boolean
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

/** Opens the library's database; where it can't be the one of the files beside it, nothing is written. */
const openKept = (folder: string, isRebuilding: boolean) => {
  const clips = originalsIn(folder).length
  const lookOnly = (kind: Trouble['kind']) => ({
    ...openInMemory(),
    trouble: { kind, clips, unknownClips: clips },
  })
  if (isMissing(folder) && !isRebuilding) return lookOnly('missing')
  try {
    const opened = openDatabase(folder)
    return { ...opened, trouble: isRebuilding ? null : troubleOf(opened.sqlite, folder) }
  } catch (error) {
    if (!isDamaged(error)) throw error
    if (!isRebuilding) return lookOnly('damaged')
    const file = databaseFile(folder)
    const parts = ['', '-wal', '-shm'].map((end) => ({
      file: `${file}${end}`,
      kind: 'other' as const,
      why: phrase('aside.records'),
    }))
    setAside(folder, parts, new Date())
    return { ...openDatabase(folder), trouble: null }
  }
}

const identityOf = (file: string): string | null => {
  const found = fs.statSync(file, { bigint: true, throwIfNoEntry: false })
  return found ? `${found.dev}:${found.ino}` : null
}

/** The library's folder and what is written into it is for its owner alone; a library from before is closed to others. */
const ownEyesOnly = (folder: string) => {
  process.umask(0o077)
  try {
    if (fs.existsSync(folder)) fs.chmodSync(folder, 0o700)
    if (fs.existsSync(databaseFile(folder))) fs.chmodSync(databaseFile(folder), 0o600)
  } catch {
    // Some drives know no owners; whether the folder can be written to is told by opening the database.
  }
}

/** A library that is open: the one way to read and change it, for the window, the command line and the tests. */
export class Library {
  readonly context: LibraryContext
  readonly #handlers: Handlers
  readonly #live: LiveLessons
  /** The window (or whoever) whose call is being answered. */
  readonly #caller = new AsyncLocalStorage<string | null>()
  readonly #lastRevision = new Map<string, number>()
  readonly #watch: NodeJS.Timeout
  readonly #unregister: () => void
  #sweep: NodeJS.Timeout | undefined
  #counting: NodeJS.Timeout | undefined
  /** Deletions that were cut off and are being finished. */
  #resuming: Promise<void> = Promise.resolve()
  readonly #identity: string | null
  #isThere = true
  #isReplaced = false
  /** Records that don't fit the files: then this library can only be looked at. */
  readonly trouble: Trouble | null
  /** Jobs of a process that is no more, taken up again by this one. */
  readonly takenUp: readonly string[] = []

  /**
   * Opens or creates the library in `folder`.
   * @throws Problem from openDatabase
   */
  constructor(options: LibraryOptions) {
    const now = options.now ?? (() => new Date())
    const { folder } = options
    ownEyesOnly(folder)
    finishRestore(folder)
    const { sqlite, db, trouble } = openKept(folder, options.rebuild === true)
    this.trouble = trouble
    const paths = pathsOf(folder)
    for (const own of [paths.clips, paths.incoming, paths.talks, paths.coachPictures]) {
      fs.mkdirSync(own, { recursive: true })
    }
    const registration = registerProcess(folder)
    this.#unregister = registration.unregister
    this.#identity = identityOf(databaseFile(folder))
    const journal = new Journal(sqlite, now, () => this.#caller.getStore() ?? null)
    const emit: LibraryContext['emit'] = (name, body) => options.emit?.(name, body)
    let programs: Promise<MediaPrograms> | null = null
    const settings = () => readSettings(db)
    const handlers = () => this.#handlers
    const context: LibraryContext = {
      get calls() {
        return handlers()
      },
      folder,
      processId: registration.id,
      trouble,
      sqlite,
      db,
      journal,
      now,
      emit,
      settings,
      paths,
      arriving: new Map(),
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
        owner: registration.id,
        isRegistered: (owner) => isRegistered(folder, owner),
        tell: (error) => problemOfSqlite(error, folder),
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
    const reports = new LibraryReports(context)
    this.context = context
    this.#live = new LiveLessons(context, (name, input) => this.ask(name, input))
    this.#handlers = handlersOf(context, this.#live)
    if (!trouble) {
      journal.alone(() => starterRecords(db))
      countOn(sqlite, folder, markBeside(folder)?.sequence)
      this.#resuming = resumeDeletions(context).catch((error: unknown) => {
        console.error(`a deletion could not be finished: ${(error as Error).message}`)
      })
      clearLeftParts(context)
      const isAlone = registration.isAlone()
      // A deletion that was cut off leaves what it deleted in the log.
      if (isAlone) sqlite.pragma('wal_checkpoint(TRUNCATE)')
      clearIncoming(context, isAlone)
      if (options.rebuild || (isAlone && options.sweepAfterMs === undefined)) sweepMedia(context)
      else if (options.sweepAfterMs !== undefined) {
        this.#sweepLater(options.sweepAfterMs, registration.isAlone)
      }
      keepReserve(folder)
      if (options.rebuild) takeInUnknown(context)
      this.takenUp = context.jobs.takeUp()
      if (options.resumesLive && isAlone) this.#live.resume()
    }
    // Another program (the command line) may write to the same library; its changes show here, too.
    const daily = dailyBackup(context)
    let dataVersion = sqlite.pragma('data_version', { simple: true })
    this.#watch = setInterval(() => {
      if (!this.#look()) return
      try {
        if (options.dailyBackup) daily.look()
        const version = sqlite.pragma('data_version', { simple: true })
        if (version === dataVersion) return
        dataVersion = version
        this.#tellChanges()
        emit('roster.changed', {})
      } catch (error) {
        console.error(`the library can't be looked at: ${(error as Error).message}`)
      }
    }, 1000)
    this.#watch.unref()
  }

  /** In a large library the search takes a while: nobody should wait for it to begin work. */
  #sweepLater(afterMs: number, isAlone: () => boolean) {
    this.#sweep = setTimeout(() => {
      if (!isAlone()) return
      if (this.context.jobs.isBusy) this.#sweepLater(afterMs, isAlone)
      else if (this.#look()) sweepMedia(this.context)
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
    if (!call) throw new Problem('no-call.unknown', { name: String(name) })
    const parsed = call.input.safeParse(input)
    if (!parsed.success) {
      const issue = parsed.error.issues[0]!
      throw new Problem('bad-input.said', {
        message: issue.message,
        where: `${name} ${issue.path.join('.')}`.trim(),
      })
    }
    const handler = this.#handlers[name as keyof Handlers] as
      ((input: unknown) => CallOutput<N> | Promise<CallOutput<N>>) | undefined
    if (!handler) throw new Problem('no-call.hostOnly', { name })
    if (call.changes) this.#assertWritable()
    // An edit reads and writes in one go, so that what another process writes meanwhile is neither missed nor lost.
    const work =
      call.undo === true
        ? () => this.context.journal.alone(() => handler(parsed.data))
        : () => handler(parsed.data)
    let output: CallOutput<N>
    try {
      output = await this.#caller.run(from, work)
    } catch (error) {
      throw problemOfSqlite(error, this.context.folder)
    }
    if (call.changes) {
      this.#countOn()
      this.#tellChanges()
      if (call.showsOnRoster) this.context.emit('roster.changed', {})
    }
    return this.#checked(name, output)
  }

  /**
   * An answer as its schema has it, without anything that the contract doesn't name. One that doesn't fit is a fault of
   * ours: the tests fail by it, a coach still gets what the library holds.
   */
  #checked<N extends CallName>(name: N, output: CallOutput<N>): CallOutput<N> {
    const parsed = contract[name].output.safeParse(output)
    if (parsed.success) return parsed.data as CallOutput<N>
    const issue = parsed.error.issues[0]!
    const fault = new Error(
      `the answer of ${name} is not what the contract says (${issue.path.join('.')}: ${issue.message})`,
    )
    if (process.env.LEADSIDE_STRICT_ANSWERS) throw fault
    console.error(fault.message)
    return output
  }

  /** @throws Problem `look-only` or `folder-gone`: what can't be kept is not acknowledged */
  #assertWritable() {
    const { folder } = this.context
    if (this.trouble) {
      throw new Problem('look-only', { trouble: troubleWords(this.trouble), where: folder })
    }
    if (this.#look()) return
    throw new Problem('folder-gone', { where: folder })
  }

  /** True while the database that was opened is where it was; tells the windows when that changes. */
  #look(): boolean {
    if (this.trouble) return true
    const now = identityOf(databaseFile(this.context.folder))
    const isThere = now !== null && now === this.#identity
    if (isThere !== this.#isThere || (now !== null && !isThere && !this.#isReplaced)) {
      this.#isThere = isThere
      this.#isReplaced = now !== null && !isThere
      this.context.emit('library.place', { isThere, isReplaced: this.#isReplaced })
    }
    return isThere
  }

  /** The folder that was opened is gone, and another one stands there. */
  get isReplaced(): boolean {
    return this.#isReplaced
  }

  /** Counts the library's sequence on: at once, then at most every other second while it is written to. */
  #countOn() {
    if (this.#counting) return
    const count = () => {
      this.#counting = undefined
      const { sqlite, folder } = this.context
      if (!sqlite.open || !this.#look()) return
      try {
        countOn(sqlite, folder)
      } catch (error) {
        console.error(`the library's sequence was not written: ${(error as Error).message}`)
      }
    }
    this.#counting = setTimeout(count, 2000)
    this.#counting.unref()
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
    await this.#resuming
    const liveClosed = this.#live.close()
    await this.context.jobs.close()
    await liveClosed
    if (this.#counting) {
      clearTimeout(this.#counting)
      if (this.#look()) countOn(this.context.sqlite, this.context.folder)
    }
    await this.context.reporter.close()
    this.context.sqlite.close()
    this.#unregister()
  }
}
