import Papa from 'papaparse'
import { onMoments } from '../../../shared-core/drawing/drawing.ts'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import { metricNames } from '../../../shared-core/model/shot.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { findingIn } from '../../../shared-core/wording/say-finding.ts'

/** Version of lesson.json; a reader decides by it, not by probing. Described in DEVELOPERS.md. */
export const lessonFileVersion = 2

/**
 * A text as a table program takes it for a text: one that begins like a formula gets an apostrophe in front (OWASP, "CSV
 * Injection"). Numbers stay numbers.
 */
const asText = (cell: string): string =>
  /^[=+\-@\t\r\n\0]/.test(cell) && !/^[+-]?\d+(\.\d+)?$/.test(cell) ? `'${cell}` : cell

const safeRow = <T extends Record<string, string | number>>(row: T): Record<string, string | number> =>
  Object.fromEntries(
    Object.entries(row).map(([name, cell]) => [name, typeof cell === 'string' ? asText(cell) : cell]),
  )

/** The student's shots as a table: SI units and degrees, the unit in each column's name, empty where nothing was recorded. */
export const shotsCsv = (lesson: OpenLesson, report: LessonReport): string => {
  const shots = new Map(lesson.shots.map((s) => [s.id, s]))
  const blocks = new Map(lesson.blocks.map((b) => [b.id, b.name]))
  const numbers = new Map(report.shots.map((s) => [s.shotId, s]))
  const rows = lesson.swings.flatMap((swing) => {
    const shot = swing.shotId ? shots.get(swing.shotId) : undefined
    if (!shot) return []
    const efficiency = numbers.get(shot.id)?.efficiency?.value
    return [
      {
        swing: swing.order,
        block: blocks.get(swing.blockId) ?? '',
        club: shot.club ?? '',
        at: shot.at ?? '',
        ...Object.fromEntries(metricNames.map((name) => [name, shot[name] ?? ''])),
        efficiency: efficiency === undefined ? '' : Number(efficiency.toFixed(4)),
        leftOut: shot.isLeftOut ? shot.leftOutReason || 'yes' : '',
      },
    ]
  })
  return `${Papa.unparse(rows.map(safeRow), { newline: '\n' })}\n`
}

/** The student's own data, for any program: what was recorded, marked and found. */
export const lessonJson = (lesson: OpenLesson, report: LessonReport, writtenAt: string): string =>
  `${JSON.stringify(
    {
      format: 'leadside-lesson',
      version: lessonFileVersion,
      writtenAt,
      units: 'SI: m/s, m, s, degrees, rpm, mm; frames count from 0',
      student: { name: lesson.student.name, side: lesson.student.side },
      lesson: {
        date: lesson.lesson.date,
        title: lesson.lesson.title,
        place: lesson.lesson.place,
        nextFocus: lesson.lesson.nextFocus,
      },
      blocks: lesson.blocks.map(({ id, name, focus, isBaseline }) => ({ id, name, focus, isBaseline })),
      swings: lesson.swings.map((swing) => ({
        order: swing.order,
        blockId: swing.blockId,
        shotId: swing.shotId,
        note: swing.note,
        views: swing.views.map((view) => {
          const clip = lesson.clips.find((c) => c.id === view.clipId)
          return {
            camera: clip?.camera ?? 'other',
            // One number would be wrong for a film that is slow in a part only.
            captureRate: clip && !clip.slowPart ? clip.captureRate : null,
            playbackRate: clip?.playbackRate ?? null,
            width: clip?.width ?? null,
            height: clip?.height ?? null,
            moments: view.moments.map(({ name, frame, how, confidence, isConfirmed }) => ({
              name,
              frame,
              how,
              confidence,
              isConfirmed,
            })),
            cues: view.cues.map(({ momentId, kind, strength, x, y, note }) => {
              const moment = view.moments.find((m) => m.id === momentId)
              return {
                moment: moment?.name ?? null,
                frame: moment?.frame ?? null,
                kind,
                strength,
                x,
                y,
                note,
              }
            }),
            // As the student sees them: where their moment is now, without what the coach has put away.
            drawings: onMoments(view.drawings, view.moments)
              .filter((drawing) => !drawing.isHidden)
              .map(({ fromFrame, toFrame, shape }) => ({ fromFrame, toFrame, shape })),
          }
        }),
      })),
      // Columns that no metric was read from may hold anything, of anyone: they stay with the coach.
      shots: lesson.shots.map(({ lessonId: _lessonId, fileName: _fileName, other: _other, ...shot }) => shot),
      // The file is the student's: its findings are said in the language of the page.
      language: lesson.student.language,
      findings: report.findings
        .map((finding) => findingIn(lesson.student.language, finding))
        .map(({ key, sentence, howSure, isSure, howWeKnow }) => ({
          key,
          sentence,
          howSure,
          isSure,
          howWeKnow,
        })),
    },
    null,
    2,
  )}\n`
