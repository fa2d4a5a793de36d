import { randomUUID } from 'node:crypto'
import { asc, eq, inArray, sql } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import { shortConsentGap } from '../../../shared-core/model/consent.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import { noConsent } from '../../../shared-core/model/entities.ts'
import type { RosterEntry } from '../../../shared-core/model/hand-over.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import { copiesIn, copyName } from '../deletion/copies.ts'
import { deleteForGood } from '../deletion/delete-for-good.ts'
import { packageState } from '../deletion/packages.ts'
import { hashesOnlyOf, lessonIdsOf, writtenPackages } from '../deletion/plan.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { lessonView, studentRow } from '../queries/lesson-view.ts'
import { withNote } from '../queries/with-note.ts'

type Names =
  | 'roster.list'
  | 'student.create'
  | 'student.get'
  | 'student.update'
  | 'student.consent'
  | 'student.deleteForGood'
  | 'deletion.look'
  | 'lesson.create'
  | 'lesson.update'
  | 'lesson.deleteForGood'
  | 'lesson.open'

const definedOnly = <T extends object>(patch: T): Partial<T> =>
  Object.fromEntries(Object.entries(patch).filter(([, value]) => value !== undefined)) as Partial<T>

export const rosterHandlers = (context: LibraryContext): Pick<Handlers, Names> => {
  const { db, sqlite, journal } = context
  const today = () => localDay(context.now())

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
    'student.deleteForGood': async ({ id, typedName, withPackages }) => {
      const student = studentRow(db, id)
      if (typedName.trim() !== student.name) {
        throw new Problem('name-differs', 'the typed name is not the student’s name', {
          toDo: `Type "${student.name}" to delete everything about this student`,
        })
      }
      return deleteForGood(context, { studentId: id, lessonIds: lessonIdsOf(context, id), withPackages })
    },
    'deletion.look': (of) => {
      const lessonIds = 'studentId' in of ? lessonIdsOf(context, of.studentId) : [of.lessonId]
      const hashes = hashesOnlyOf(context, lessonIds)
      const media = db.select().from(t.media).where(inArray(t.media.hash, hashes)).all()
      return {
        lessons: lessonIds.length,
        clips: hashes.length,
        bytes: media.reduce((sum, { byteLength }) => sum + byteLength, 0),
        packages: writtenPackages(context, lessonIds).map((written) => ({
          folder: written.folder,
          isThere: packageState(written) !== 'gone',
        })),
        copies: copiesIn(context.folder).map((file) => copyName(context.folder, file)),
      }
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
    'lesson.deleteForGood': async ({ id, withPackages }) => {
      lessonRow(db, id)
      return deleteForGood(context, { studentId: null, lessonIds: [id], withPackages })
    },
    'lesson.open': ({ lessonId }) => lessonView(context, lessonId),
  }
}
