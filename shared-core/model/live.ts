import { z } from 'zod'

/** What a live lesson watches, and what it waits for. */
export const liveStateSchema = z.object({
  lessonId: z.string(),
  clipsFolder: z.string(),
  shotsPath: z.string().nullable(),
  isOn: z.boolean(),
  /** Why the folder of clips, or the file of shots, can't be read just now; it is tried again. */
  clipsProblem: z.string().nullable(),
  shotsProblem: z.string().nullable(),
  /** What can't be read is expected back: a folder that is not there, a file that another program holds. */
  clipsGoOn: z.boolean(),
  shotsGoOn: z.boolean(),
  /** Files that have not arrived as a whole; `isArriving`: nothing is wrong with it. */
  waiting: z.array(z.object({ name: z.string(), why: z.string(), isArriving: z.boolean() })),
})
export type LiveState = z.infer<typeof liveStateSchema>
