import type { ProblemBody } from '../problem.ts'

/** Messages between main and the library process. `seq` ties an answer to its call. */
/** What main says to the library process. */
export type ToLibrary =
  /** `from` names the window that asks, null for main itself. */
  | { type: 'call'; seq: number; name: string; input: unknown; from: string | null }
  /** Answer to `print`; the reason if it failed. */
  | { type: 'printed'; seq: number; reason: string | null }
  | { type: 'close' }

/** What the library process says to main. */
export type FromLibrary =
  | { type: 'ready' }
  | { type: 'refused'; problem: ProblemBody }
  | { type: 'answer'; seq: number; output: unknown }
  | { type: 'failed'; seq: number; problem: ProblemBody }
  | { type: 'event'; name: string; body: unknown }
  /** Only main has an engine that prints. */
  | { type: 'print'; seq: number; htmlFile: string; pdfFile: string }

/** The result of a call as it crosses to the window: errors are data there. */
export type CallResult<T> = { ok: true; output: T } | { ok: false; problem: ProblemBody }
