import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { asc, eq, sql } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import { shortConsentGap } from '../../../shared-core/model/consent.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import { noConsent } from '../../../shared-core/model/entities.ts'
import type { RosterEntry } from '../../../shared-core/model/hand-over.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { dropCoachPictures, facePicturesOf } from '../coach/coach-pictures.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { lessonView, studentRow } from '../queries/lesson-view.ts'
import { withNote } from '../queries/with-note.ts'
import { dropUnusedMedia } from '../sweep.ts'

type Names =
  | 'roster.list'
  | 'student.create'
  | 'student.get'
  | 'student.update'
  | 'student.consent'
  | 'student.deleteForGood'
  | 'lesson.create'
  | 'lesson.update'
  | 'lesson.deleteForGood'
  | 'lesson.open'

const definedOnly = <T extends object>(patch: T): Partial<T> =>
  Object.fromEntries(Object.entries(patch).filter(([, value]) => value !== undefined)) as Partial<T>

export const rosterHandlers = (context: LibraryContext): Pick<Handlers, Names> => {
  const { db, sqlite, journal, paths } = context
  const today = () => localDay(context.now())

  const deleteLessons = (ids: string[]): number => {
    const talks = ids.flatMap((id) =>
      db.select().from(t.talkThrough).where(eq(t.talkThrough.lessonId, id)).all(),
    )
    const faces = ids.flatMap((id) => facePicturesOf(context, id))
    sqlite.transaction(() => {
      for (const id of ids) {
        db.delete(t.edit).where(eq(t.edit.lessonId, id)).run()
        db.delete(t.lesson).where(eq(t.lesson.id, id)).run()
      }
    })()
    let files = dropUnusedMedia(context) + dropCoachPictures(context, faces)
    for (const talk of talks) {
      // The video and its poster: both show the student.
      for (const name of [talk.fileName, `${talk.id}.jpg`]) {
        const file = path.join(paths.talks, name)
        if (!fs.existsSync(file)) continue
        fs.rmSync(file)
        files += 1
      }
    }
    // What was deleted must not stay readable in the write-ahead log.
    sqlite.pragma('wal_checkpoint(TRUNCATE)')
    return files
  }

  return {
    'roster.list': () => {
      const lessons = sqlite
        .prepare(
          `SELECT l.id, l.student_id AS studentId, l.date, l.title,
             (SELECT count(*) FROM swing WHERE lesson_id = l.id) AS swingCount,
             (SELECT count(*) FROM clip WHERE lesson_id = l.id) AS clipCount,
             (SELECT count(*) FROM shot WHERE lesson_id = l.id) AS shotCount,
             (SELECT max(written_at) FROM hand_over WHERE lesson_id = l.id) AS lastHandOverAt
           FROM lesson l ORDER BY l.date DESC, l.id`,
        )
        .all() as (RosterEntry['lessons'][number] & { studentId: string })[]
      const byStudent = new Map<string, RosterEntry['lessons']>()
      for (const { studentId, ...lesson } of lessons) {
        byStudent.set(studentId, [...(byStudent.get(studentId) ?? []), lesson])
      }
      return db
        .select()
        .from(t.student)
        .orderBy(asc(sql`lower(${t.student.name})`))
        .all()
        .map((s) => ({
          id: s.id,
          name: s.name,
          side: s.side,
          isMinor: s.isMinor,
          consentGap: shortConsentGap(s, today()),
          lessons: byStudent.get(s.id) ?? [],
        }))
    },
    'student.create': (input) => {
      const id = randomUUID()
      db.insert(t.student)
        .values({ id, ...input, consent: noConsent, createdAt: context.now().toISOString() })
        .run()
      return { id }
    },
    'student.get': ({ id }) => studentRow(db, id),
    'student.update': ({ id, patch }) => {
      studentRow(db, id)
      const set = definedOnly(patch)
      if (Object.keys(set).length) db.update(t.student).set(set).where(eq(t.student.id, id)).run()
      for (const { lessonId } of db
        .select({ lessonId: t.lesson.id })
        .from(t.lesson)
        .where(eq(t.lesson.studentId, id))
        .all()) {
        journal.bump(lessonId)
      }
      return {}
    },
    'student.consent': ({ id, consent }) => {
      studentRow(db, id)
      db.update(t.student)
        .set({ consent: { ...consent, recordedAt: context.now().toISOString() } })
        .where(eq(t.student.id, id))
        .run()
      return {}
    },
    'student.deleteForGood': ({ id, typedName }) => {
      const student = studentRow(db, id)
      if (typedName.trim() !== student.name) {
        throw new Problem('name-differs', 'the typed name is not the student’s name', {
          toDo: `Type "${student.name}" to delete everything about this student`,
        })
      }
      const lessons = db.select({ id: t.lesson.id }).from(t.lesson).where(eq(t.lesson.studentId, id)).all()
      const filesDeleted = deleteLessons(lessons.map((l) => l.id))
      db.delete(t.student).where(eq(t.student.id, id)).run()
      sqlite.pragma('wal_checkpoint(TRUNCATE)')
      return { filesDeleted }
    },
    'lesson.create': ({ studentId, date, title }) => {
      studentRow(db, studentId)
      const id = randomUUID()
      db.insert(t.lesson)
        .values({ id, studentId, date, title, micDistanceM: context.settings().micDistanceM })
        .run()
      journal.bump(id)
      return { id }
    },
    'lesson.update': ({ id, patch, noteBefore }) => {
      const { note } = lessonRow(db, id)
      const { air, ...rest } = patch
      const set = withNote(definedOnly({ ...rest, ...air }), noteBefore, note)
      if (Object.keys(set).length === 0) return {}
      journal.run(
        {
          lessonId: id,
          label: `edit ${Object.keys(set).includes('note') ? 'lesson notes' : 'lesson'}`,
          mergeKey: `lesson:${Object.keys(set).join()}`,
        },
        () => db.update(t.lesson).set(set).where(eq(t.lesson.id, id)).run(),
      )
      return {}
    },
    'lesson.deleteForGood': ({ id }) => {
      lessonRow(db, id)
      return { filesDeleted: deleteLessons([id]) }
    },
    'lesson.open': ({ lessonId }) => lessonView(context, lessonId),
  }
}
