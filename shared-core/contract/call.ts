import type { z } from 'zod'

/**
 * One call between a client (window, command line, tests) and the library process.
 * `changes`: it writes. `undo`: the change can be taken back with `edits.undo`; null means it can't be,
 * and says why, so that a change without undo is a decision seen in review.
 */
export interface Call<I extends z.ZodType = z.ZodType, O extends z.ZodType = z.ZodType> {
  readonly input: I
  readonly output: O
  readonly changes: boolean
  readonly undo: true | string | null
  /** True if the list of students and lessons may look different afterwards: every window is told to read it again. */
  readonly showsOnRoster: boolean
}

/** A call that only reads. */
export const reads = <I extends z.ZodType, O extends z.ZodType>(input: I, output: O): Call<I, O> => ({
  input,
  output,
  changes: false,
  undo: null,
  showsOnRoster: false,
})

/** A call that edits a lesson and can be undone. */
export const edits = <I extends z.ZodType, O extends z.ZodType>(input: I, output: O): Call<I, O> => ({
  input,
  output,
  changes: true,
  undo: true,
  showsOnRoster: false,
})

/** A call that changes something undo does not cover; says why. */
export const changes = <I extends z.ZodType, O extends z.ZodType>(
  why: string,
  input: I,
  output: O,
): Call<I, O> => ({ input, output, changes: true, undo: why, showsOnRoster: false })

/** The same call, after which the windows read the Roster again. */
export const onRoster = <I extends z.ZodType, O extends z.ZodType>(call: Call<I, O>): Call<I, O> => ({
  ...call,
  showsOnRoster: true,
})
