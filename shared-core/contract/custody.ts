import { z } from 'zod'
import { idSchema } from '../model/entities.ts'
import { changes, reads } from './call.ts'

const nothing = z.object({})
const job = z.object({ jobId: idSchema })

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
