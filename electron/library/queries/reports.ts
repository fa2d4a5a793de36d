import { inArray } from 'drizzle-orm'
import { localDay } from '../../../shared-core/model/local-day.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { SeasonView } from '../../../shared-core/report/season-view.ts'
import type { WhatWorks } from '../../../shared-core/students/what-works.ts'
import type { UnitSystem } from '../../../shared-core/units.ts'
import type { LibraryContext, Reports } from '../context.ts'
import * as t from '../database/schema.ts'
import { reportInputOf } from './report-lesson.ts'
import { seasonInputOf } from './season-input.ts'
import { worksInputOf } from './works-input.ts'

/** The most reports that are kept. */
const kept = 50

/**
 * Every report of the library, for the window, the composer and the hand-over alike: computed in the reporter's thread,
 * kept until what it rests on changes.
 */
export class LibraryReports implements Reports {
  readonly #context: LibraryContext
  readonly #cache = new Map<string, { stamp: string; report: Promise<unknown> }>()

  constructor(context: LibraryContext) {
    this.#context = context
  }

  lesson(lessonId: string, units?: UnitSystem): Promise<LessonReport> {
    return this.#cached(`lesson ${lessonId} ${units ?? ''}`, this.#stamp(), () =>
      this.#context.reporter.report('lesson', reportInputOf(this.#context, lessonId, { units })),
    )
  }

  season(studentId: string, units?: UnitSystem): Promise<SeasonView> {
    const { db } = this.#context
    const lessons = db.select({ id: t.lesson.id }).from(t.lesson)
    // A plan and its outcome are part of the season but of no lesson's revision.
    const plans = db.select().from(t.plan).where(inArray(t.plan.lessonId, lessons)).all()
    return this.#cached(
      `season ${studentId} ${units ?? ''}`,
      `${this.#stamp()} ${JSON.stringify(plans)}`,
      () => this.#context.reporter.report('season', seasonInputOf(this.#context, studentId, units)),
    )
  }

  works(options: { club?: string | null; units?: UnitSystem }): Promise<WhatWorks> {
    // An agreement may run out overnight.
    const today = localDay(this.#context.now())
    return this.#cached(`works ${JSON.stringify(options)}`, `${this.#stamp()} ${today}`, () =>
      this.#context.reporter.report('works', worksInputOf(this.#context, options)),
    )
  }

  /** What every report rests on: all lessons (earlier ones count), the roster, the device. */
  #stamp(): string {
    const { sqlite, db } = this.#context
    const { device, setup, margins } = this.#context.settings()
    return JSON.stringify([
      sqlite.prepare('SELECT sum(revision) AS r, count(*) AS n FROM lesson_revision').get(),
      db.select().from(t.student).all(),
      db.select().from(t.cueKind).all(),
      [device, setup, margins],
    ])
  }

  #cached<T>(key: string, stamp: string, compute: () => Promise<T>): Promise<T> {
    const there = this.#cache.get(key)
    if (there?.stamp === stamp) return there.report as Promise<T>
    const report = Promise.resolve().then(compute)
    if (this.#cache.size >= kept) this.#cache.clear()
    const entry = { stamp, report }
    this.#cache.set(key, entry)
    report.catch(() => this.#cache.get(key) === entry && this.#cache.delete(key))
    return report
  }
}
