import { z } from 'zod'
import { consentSchema, idSchema, sideSchema } from '../model/entities.ts'
import { changes, reads } from './call.ts'

const job = z.object({ jobId: idSchema })
/** One or some lessons of a student, null for all. */
const which = z.object({ studentId: idSchema, lessonIds: z.array(idSchema).min(1).nullable() })

/** Lessons for and from a colleague, as one file. */
export const exchangeCalls = {
  /** What giving these lessons would mean. */
  'lessonFile.before': reads(
    which,
    z.object({
      /** Why they may not be given, in words; null if nothing is against it. */
      refusal: z.string().nullable(),
      lessons: z.number().int(),
      clips: z.number().int(),
      bytes: z.number(),
      /** What can't go along, in words. */
      leftOut: z.array(z.string()),
    }),
  ),
  'lessonFile.give': changes(
    'a written file stays as it was given',
    which.extend({
      folder: z.string().min(1),
      /** The coach's own notes on student, lesson and blocks. */
      withNotes: z.boolean().default(false),
      /** Injuries and other limits. */
      withLimits: z.boolean().default(false),
    }),
    job,
  ),
  /** What is in a lesson file and how it stands to what is here; nothing is taken in by it. */
  'lessonFile.look': reads(
    z.object({ file: z.string().min(1) }),
    z.object({
      writtenAt: z.string(),
      coachName: z.string(),
      student: z.object({ name: z.string(), side: sideSchema, isMinor: z.boolean(), consent: consentSchema }),
      withNotes: z.boolean(),
      withLimits: z.boolean(),
      /** Why it may not be taken in; null if nothing is against it. */
      refusal: z.string().nullable(),
      lessons: z.array(
        z.object({
          date: z.string(),
          title: z.string(),
          swings: z.number().int(),
          clips: z.number().int(),
          shots: z.number().int(),
          standing: z.enum(['new', 'same', 'newer', 'older']),
          lessonId: idSchema.nullable(),
        }),
      ),
      byteLength: z.number(),
      /** Students here who came with earlier files of the same student, or whose lessons these are. */
      knownStudents: z.array(z.object({ id: idSchema, name: z.string() })),
    }),
  ),
  'lessonFile.take': changes(
    'what came in is deleted like any lesson',
    z.object({
      file: z.string().min(1),
      /** The coach's word on who it is; null for a new student, marked as a colleague's. */
      studentId: idSchema.nullable(),
      /** What becomes of other copies of lessons that are here. */
      otherCopies: z.enum(['leave', 'beside']).default('leave'),
    }),
    job,
  ),
} as const
