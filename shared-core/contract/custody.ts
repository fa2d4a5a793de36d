import { z } from 'zod'
import { idSchema } from '../model/entities.ts'
import { changes, reads } from './call.ts'

const nothing = z.object({})
const job = z.object({ jobId: idSchema })

/** A file that was set aside: nothing in the library speaks of it. */
export const setAsideSchema = z.object({
  name: z.string(),
  kind: z.enum(['clip', 'talk-through', 'picture', 'other']),
  byteLength: z.number().int().nonnegative(),
  setAsideAt: z.string(),
  why: z.string(),
  /** It lies there for longer than the time after which the coach is asked. */
  isOld: z.boolean(),
})

/** Calls about keeping: what was set aside, backups, lessons for a colleague. */
export const custodyCalls = {
  /** Whether the records go with the files, and whether the folder is there. */
  'library.state': reads(
    nothing,
    z.object({
      trouble: z
        .object({
          kind: z.enum(['missing', 'damaged', 'empty', 'older']),
          clips: z.number().int(),
          unknownClips: z.number().int(),
          words: z.string(),
        })
        .nullable(),
      isThere: z.boolean(),
    }),
  ),
  /** Makes missing working copies and pictures again, and brings originals back from what was set aside and from backups. */
  'library.repair': changes('nothing is deleted by it', nothing, job),
  /** When the last backup was made, and where to; whether it is time to say so. */
  'backup.state': reads(
    nothing,
    z.object({
      lastMadeAt: z.string().nullable(),
      isOverdue: z.boolean(),
      files: z.array(z.object({ file: z.string(), isThere: z.boolean(), madeAt: z.string() })),
      /** Clips whose bytes were no longer those of their hash when the last backup was made; by name. */
      damagedClips: z.array(z.string()),
      /** Copies of the records from before a change of their form; they go with the next good backup. */
      copies: z.array(z.string()),
    }),
  ),
  'backup.make': changes('a backup is an addition', z.object({ folder: z.string().min(1) }), job),
  'backup.look': reads(
    z.object({ file: z.string() }),
    z.array(
      z.object({
        id: z.string(),
        madeAt: z.string(),
        students: z.number().int(),
        lessons: z.number().int(),
        clips: z.number().int(),
        byteLength: z.number(),
        isVerified: z.boolean(),
      }),
    ),
  ),
  'setAside.list': reads(nothing, z.array(setAsideSchema)),
  /** Takes a clip back into a lesson. */
  'setAside.takeBack': changes(
    'the clip is removed from the lesson like any other',
    z.object({ name: z.string(), lessonId: idSchema }),
    job,
  ),
  /** The coach's word: these may go. */
  'setAside.delete': changes(
    'deletion is real',
    z.object({ names: z.array(z.string()).min(1) }),
    z.object({ filesDeleted: z.number().int(), bytes: z.number() }),
  ),
} as const

/** Calls that close the library and open it anew; the library's process answers them, not the open library. */
export const hostCalls = {
  /** Restores a backup over this library, which is set aside, or into another folder. */
  'library.restore': changes(
    'the old library is set aside, not overwritten',
    z.object({ file: z.string(), snapshotId: z.string().nullable().default(null) }),
    z.object({ aside: z.string().nullable(), isStopped: z.boolean() }),
  ),
  /** Stops restoring or moving; the library is then as it was. Too late, it does nothing. */
  'library.stop': changes('it only stops work', nothing, z.object({})),
  /** Goes on with records that don't fit the files: unknown clips come into a lesson of their own. */
  'library.rebuild': changes('nothing is deleted by it', nothing, z.object({})),
  /** Moves the library's folder; from then on it is opened there. */
  'library.move': changes(
    'it can be moved back',
    z.object({ folder: z.string().min(1) }),
    z.object({ isStopped: z.boolean() }),
  ),
  /** Opens another library from now on. */
  'library.use': changes(
    'the other one can be chosen again',
    z.object({ folder: z.string().min(1) }),
    z.object({}),
  ),
} as const
