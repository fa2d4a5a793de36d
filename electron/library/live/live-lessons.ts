import { readdir, stat } from 'node:fs/promises'
import path from 'node:path'
import { watch as watchFiles, type FSWatcher } from 'chokidar'
import { and, eq, inArray } from 'drizzle-orm'
import type { CallInput, CallName, CallOutput } from '../../../shared-core/contract/index.ts'
import type { LiveState } from '../../../shared-core/model/live.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { isStillName } from '../media/still-picture.ts'
import { videoExtensions } from '../media/video-extensions.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { Arrivals, isUnfinishedName, keyOf, type Listed } from './arrivals.ts'
import { reasonOf } from './why-not.ts'
import { endsWithLine, wholeness } from './whole-file.ts'
import { sayWord, said } from '../../../shared-core/wording/phrase.ts'

type Ask = <N extends CallName>(name: N, input: CallInput<N>) => Promise<CallOutput<N>>

/** The folder is looked at this often even if no event comes: network drives send none. */
const idleMs = 2000
/**
 * A clip that says itself that it is whole needs only to be quiet this long, for it is looked at once more when it was read; others
 * have to be quiet much longer.
 */
const wholeMs = 30
/** A photo, or a file of shot records whose last line is whole. */
const settledMs = 300
/** While a file is growing, or has just stopped; a folder on a network drive takes a while to be listed. */
const busyMs = 110
const quietMs = 5000
/** A last line without its end may still be being written. */
const lineMs = 3000

const tableExtensions = new Set(['.csv', '.tsv', '.txt'])
/** So many files are asked for their size at once. */
const statAtOnce = 64

/** Files of a folder that are of interest, with their sizes; those that vanish meanwhile are left out. */
const listFolder = async (folder: string, isWanted: (file: string) => boolean): Promise<Listed[]> => {
  const entries = await readdir(folder, { withFileTypes: true })
  const files = entries
    .filter((entry) => (entry.isFile() || entry.isSymbolicLink()) && isWanted(entry.name))
    .map((entry) => path.join(folder, entry.name))
  const listed: Listed[] = []
  for (let i = 0; i < files.length; i += statAtOnce) {
    const some = await Promise.all(
      files.slice(i, i + statAtOnce).map(async (file) => {
        const found = await stat(file).catch(() => null)
        return found?.isFile() ? { file, size: found.size, mtimeMs: found.mtimeMs } : null
      }),
    )
    listed.push(...some.filter((one) => one !== null))
  }
  return listed.sort((a, b) => a.mtimeMs - b.mtimeMs || a.file.localeCompare(b.file, 'en', { numeric: true }))
}

const isClip = (file: string) =>
  (videoExtensions.has(path.extname(file).toLowerCase()) || isStillName(file)) && !isUnfinishedName(file)
const isTable = (file: string) =>
  tableExtensions.has(path.extname(file).toLowerCase()) && !isUnfinishedName(file)

/** Clips of a folder; a file or the tables of a folder of shot records. */
const listClips = (folder: string) => listFolder(folder, isClip)
const listShots = async (place: string): Promise<Listed[]> => {
  const found = await stat(place)
  return found.isDirectory()
    ? listFolder(place, isTable)
    : [{ file: place, size: found.size, mtimeMs: found.mtimeMs }]
}

type Why = Pick<LiveState['waiting'][number], 'why' | 'isArriving'>
/** What came of looking at a place; `goesOn`: what can't be read is expected back. */
interface Look {
  problem: string | null
  goesOn: boolean
}
const nothingWrong: Look = { problem: null, goesOn: false }
const arriving = (why: 'waits.empty' | 'waits.written'): Why => ({ why: said(why), isArriving: true })
const unreadable = (what: 'live.clipsFolder' | 'live.shotsFile', error: unknown): Look => {
  const reason = reasonOf(error)
  const goesOn = ['unread.missing', 'unread.busy', 'unread.forbidden'].includes(reason.phrase)
  return { problem: said(what, { reason }), goesOn }
}

/** One lesson that is live: looks, waits until files are whole, hands them to the calls a coach would make. */
class LiveLesson {
  readonly #context: LibraryContext
  readonly #ask: Ask
  readonly #row: typeof t.liveLesson.$inferSelect
  readonly #clips = new Arrivals()
  readonly #shots = new Arrivals()
  /** What was there before, or was taken in; or is being taken in. */
  readonly #known: Set<string>
  /** Files that are being taken in. */
  readonly #taking = new Map<string, Promise<void>>()
  /** States of shot files that were read. */
  readonly #read = new Set<string>()
  #bell: FSWatcher | null = null
  #timer: NodeJS.Timeout | undefined
  #looking: Promise<void> | null = null
  #again = false
  /** A clip that is whole was seen for the first time. */
  #isWholeSeen = false
  /** The file of shots could not be read at the last look. */
  #isShotsGone = false
  #isClosed = false
  #state: LiveState

  constructor(context: LibraryContext, ask: Ask, row: typeof t.liveLesson.$inferSelect) {
    this.#context = context
    this.#ask = ask
    this.#row = row
    this.#known = new Set(
      context.db
        .select()
        .from(t.liveFile)
        .where(eq(t.liveFile.lessonId, row.lessonId))
        .all()
        .map((file) => file.key),
    )
    this.#state = {
      lessonId: row.lessonId,
      clipsFolder: row.clipsFolder,
      shotsPath: row.shotsPath,
      isOn: true,
      clipsProblem: null,
      shotsProblem: null,
      clipsGoOn: false,
      shotsGoOn: false,
      waiting: [],
    }
    this.#listen()
    this.#look()
    // Asked once; the first clip need not wait for it. What is wrong with them is told by whoever uses them.
    context.mediaPrograms().catch(() => {})
  }

  get state(): LiveState {
    return this.#state
  }

  async close() {
    this.#isClosed = true
    clearTimeout(this.#timer)
    await this.#bell?.close()
    await this.#looking
  }

  /** Events ring at once; where there are none, or none any more, the clock does. */
  #listen() {
    void this.#bell?.close()
    const places = [this.#row.clipsFolder, ...(this.#row.shotsPath ? [this.#row.shotsPath] : [])]
    this.#bell = watchFiles(places, { depth: 0, ignoreInitial: true, ignorePermissionErrors: true })
    this.#bell.on('all', () => this.#look())
    this.#bell.on('error', () => {})
  }

  /** Looks now; if it is looking already, once more after that. */
  #look() {
    if (this.#isClosed) return
    if (this.#looking) {
      this.#again = true
      return
    }
    clearTimeout(this.#timer)
    this.#looking = this.#lookOnce()
      .catch((error: unknown) => console.error(error))
      .finally(() => {
        this.#looking = null
        if (this.#isClosed) return
        const isBusy = this.#again || this.#state.waiting.length > 0
        const nextMs = this.#isWholeSeen ? wholeMs + 5 : isBusy ? busyMs : idleMs
        this.#timer = setTimeout(() => this.#look(), nextMs)
        this.#again = false
      })
  }

  async #lookOnce() {
    const waiting: LiveState['waiting'] = []
    const clips = await this.#lookAtClips(waiting)
    const shots = this.#row.shotsPath ? await this.#lookAtShots(this.#row.shotsPath, waiting) : nothingWrong
    const [clipsProblem, shotsProblem] = [clips.problem, shots.problem]
    if (this.#isClosed) return
    const isBack =
      (this.#state.clipsProblem !== null && clipsProblem === null) ||
      (this.#state.shotsProblem !== null && shotsProblem === null)
    const next = {
      ...this.#state,
      ...{ clipsProblem, clipsGoOn: clips.goesOn, shotsProblem, shotsGoOn: shots.goesOn },
      waiting,
    }
    const hasChanged = JSON.stringify(next) !== JSON.stringify(this.#state)
    this.#state = next
    // What watched a folder that went away watches nothing; the one that came back is another.
    if (isBack) this.#listen()
    if (hasChanged) this.#context.emit('live.changed', next)
  }

  async #lookAtClips(waiting: LiveState['waiting']): Promise<Look> {
    let listing: Listed[]
    try {
      listing = await listClips(this.#row.clipsFolder)
    } catch (error) {
      this.#clips.see([], Date.now())
      return unreadable('live.clipsFolder', error)
    }
    const fresh = listing.filter((listed) => !this.#known.has(keyOf(listed)))
    this.#isWholeSeen = false
    for (const { listed, stillMs } of this.#clips.see(fresh, Date.now())) {
      const why = await this.#whyNotYet(listed, stillMs)
      if (why !== null) waiting.push({ name: path.basename(listed.file), ...why })
      else this.#take(listed)
    }
    return nothingWrong
  }

  /** Why a clip can't be taken in yet; null if it can. */
  async #whyNotYet({ file, size }: Listed, stillMs: number): Promise<Why | null> {
    if (size === 0) return arriving('waits.empty')
    const isStill = isStillName(file)
    if (isStill && stillMs < settledMs) return arriving('waits.written')
    try {
      const says = await wholeness(file)
      if (!isStill && stillMs < wholeMs) {
        this.#isWholeSeen ||= says === 'whole'
        return arriving('waits.written')
      }
      if (says === 'half') return { why: said('waits.incomplete'), isArriving: false }
      if (says === 'unknown' && stillMs < quietMs) return arriving('waits.written')
      return (await stat(file)).size === size ? null : arriving('waits.written')
    } catch (error) {
      return { why: sayWord(reasonOf(error)), isArriving: false }
    }
  }

  /** Takes a file as it is now, once whatever was begun with it as it was before has ended. */
  #take(listed: Listed) {
    this.#known.add(keyOf(listed))
    const { file } = listed
    const work = (this.#taking.get(file) ?? Promise.resolve())
      .then(() => this.#takeNow(listed))
      .finally(() => {
        if (this.#taking.get(file) === work) this.#taking.delete(file)
      })
    this.#taking.set(file, work)
  }

  async #takeNow(listed: Listed) {
    const key = keyOf(listed)
    if (this.#isClosed) return
    const { jobs } = this.#context
    const { lessonId } = this.#row
    try {
      const id = this.#underWay(listed.file)
      // Does nothing to one that is taken up already.
      if (id !== null) jobs.retry(id)
      const jobId =
        id ??
        (await this.#ask('clips.add', { lessonId, files: [listed.file], mayStillGrow: true })).jobIds[0]!
      const job = await jobs.ended(jobId)
      // Work that the end of the program cut off goes on next time.
      if (this.#isClosed && job.state !== 'done') return
      // So does a clip whose card was pulled out, or that another program took hold of in between.
      const canBeRead = () =>
        wholeness(listed.file).then(
          () => true,
          () => false,
        )
      if (job.state === 'failed' && !(await canBeRead())) {
        this.#known.delete(key)
        return
      }
      this.#context.db.insert(t.liveFile).values({ lessonId, key }).onConflictDoNothing().run()
    } catch (error) {
      this.#known.delete(key)
      if (!this.#isClosed) console.error(error)
    }
  }

  /** The job that was taking this file in when the program ended, if there is one. */
  #underWay(file: string): string | null {
    const rows = this.#context.db
      .select()
      .from(t.job)
      .where(
        and(
          eq(t.job.lessonId, this.#row.lessonId),
          eq(t.job.kind, 'add-clip'),
          inArray(t.job.state, ['waiting', 'running', 'failed']),
        ),
      )
      .all()
    return rows.find((row) => row.task.file === file)?.id ?? null
  }

  async #lookAtShots(place: string, waiting: LiveState['waiting']): Promise<Look> {
    let listing: Listed[]
    try {
      listing = await listShots(place)
    } catch (error) {
      this.#isShotsGone = true
      return unreadable('live.shotsFile', error)
    }
    const isNew = (listed: Listed) => !this.#known.has(keyOf(listed)) && !this.#read.has(keyOf(listed))
    let problem: string | null = null
    for (const { listed, stillMs } of this.#shots.see(listing.filter(isNew), Date.now())) {
      const { file, size } = listed
      if (size === 0) continue
      try {
        const isReady = stillMs >= ((await endsWithLine(file, size)) ? settledMs : lineMs)
        if (!isReady) {
          waiting.push({ name: path.basename(file), ...arriving('waits.written') })
          continue
        }
        await this.#ask('shots.add', { lessonId: this.#row.lessonId, file })
        this.#read.add(keyOf(listed))
      } catch (error) {
        if (!(error instanceof Problem)) {
          waiting.push({ name: path.basename(file), why: sayWord(reasonOf(error)), isArriving: false })
          continue
        }
        this.#read.add(keyOf(listed))
        // Column names alone are how such a file begins.
        if (error.code !== 'no-shots' && error.code !== 'shots-empty') {
          problem = `${path.basename(file)}: ${error.what}`
        }
      }
    }
    const before = this.#isShotsGone ? null : this.#state.shotsProblem
    this.#isShotsGone = false
    return { problem: problem ?? before, goesOn: false }
  }
}

const off = (row: typeof t.liveLesson.$inferSelect): LiveState => ({
  lessonId: row.lessonId,
  clipsFolder: row.clipsFolder,
  shotsPath: row.shotsPath,
  isOn: false,
  clipsProblem: null,
  shotsProblem: null,
  clipsGoOn: false,
  shotsGoOn: false,
  waiting: [],
})

/** The lessons that are live. What they watch and have taken in is kept, so that they go on after the program ended. */
export class LiveLessons {
  readonly #context: LibraryContext
  readonly #ask: Ask
  readonly #on = new Map<string, LiveLesson>()

  constructor(context: LibraryContext, ask: Ask) {
    this.#context = context
    this.#ask = ask
  }

  /**
   * Begins to watch, or goes on where the same folder was watched before. Clips that were in the folder at the beginning
   * belong to other lessons and stay out, unless `takeOld`.
   * @throws Problem `no-lesson`, `no-folder`
   */
  async start(input: { lessonId: string; clipsFolder: string; shotsPath: string | null; takeOld: boolean }) {
    const { db } = this.#context
    const { lessonId, takeOld } = input
    lessonRow(db, lessonId)
    const clipsFolder = path.resolve(input.clipsFolder)
    const shotsPath = input.shotsPath === null ? null : path.resolve(input.shotsPath)
    const before = db.select().from(t.liveLesson).where(eq(t.liveLesson.lessonId, lessonId)).get()
    if (before?.clipsFolder !== clipsFolder || before.shotsPath !== shotsPath) {
      let old: Listed[] = []
      try {
        const clips = await listClips(clipsFolder)
        const isFolder = shotsPath !== null && (await stat(shotsPath).catch(() => null))?.isDirectory()
        if (!takeOld) old = isFolder ? [...clips, ...(await listShots(shotsPath))] : clips
      } catch (error) {
        throw new Problem('no-folder', { reason: reasonOf(error), where: clipsFolder }, { cause: error })
      }
      await this.#on.get(lessonId)?.close()
      this.#on.delete(lessonId)
      db.transaction((tx) => {
        tx.delete(t.liveLesson).where(eq(t.liveLesson.lessonId, lessonId)).run()
        tx.insert(t.liveLesson).values({ lessonId, clipsFolder, shotsPath, isOn: true }).run()
        for (const listed of old) {
          tx.insert(t.liveFile)
            .values({ lessonId, key: keyOf(listed) })
            .run()
        }
      })
    } else db.update(t.liveLesson).set({ isOn: true }).where(eq(t.liveLesson.lessonId, lessonId)).run()
    this.#open(lessonId)
  }

  /** Stops watching; what is being taken in is finished. */
  async stop(lessonId: string) {
    const { db, emit } = this.#context
    db.update(t.liveLesson).set({ isOn: false }).where(eq(t.liveLesson.lessonId, lessonId)).run()
    await this.#on.get(lessonId)?.close()
    this.#on.delete(lessonId)
    const state = this.state(lessonId)
    if (state) emit('live.changed', state)
  }

  /** What a lesson watches, null if it never did. */
  state(lessonId: string): LiveState | null {
    const on = this.#on.get(lessonId)
    if (on) return on.state
    const row = this.#context.db.select().from(t.liveLesson).where(eq(t.liveLesson.lessonId, lessonId)).get()
    return row ? off(row) : null
  }

  /** Goes on with the lessons that were live when the program ended. */
  resume() {
    for (const row of this.#context.db.select().from(t.liveLesson).where(eq(t.liveLesson.isOn, true)).all()) {
      this.#open(row.lessonId)
    }
  }

  async close() {
    await Promise.all([...this.#on.values()].map((lesson) => lesson.close()))
    this.#on.clear()
  }

  #open(lessonId: string) {
    if (this.#on.has(lessonId)) return
    const row = this.#context.db.select().from(t.liveLesson).where(eq(t.liveLesson.lessonId, lessonId)).get()
    if (!row) return
    const lesson = new LiveLesson(this.#context, this.#ask, row)
    this.#on.set(lessonId, lesson)
    this.#context.emit('live.changed', lesson.state)
  }
}
