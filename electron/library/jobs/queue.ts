import { and, eq, inArray, isNull, notInArray, sql } from 'drizzle-orm'
import { randomUUID } from 'node:crypto'
import { setTimeout as wait } from 'node:timers/promises'
import type { Arriving, Job } from '../../../shared-core/model/entities.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { keepWord, keptWord, said, sayKept, sayWord, type Word } from '../../../shared-core/wording/phrase.ts'

/** What a running job may use: stop when the signal fires, say how far it is, name what it made. */
export interface JobRun {
  id: string
  lessonId: string | null
  task: Record<string, unknown>
  signal: AbortSignal
  say(step: Word, progress?: number): void
  /** The film that it takes in can be looked at; null if it can't after all. */
  show(arriving: Arriving | null): void
}

/** Does the work of one kind of job; the result is a path or what came of it, or null. */
export type Worker = (run: JobRun) => Promise<Word | null>

type Row = typeof t.job.$inferSelect

/** Work that the program did not survive this often is not begun again by itself. */
const maxAttempts = 3
/** Work that begins when nothing else waits, and never keeps other work waiting. */
const isPatient = (kind: Row['kind']) => kind === 'working-copy' || kind === 'body-points'

/** Of these only one at a time: two would write into one file, each taking away what the other has not finished. */
const oneAtATime: readonly Row['kind'][] = ['backup']

/** Which phrase a result is; null where it is a path, an id, or English that an older Leadside kept. */
const outcomeOf = (kept: string | null): string | null => {
  const word = kept === null ? null : keptWord(kept)
  return word !== null && typeof word === 'object' && 'phrase' in word ? word.phrase : null
}

/** An end that could not be written is tried again this often. */
const keepAgainMs = 2000
/** Whether another process has ended a job is looked for this often. */
const lookMs = 200

/**
 * Long work: two jobs at a time, each with progress, cancel and retry. Jobs are kept in the library and each has an owner,
 * the process that does it; work cut off by a crash is taken up again by the next opening, and by nobody before.
 * Working copies are made, then body points read, when nothing else waits.
 */
export class JobQueue {
  readonly #db: Db
  readonly #workers: Partial<Record<Job['kind'], Worker>>
  readonly #changed: (job: Job) => void
  readonly #now: () => Date
  readonly #atOnce: number
  readonly #running = new Map<
    string,
    {
      kind: Row['kind']
      abort: AbortController
      done: Promise<void>
      onlyWaits: boolean
      yields: boolean
      /** Stopped by `hold`, not by the coach. */
      isHeld: boolean
    }
  >()
  /** Kinds of which nothing is begun just now. */
  readonly #held = new Set<Row['kind']>()
  readonly #live = new Map<string, { step: string; progress: number; arriving: Arriving | null }>()
  readonly #owner: string
  readonly #isHere: (owner: string | null) => boolean
  readonly #tellCause: (error: unknown) => unknown
  /** Ends that the disk had no room for; they count, and are written as soon as it has. */
  readonly #unkept = new Map<string, Partial<Row>>()
  #keeping: NodeJS.Timeout | undefined
  #isClosing = false

  constructor(options: {
    db: Db
    workers: Partial<Record<Job['kind'], Worker>>
    changed: (job: Job) => void
    now: () => Date
    atOnce?: number
    /** Under which name this process is registered, and whether the process of another name is there. */
    owner: string
    isRegistered: (owner: string) => boolean
    /** The cause of a failure in the coach's words, where the database or the disk is it. */
    tell?: (error: unknown) => unknown
  }) {
    this.#db = options.db
    this.#workers = options.workers
    this.#changed = options.changed
    this.#now = options.now
    this.#atOnce = options.atOnce ?? 2
    this.#owner = options.owner
    this.#tellCause = options.tell ?? ((error) => error)
    this.#isHere = (owner) => owner !== null && (owner === options.owner || options.isRegistered(owner))
  }

  /**
   * Takes up again what a process that is no more left waiting or under way. Each such job is taken by one process only;
   * one that was cut off again and again is failed, with a reason, and can be retried. Returns the ids taken up.
   */
  takeUp(): string[] {
    const taken: string[] = []
    const left = this.#db
      .select()
      .from(t.job)
      .where(inArray(t.job.state, ['waiting', 'running']))
      .orderBy(t.job.createdAt, t.job.id)
      .all()
      .filter((row) => !this.#isHere(row.owner))
    for (const row of left) {
      const isTired = row.attempts >= maxAttempts
      const { changes } = this.#db
        .update(t.job)
        .set(
          isTired
            ? { state: 'failed', owner: null, problem: new Problem('cut-off', { times: maxAttempts }).body }
            : { state: 'waiting', owner: this.#owner },
        )
        .where(
          and(
            eq(t.job.id, row.id),
            inArray(t.job.state, ['waiting', 'running']),
            row.owner === null ? isNull(t.job.owner) : eq(t.job.owner, row.owner),
          ),
        )
        .run()
      if (changes === 1 && !isTired) taken.push(row.id)
      if (changes === 1) this.#tell(row.id)
    }
    this.#next()
    return taken
  }

  add(kind: Job['kind'], lessonId: string | null, label: Word, task: Record<string, unknown>): string {
    const id = randomUUID()
    this.#db
      .insert(t.job)
      .values({
        id,
        kind,
        lessonId,
        label: keepWord(label),
        task,
        state: 'waiting',
        createdAt: this.#now().toISOString(),
        owner: this.#owner,
      })
      .run()
    this.#tell(id)
    this.#next()
    return id
  }

  get isBusy(): boolean {
    return this.#running.size > 0
  }

  list(): Job[] {
    return this.#db
      .select()
      .from(t.job)
      .orderBy(t.job.createdAt, t.job.id)
      .all()
      .map((row) => this.#asJob({ ...row, ...this.#unkept.get(row.id) }))
  }

  get(id: string): Job {
    return this.#asJob(this.#row(id))
  }

  cancel(id: string) {
    const row = this.#row(id)
    const running = this.#running.get(id)
    if (running) running.abort.abort()
    else if (row.owner !== this.#owner && this.#isHere(row.owner) && /^(waiting|running)$/.test(row.state)) {
      throw new Problem('job-elsewhere')
    } else if (row.state === 'waiting' || row.state === 'running') this.#set(id, { state: 'cancelled' })
  }

  /**
   * Stops what this process does of one kind and begins nothing of it, until the function that is returned is called. What was
   * stopped waits, so that a kill in between leaves it to the next opening.
   */
  async hold(kind: Job['kind']): Promise<() => void> {
    this.#held.add(kind)
    const running = [...this.#running.values()].filter((r) => r.kind === kind)
    for (const work of running) {
      if (work.abort.signal.aborted) continue
      work.isHeld = true
      work.abort.abort()
    }
    await Promise.all(running.map((r) => r.done))
    return () => {
      this.#held.delete(kind)
      this.#next()
    }
  }

  retry(id: string) {
    const row = this.#row(id)
    if (row.state !== 'failed' && row.state !== 'cancelled') return
    this.#set(id, { state: 'waiting', problem: null, result: null, owner: this.#owner, attempts: 0 })
    this.#next()
  }

  /** Resolves when the job has ended, however it ended. */
  async ended(id: string): Promise<Job> {
    for (;;) {
      const job = this.get(id)
      if (job.state !== 'waiting' && job.state !== 'running') return job
      const mine = this.#running.get(id)?.done
      await (mine ?? Promise.race([wait(lookMs), ...[...this.#running.values()].map((r) => r.done)]))
    }
  }

  /** Resolves when nothing of this process waits or runs. */
  async idle(): Promise<void> {
    for (;;) {
      const left = this.#db
        .select({ id: t.job.id })
        .from(t.job)
        .where(and(inArray(t.job.state, ['waiting', 'running']), eq(t.job.owner, this.#owner)))
        .all()
        .find(({ id }) => !this.#unkept.has(id))
      if (!left) return
      await this.ended(left.id)
    }
  }

  /** Stops everything that runs and waits until it has cleaned up; waiting jobs stay for the next opening. */
  async close() {
    this.#isClosing = true
    clearTimeout(this.#keeping)
    for (const { abort } of this.#running.values()) abort.abort()
    await Promise.all([...this.#running.values()].map((r) => r.done))
  }

  #row(id: string): Row {
    const row = this.#db.select().from(t.job).where(eq(t.job.id, id)).get()
    if (!row) throw new Problem('no-job')
    return { ...row, ...this.#unkept.get(id) }
  }

  #asJob(row: Row): Job {
    const live = this.#live.get(row.id)
    return {
      id: row.id,
      kind: row.kind,
      lessonId: row.lessonId,
      label: sayKept(row.label),
      state: row.state,
      step: live?.step ?? '',
      progress: live?.progress ?? (row.state === 'done' ? 1 : 0),
      problem: row.problem && Problem.from(row.problem).body,
      result: row.result === null ? null : sayKept(row.result),
      outcome: outcomeOf(row.result),
      arriving: live?.arriving ?? null,
    }
  }

  #set(id: string, patch: Partial<Row>) {
    this.#db.update(t.job).set(patch).where(eq(t.job.id, id)).run()
    this.#unkept.delete(id)
    this.#tell(id)
  }

  #tell(id: string) {
    const row = this.#db.select().from(t.job).where(eq(t.job.id, id)).get()
    if (row) this.#changed(this.#asJob({ ...row, ...this.#unkept.get(id) }))
  }

  #next() {
    while (!this.#isClosing) {
      const busy = [...this.#running.values()].filter((r) => !r.onlyWaits)
      const isFull = busy.filter((r) => !r.yields).length >= this.#atOnce
      if (isFull) return
      const waits = oneAtATime.filter((kind) => busy.some((r) => r.kind === kind))
      const row = this.#db
        .select()
        .from(t.job)
        .where(
          and(
            eq(t.job.state, 'waiting'),
            eq(t.job.owner, this.#owner),
            notInArray(t.job.kind, [...this.#held, ...waits]),
          ),
        )
        .orderBy(
          sql`${t.job.kind} = 'body-points'`,
          sql`${t.job.kind} = 'working-copy'`,
          t.job.createdAt,
          t.job.id,
        )
        .limit(1)
        .get()
      if (!row || (isPatient(row.kind) && busy.length >= this.#atOnce)) return
      this.#start(row)
    }
  }

  #start(row: Row) {
    const abort = new AbortController()
    this.#live.set(row.id, { step: said('step.starting'), progress: 0, arriving: null })
    this.#db
      .update(t.job)
      .set({ state: 'running', attempts: row.attempts + 1 })
      .where(eq(t.job.id, row.id))
      .run()
    let lastTold = 0
    const run: JobRun = {
      id: row.id,
      lessonId: row.lessonId,
      task: row.task,
      signal: abort.signal,
      say: (word, progress) => {
        const step = sayWord(word)
        const live = this.#live.get(row.id)!
        const isNewStep = live.step !== step
        this.#live.set(row.id, { ...live, step, progress: progress ?? live.progress })
        const now = this.#now().getTime()
        if (isNewStep || now - lastTold > 100) {
          lastTold = now
          this.#tell(row.id)
        }
      },
      show: (arriving) => {
        this.#live.set(row.id, { ...this.#live.get(row.id)!, arriving })
        this.#tell(row.id)
      },
    }
    const work = async () => {
      try {
        const worker = this.#workers[row.kind]
        if (!worker) throw new Problem('no-worker', { job: sayKept(row.label) })
        const result = await worker(run)
        this.#finish(row.id, {
          state: 'done',
          result: result === null ? null : keepWord(result),
          problem: null,
        })
      } catch (thrown) {
        const error = this.#tellCause(thrown)
        if (error instanceof Cancelled || abort.signal.aborted) {
          // Work stopped by closing the program, or held, is not the coach's wish; it is begun again.
          const isHeld = this.#running.get(row.id)?.isHeld === true
          this.#finish(
            row.id,
            this.#isClosing || isHeld ? { state: 'waiting', attempts: row.attempts } : { state: 'cancelled' },
          )
        } else {
          const problem =
            error instanceof Problem ? error : new Problem('bug.job', { reason: (error as Error).message })
          if (!(error instanceof Problem)) console.error(error)
          this.#finish(row.id, { state: 'failed', problem: problem.body })
        }
      } finally {
        this.#running.delete(row.id)
        try {
          this.#next()
        } catch (error) {
          console.error(`no further job could be begun: ${(error as Error).message}`)
        }
      }
    }
    const done = Promise.resolve().then(work)
    // The demo lesson only waits for the jobs that it starts; it must not take their place.
    this.#running.set(row.id, {
      kind: row.kind,
      isHeld: false,
      abort,
      done,
      onlyWaits: row.kind === 'demo',
      yields: isPatient(row.kind),
    })
    this.#tell(row.id)
  }

  #finish(id: string, patch: Partial<Row>) {
    this.#live.delete(id)
    try {
      this.#set(id, patch)
    } catch (error) {
      // No room, or no folder any more: it counts here, and is written later; the next opening would take it up again.
      console.error(`the end of job ${id} could not be kept yet: ${(error as Error).message}`)
      this.#unkept.set(id, patch)
      this.#keepLater()
      try {
        this.#tell(id)
      } catch {
        // Not even readable just now: whoever waits for the job asks again.
      }
    }
  }

  #keepLater() {
    if (this.#isClosing || this.#keeping) return
    this.#keeping = setTimeout(() => {
      this.#keeping = undefined
      try {
        for (const [id, patch] of this.#unkept) this.#set(id, patch)
        this.#next()
      } catch {
        this.#keepLater()
      }
    }, keepAgainMs)
    this.#keeping.unref()
  }

  /** Keeps something with the job's task, for the case that it is cut off and taken up again. */
  remember(id: string, more: Record<string, unknown>) {
    const { task } = this.#row(id)
    this.#db
      .update(t.job)
      .set({ task: { ...task, ...more } })
      .where(eq(t.job.id, id))
      .run()
  }

  isKnown(id: string): boolean {
    return this.#db.select({ id: t.job.id }).from(t.job).where(eq(t.job.id, id)).get() !== undefined
  }

  /** The process that owns it is there. */
  isOwned(id: string): boolean {
    const row = this.#db.select().from(t.job).where(eq(t.job.id, id)).get()
    return row !== undefined && /^(waiting|running)$/.test(row.state) && this.#isHere(row.owner)
  }
}
