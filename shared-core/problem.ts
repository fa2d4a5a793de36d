/**
 * The one error of Leadside that is meant to be read by the coach: what went wrong, where, and what to do.
 * Window, command line and tests share it; anything else thrown is a bug.
 */
export class Problem extends Error {
  readonly code: string
  /** What happened, one sentence, no full stop needed at the end. */
  readonly what: string
  /** File, line, column, clip or record it happened at; null if it is nowhere in particular. */
  readonly where: string | null
  /** What the coach can do now; null if nothing. */
  readonly toDo: string | null

  constructor(
    code: string,
    what: string,
    options: { where?: string | null; toDo?: string | null; cause?: unknown } = {},
  ) {
    const where = options.where ?? null
    const toDo = options.toDo ?? null
    super([where ? `${where}: ${what}` : what, toDo].filter(Boolean).join('. '), { cause: options.cause })
    this.name = 'Problem'
    this.code = code
    this.what = what
    this.where = where
    this.toDo = toDo
  }
}
