import { and, asc, desc, eq, lt, or } from 'drizzle-orm'
import type { Lesson, OpenLesson } from '../../../shared-core/model/entities.ts'
import { efficiencyOf } from '../../../shared-core/impact/efficiency.ts'
import { lessonReport, type LessonReport } from '../../../shared-core/report/lesson-report.ts'
import type {
  ReportBlock,
  ReportInput,
  ReportLesson,
  ReportShot,
} from '../../../shared-core/report/report-input.ts'
import { reportShot } from '../../../shared-core/report/report-shot.ts'
import { usable } from '../../../shared-core/shots/usable.ts'
import type { ShownMetric, UnitSystem } from '../../../shared-core/units.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { asLesson, openLesson } from './open-lesson.ts'
import { measuredSwings } from './measured-swings.ts'
import { cueLabels } from './cue-kinds.ts'

/** The lesson's shots in blocks, in the order they were hit, each with the cues of its swing. */
export const asReportLesson = (
  opened: Pick<OpenLesson, 'lesson' | 'blocks' | 'swings' | 'shots'>,
): ReportLesson => {
  const shots = new Map(opened.shots.map((s) => [s.id, s]))
  return {
    label: opened.lesson.title || opened.lesson.date,
    date: opened.lesson.date,
    air: opened.lesson.air,
    blocks: inHitOrder(opened).map((block) => ({
      id: block.id,
      label: block.name,
      isBaseline: block.isBaseline,
      shots: opened.swings
        .filter((swing) => swing.blockId === block.id && swing.shotId !== null)
        .map((swing): ReportShot | null => {
          const shot = shots.get(swing.shotId!)
          return shot
            ? reportShot(
                shot,
                swing.views.flatMap((v) => v.cues.map((c) => c.kind)),
              )
            : null
        })
        .filter((shot) => shot !== null),
    })),
  }
}

/** Blocks by their first swing: what was hit before the baseline stands before it, whatever place it was given. */
const inHitOrder = (opened: Pick<OpenLesson, 'blocks' | 'swings'>): OpenLesson['blocks'] => {
  const first = (blockId: string) =>
    Math.min(...opened.swings.filter((s) => s.blockId === blockId).map((s) => s.order))
  const places = new Map(opened.blocks.map((b) => [b.id, first(b.id)]))
  return opened.blocks.toSorted((a, b) => {
    const [x, y] = [places.get(a.id)!, places.get(b.id)!]
    return x === y ? a.order - b.order : x - y
  })
}

/** All lessons of a student as the reports need them, oldest first. */
export const reportLessonsOf = (
  context: LibraryContext,
  studentId: string,
): { lesson: Lesson; report: ReportLesson }[] =>
  context.db
    .select({ id: t.lesson.id })
    .from(t.lesson)
    .where(eq(t.lesson.studentId, studentId))
    .orderBy(t.lesson.date, t.lesson.id)
    .all()
    .map(({ id }) => {
      const opened = openLesson(context, id)
      return { lesson: opened.lesson, report: asReportLesson(opened) }
    })

/** What a player's usual level and scatter are learnt from: so many lessons at most. */
const recentLessons = 20

/** The lessons of the same student before this one, oldest first, without cues and clips. */
const earlierLessons = (
  context: LibraryContext,
  opened: Pick<OpenLesson, 'lesson' | 'student'>,
): ReportLesson[] =>
  context.db
    .select()
    .from(t.lesson)
    .where(and(eq(t.lesson.studentId, opened.student.id), lt(t.lesson.date, opened.lesson.date)))
    .orderBy(desc(t.lesson.date))
    .limit(recentLessons)
    .all()
    .toReversed()
    .map((row) => ({
      label: row.title || row.date,
      date: row.date,
      air: asLesson(row).air,
      blocks: blocksWithShots(context, row.id),
    }))

const blocksWithShots = ({ db }: LibraryContext, lessonId: string): ReportBlock[] => {
  const shots = db
    .select({ blockId: t.swing.blockId, shot: t.shot })
    .from(t.swing)
    .innerJoin(t.shot, eq(t.shot.id, t.swing.shotId))
    .where(eq(t.swing.lessonId, lessonId))
    .orderBy(asc(t.swing.position))
    .all()
  const firstOf = (blockId: string) => {
    const first = shots.findIndex((s) => s.blockId === blockId)
    return first < 0 ? shots.length : first
  }
  return db
    .select()
    .from(t.block)
    .where(eq(t.block.lessonId, lessonId))
    .orderBy(asc(t.block.position))
    .all()
    .toSorted((a, b) => firstOf(a.id) - firstOf(b.id))
    .map((block) => ({
      id: block.id,
      label: block.name,
      isBaseline: block.isBaseline,
      shots: shots.filter((s) => s.blockId === block.id).map(({ shot }) => reportShot(shot)),
    }))
}

/** A student is judged by what they have shown lately: so many shots with the club at most. */
const recentShots = 300

/** Only what was shown up to this lesson: opening an old lesson again never changes what it says. */
const ownEfficienciesOf = (
  context: LibraryContext,
  { lesson, student }: Pick<OpenLesson, 'lesson' | 'student'>,
): Record<string, number[]> => {
  const rows = context.db
    .select({
      club: t.shot.club,
      ballSpeedMps: t.shot.ballSpeedMps,
      clubSpeedMps: t.shot.clubSpeedMps,
      flags: t.shot.flags,
      isTrusted: t.shot.isTrusted,
      isLeftOut: t.shot.isLeftOut,
    })
    .from(t.shot)
    .innerJoin(t.lesson, eq(t.lesson.id, t.shot.lessonId))
    .where(
      and(eq(t.lesson.studentId, student.id), or(lt(t.lesson.date, lesson.date), eq(t.lesson.id, lesson.id))),
    )
    .orderBy(desc(t.lesson.date), desc(t.shot.position))
    .all()
  const byClub: Record<string, number[]> = {}
  for (const row of rows) {
    const efficiency = efficiencyOf(usable(row).shot)
    if (row.club === null || row.isLeftOut || !efficiency) continue
    const own = (byClub[row.club] ??= [])
    if (own.length < recentShots) own.push(efficiency.value)
  }
  return byClub
}

interface ReportOptions {
  units?: UnitSystem
  metrics?: readonly ShownMetric[]
}

/** Everything a lesson's report rests on, taken from the library. */
export const reportInputOf = (
  context: LibraryContext,
  lessonId: string,
  options: ReportOptions = {},
): ReportInput => {
  const opened = openLesson(context, lessonId)
  const settings = context.settings()
  return {
    lesson: asReportLesson(opened),
    earlier: earlierLessons(context, opened),
    ownEfficiencies: ownEfficienciesOf(context, opened),
    deviceError: settings.device,
    setupError: settings.setup,
    margins: settings.margins as Partial<Record<ShownMetric, number>>,
    units: options.units ?? opened.student.units,
    cueLabels: cueLabels(context.db),
    ...(options.metrics ? { metrics: options.metrics } : {}),
    measured: measuredSwings(context, opened),
  }
}

/** The report of one lesson. */
export const reportOfLesson = (
  context: LibraryContext,
  lessonId: string,
  options: ReportOptions = {},
): LessonReport => lessonReport(reportInputOf(context, lessonId, options))
