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
  /** Files that have not arrived as a whole. */
  waiting: z.array(z.object({ name: z.string(), why: z.string() })),
})
export type LiveState = z.infer<typeof liveStateSchema>
