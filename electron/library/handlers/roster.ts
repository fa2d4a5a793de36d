import { asc, eq, sql } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { shortConsentGap } from '../../../shared-core/model/consent.ts'
import type { RosterEntry } from '../../../shared-core/model/hand-over.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { sayOrNull } from '../../../shared-core/wording/phrase.ts'

export const rosterHandlers = (context: LibraryContext): HandlersNamed<'roster'> => {
  const { db, sqlite } = context
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
      const givers = new Map(
        db
          .select()
          .from(t.takenStudent)
          .where(eq(t.takenStudent.isNew, true))
          .all()
          .map(({ studentId, givenBy }) => [studentId, givenBy]),
      )
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
          consentGap: sayOrNull(shortConsentGap(s, today())),
          givenBy: givers.get(s.id) ?? null,
          lessons: byStudent.get(s.id) ?? [],
        }))
    },
  }
}
