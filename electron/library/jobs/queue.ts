import { eq, inArray } from 'drizzle-orm'
import { randomUUID } from 'node:crypto'
import type { Job } from '../../../shared-core/model/entities.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'

/** What a running job may use: stop when the signal fires, say how far it is, name what it made. */
export interface JobRun {
  id: string
  lessonId: string | null
  task: Record<string, unknown>
  signal: AbortSignal
  say(step: string, progress?: number): void
}

/** Does the work of one kind of job; the result is a path or a word for the coach, or null. */
export type Worker = (run: JobRun) => Promise<string | null>

type Row = typeof t.job.$inferSelect

/**
 * Long work: two jobs at a time, each with progress, cancel and retry. Jobs are kept in the library, so
 * that work cut off by a crash is shown as failed and can be tried again.
 */
export class JobQueue {
  readonly #db: Db
  readonly #workers: Partial<Record<Job['kind'], Worker>>
  readonly #changed: (job: Job) => void
  readonly #now: () => Date
  readonly #atOnce: number
  readonly #running = new Map<string, { abort: AbortController; done: Promise<void>; onlyWaits: boolean }>()
  readonly #live = new Map<string, { step: string; progress: number }>()
  #isClosing = false

  constructor(options: {
    db: Db
    workers: Partial<Record<Job['kind'], Worker>>
    changed: (job: Job) => void
    now: () => Date
    atOnce?: number
  }) {
    this.#db = options.db
    this.#workers = options.workers
    this.#changed = options.changed
    this.#now = options.now
    this.#atOnce = options.atOnce ?? 2
  }

  /** Jobs that were under way when the program ended are failed, with a reason; they can be retried. */
  recover() {
    this.#db
      .update(t.job)
      .set({
        state: 'failed',
        problem: {
          what: 'the program ended while this was under way',
          where: null,
          toDo: 'Nothing was half done; try it again',
        },
      })
      .where(inArray(t.job.state, ['waiting', 'running']))
      .run()
  }

  add(kind: Job['kind'], lessonId: string | null, label: string, task: Record<string, unknown>): string {
    const id = randomUUID()
    this.#db
      .insert(t.job)
      .values({ id, kind, lessonId, label, task, state: 'waiting', createdAt: this.#now().toISOString() })
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
      .map((row) => this.#asJob(row))
  }

  get(id: string): Job {
    return this.#asJob(this.#row(id))
  }

  cancel(id: string) {
    const row = this.#row(id)
    const running = this.#running.get(id)
    if (running) running.abort.abort()
    else if (row.state === 'waiting') this.#set(id, { state: 'cancelled' })
  }

  retry(id: string) {
    const row = this.#row(id)
    if (row.state !== 'failed' && row.state !== 'cancelled') return
    this.#set(id, { state: 'waiting', problem: null, result: null })
    this.#next()
  }

  /** Resolves when the job has ended, however it ended. */
  async ended(id: string): Promise<Job> {
    for (;;) {
      const job = this.get(id)
      if (job.state !== 'waiting' && job.state !== 'running') return job
      await (this.#running.get(id)?.done ?? Promise.race([...this.#running.values()].map((r) => r.done)))
    }
  }

  /** Stops everything that runs and waits until it has cleaned up; waiting jobs stay for `recover`. */
  async close() {
    this.#isClosing = true
    for (const { abort } of this.#running.values()) abort.abort()
    await Promise.all([...this.#running.values()].map((r) => r.done))
  }

  #row(id: string): Row {
    const row = this.#db.select().from(t.job).where(eq(t.job.id, id)).get()
    if (!row) throw new Problem('no-job', 'there is no such job any more')
    return row
  }

  #asJob(row: Row): Job {
    const live = this.#live.get(row.id)
    return {
      id: row.id,
      kind: row.kind,
      lessonId: row.lessonId,
      label: row.label,
      state: row.state,
      step: live?.step ?? '',
      progress: live?.progress ?? (row.state === 'done' ? 1 : 0),
      problem: row.problem ?? null,
      result: row.result,
    }
  }

  #set(id: string, patch: Partial<Row>) {
    this.#db.update(t.job).set(patch).where(eq(t.job.id, id)).run()
    this.#tell(id)
  }

  #tell(id: string) {
    const row = this.#db.select().from(t.job).where(eq(t.job.id, id)).get()
    if (row) this.#changed(this.#asJob(row))
  }

  #next() {
    while (!this.#isClosing) {
      const isFull = [...this.#running.values()].filter((r) => !r.onlyWaits).length >= this.#atOnce
      if (isFull) return
      const row = this.#db
        .select()
        .from(t.job)
        .where(eq(t.job.state, 'waiting'))
        .orderBy(t.job.createdAt, t.job.id)
        .limit(1)
        .get()
      if (!row) return
      this.#start(row)
    }
  }

  #start(row: Row) {
    const abort = new AbortController()
    this.#live.set(row.id, { step: 'starting', progress: 0 })
    this.#db.update(t.job).set({ state: 'running' }).where(eq(t.job.id, row.id)).run()
    let lastTold = 0
    const run: JobRun = {
      id: row.id,
      lessonId: row.lessonId,
      task: row.task,
      signal: abort.signal,
      say: (step, progress) => {
        const live = this.#live.get(row.id)!
        const isNewStep = live.step !== step
        this.#live.set(row.id, { step, progress: progress ?? live.progress })
        const now = this.#now().getTime()
        if (isNewStep || now - lastTold > 100) {
          lastTold = now
          this.#tell(row.id)
        }
      },
    }
    const work = async () => {
      try {
        const worker = this.#workers[row.kind]
        if (!worker) throw new Problem('no-worker', `this version can't do "${row.label}"`)
        const result = await worker(run)
        this.#finish(row.id, { state: 'done', result, problem: null })
      } catch (error) {
        if (error instanceof Cancelled || abort.signal.aborted) {
          // Work stopped by closing the program is not the coach's wish; it is offered again.
          this.#finish(row.id, this.#isClosing ? { state: 'waiting' } : { state: 'cancelled' })
        } else {
          const problem =
            error instanceof Problem ? error : new Problem('bug', `unexpected: ${(error as Error).message}`)
          if (!(error instanceof Problem)) console.error(error)
          this.#finish(row.id, {
            state: 'failed',
            problem: { what: problem.what, where: problem.where, toDo: problem.toDo },
          })
        }
      } finally {
        this.#running.delete(row.id)
        this.#next()
      }
    }
    const done = Promise.resolve().then(work)
    // The demo lesson only waits for the jobs that it starts; it must not take their place.
    this.#running.set(row.id, { abort, done, onlyWaits: row.kind === 'demo' })
    this.#tell(row.id)
  }

  #finish(id: string, patch: Partial<Row>) {
    this.#live.delete(id)
    this.#set(id, patch)
  }
}
