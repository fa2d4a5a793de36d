import { asc, eq, inArray } from 'drizzle-orm'
import { mayBeKept } from '../../../shared-core/model/consent.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import type { ReportLesson, ReportShot } from '../../../shared-core/report/report-input.ts'
import { reportShot } from '../../../shared-core/report/report-shot.ts'
import type { WhatWorksInput } from '../../../shared-core/students/what-works.ts'
import type { UnitSystem } from '../../../shared-core/units.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { asLesson } from './open-lesson.ts'
import { cueLabels } from './cue-kinds.ts'

/** What is held against each other across students: those whose consent allows it; in the units most of them use. */
export const worksInputOf = (
  context: LibraryContext,
  options: { club?: string | null; units?: UnitSystem },
): WhatWorksInput => {
  const { db } = context
  const today = localDay(context.now())
  const all = db.select().from(t.student).orderBy(asc(t.student.createdAt)).all()
  const students = all.filter((student) => mayBeKept(student, today))
  const lessons = lessonsByStudent(
    context,
    students.map((student) => student.id),
  )
  return {
    students: students.map(({ id, name }) => ({ id, name, lessons: lessons.get(id) ?? [] })),
    withoutConsent: all.length - students.length,
    units: options.units ?? usualUnits(students.map((student) => student.units)),
    deviceError: context.settings().device,
    cueLabels: cueLabels(db),
    ...(options.club === undefined ? {} : { club: options.club }),
  }
}

const usualUnits = (units: readonly UnitSystem[]): UnitSystem => {
  const counts = new Map<UnitSystem, number>()
  for (const each of units) counts.set(each, (counts.get(each) ?? 0) + 1)
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 'mph-yd'
}

type Writable<T> = { -readonly [K in keyof T]: T[K] }
interface Filling {
  lesson: Omit<ReportLesson, 'blocks'>
  blocks: Map<string, Writable<Omit<ReportLesson['blocks'][number], 'shots'>> & { shots: ReportShot[] }>
}

/** All shots of these students, in blocks in the order they were hit, each with the cues of its swing; three questions in all. */
const lessonsByStudent = (
  { db }: LibraryContext,
  studentIds: readonly string[],
): Map<string, ReportLesson[]> => {
  const ofThem = inArray(t.lesson.studentId, [...studentIds])
  const cues = new Map<string, string[]>()
  for (const { swingId, kind } of db
    .select({ swingId: t.view.swingId, kind: t.cue.kind })
    .from(t.cue)
    .innerJoin(t.moment, eq(t.moment.id, t.cue.momentId))
    .innerJoin(t.view, eq(t.view.id, t.moment.viewId))
    .all()) {
    cues.set(swingId, [...(cues.get(swingId) ?? []), kind])
  }
  const lessons = new Map<string, Filling & { studentId: string }>()
  for (const row of db
    .select()
    .from(t.lesson)
    .where(ofThem)
    .orderBy(asc(t.lesson.date), asc(t.lesson.id))
    .all()) {
    lessons.set(row.id, {
      studentId: row.studentId,
      lesson: { label: row.title || row.date, date: row.date, air: asLesson(row).air },
      blocks: new Map(),
    })
  }
  const hit = db
    .select({ swingId: t.swing.id, lessonId: t.swing.lessonId, block: t.block, shot: t.shot })
    .from(t.swing)
    .innerJoin(t.shot, eq(t.shot.id, t.swing.shotId))
    .innerJoin(t.block, eq(t.block.id, t.swing.blockId))
    .innerJoin(t.lesson, eq(t.lesson.id, t.swing.lessonId))
    .where(ofThem)
    .orderBy(asc(t.swing.position))
    .all()
  for (const { swingId, lessonId, block, shot } of hit) {
    const { blocks } = lessons.get(lessonId)!
    const there = blocks.get(block.id) ?? {
      id: block.id,
      label: block.name,
      isBaseline: block.isBaseline,
      shots: [],
    }
    blocks.set(block.id, there)
    there.shots.push(reportShot(shot, cues.get(swingId) ?? []))
  }
  const byStudent = new Map<string, ReportLesson[]>()
  for (const { studentId, lesson, blocks } of lessons.values()) {
    const whole = { ...lesson, blocks: [...blocks.values()] }
    byStudent.set(studentId, [...(byStudent.get(studentId) ?? []), whole])
  }
  return byStudent
}
