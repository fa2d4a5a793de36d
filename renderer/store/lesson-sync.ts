import type { CallInput, CallName, CallOutput } from '../../shared-core/contract/index.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { Problem } from '../../shared-core/problem.ts'
import { newsWords } from '../../shared-core/wording/window/news.ts'

/** How long a read waits for edits that are under way, and how often. */
const editPatienceMs = 300
const maxEditWaits = 3
/** The report follows when the coach has stopped for a moment; it is put off this often for a picture that may never come. */
const reportDelayMs = 350
const maxReportDelays = 10

/** What the sync asks of the Desk; all of it is read at the moment it matters. */
export interface SyncedDesk {
  ask<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>>
  /** The lesson on the Desk, and what is shown of it. */
  lessonId(): string | null
  opened(): OpenLesson | null
  /** Whether the picture is on the Stage, or there is none to wait for. */
  hasPicture(): boolean
  takeView(opened: OpenLesson): void
  /** Nothing is there under the lesson's id, and nothing was. */
  takeGone(): void
  takeReport(report: unknown): void
  sayNews(what: string): void
  sayProblem(error: unknown): void
}

type Way = 'undo' | 'redo'

/**
 * Keeps the Desk and the library together while edits, answers and other windows' changes cross each other: an edit that
 * is shown is never taken off the screen by an older answer, several requests to read become one, and a step back goes over
 * what the coach has seen.
 */
export class LessonSync {
  readonly #desk: SyncedDesk
  readonly #wait: (ms: number) => Promise<unknown>
  #loading: Promise<void> | null = null
  #isStale = false
  /** Edits that the library has not answered yet. */
  readonly #underWay = new Set<Promise<unknown>>()
  /** How many edits were begun; an answer from before the last one is old, even if the edit has been answered since. */
  #begun = 0
  /** A step back waits for it. */
  #lastEdit: Promise<unknown> = Promise.resolve()
  /** The revision at which the coach was told that the step is another window's. */
  #toldAtRevision: number | null = null
  /** Only the latest request for a report is fulfilled. */
  #reportRequest = 0

  constructor(
    desk: SyncedDesk,
    wait: (ms: number) => Promise<unknown> = (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
  ) {
    this.#desk = desk
    this.#wait = wait
  }

  /** Reads the lesson again; done when the newest lesson is on show. */
  async reload(): Promise<void> {
    if (!this.#desk.lessonId()) return
    this.#isStale = true
    this.#loading ??= this.#readUntilFresh()
    await this.#loading
  }

  /** Makes an edit and reads the lesson again. Null if it failed; the coach has been told why. */
  edit<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N> | null> {
    this.#begun += 1
    const asked = this.#told(this.#desk.ask(name, input)).finally(() => this.#underWay.delete(asked))
    this.#underWay.add(asked)
    const work = asked.then(async (output) => {
      await this.reload()
      return output
    })
    this.#lastEdit = work
    return work
  }

  /** Done when the edit before is on show: what a key does may go by it. */
  async settled(): Promise<void> {
    await this.#lastEdit
  }

  /** Takes the last edit back, or makes it again, once every edit before is answered. */
  step(way: Way): Promise<void> {
    const work = this.#lastEdit.then(() => this.#step(way))
    this.#lastEdit = work
    return work
  }

  async #step(way: Way) {
    const lessonId = this.#desk.lessonId()
    const opened = this.#desk.opened()
    if (!lessonId || !(way === 'undo' ? opened?.undoLabel : opened?.redoLabel)) return
    try {
      const { label } = await this.#desk.ask(way === 'undo' ? 'edits.undo' : 'edits.redo', {
        lessonId,
        confirmedRevision: this.#toldAtRevision,
      })
      this.#toldAtRevision = null
      await this.reload()
      if (label) this.#desk.sayNews(newsWords(way === 'undo' ? 'undone' : 'doneAgain', { label }))
    } catch (error) {
      await this.reload()
      if (error instanceof Problem && error.code === 'made-elsewhere') {
        this.#toldAtRevision = this.#desk.opened()?.revision ?? null
      }
      this.#desk.sayProblem(error)
    }
  }

  async #told<T>(work: Promise<T>): Promise<T | null> {
    try {
      return await work
    } catch (error) {
      this.#desk.sayProblem(error)
      return null
    }
  }

  async #readUntilFresh() {
    let waits = 0
    try {
      while (this.#isStale) {
        this.#isStale = false
        const begun = this.#begun
        const lessonId = this.#desk.lessonId()
        if (!lessonId) return
        try {
          const opened = await this.#desk.ask('lesson.open', { lessonId })
          // Read before an edit that is shown already: taking it would undo that edit on the screen for a moment, and the
          // coach's next press would go by what is wrong.
          if ((this.#underWay.size > 0 || this.#begun !== begun) && waits < maxEditWaits) {
            waits += 1
            this.#isStale = true
            await Promise.race([Promise.allSettled(this.#underWay), this.#wait(editPatienceMs)])
            continue
          }
          if (this.#desk.lessonId() === lessonId) this.#desk.takeView(opened)
        } catch (error) {
          if (this.#desk.lessonId() === lessonId && !this.#desk.opened()) this.#desk.takeGone()
          this.#desk.sayProblem(error)
        }
      }
    } finally {
      this.#loading = null
    }
    void this.#reportSoon()
  }

  async #reportSoon() {
    const request = ++this.#reportRequest
    // The library computes the report for a while; what the first picture needs comes before it.
    for (let delays = 0; delays <= maxReportDelays; delays++) {
      await this.#wait(reportDelayMs)
      if (request !== this.#reportRequest) return
      if (this.#desk.hasPicture()) break
    }
    const lessonId = this.#desk.lessonId()
    const opened = this.#desk.opened()
    // Clips alone have tempo and body, too.
    if (!lessonId || !opened || (opened.shots.length === 0 && opened.clips.length === 0)) {
      this.#desk.takeReport(null)
      return
    }
    const report = await this.#desk
      .ask('lesson.report', { lessonId, units: opened.student.units })
      // The report is an extra on the Desk; why it failed is shown where it would stand.
      .catch((error: unknown) => ({ failed: (error as Error).message }))
    if (this.#desk.lessonId() === lessonId && request === this.#reportRequest) this.#desk.takeReport(report)
  }
}
