import { isProblemKey, problemWords, type ProblemKey, type ProblemValues } from './wording/problem-words.ts'
import { sayWord, type Word, type Words } from './wording/phrase.ts'

/** A problem as it crosses processes and is kept: what makes its sentences, and beside it the sentences in English. */
export interface ProblemBody {
  code: string
  what: string
  where: string | null
  toDo: string | null
  key: string
  values: Words
  place: Word | null
}

/** What is kept of a problem; an older Leadside kept its sentences only. */
type Kept = Pick<ProblemBody, 'what' | 'where' | 'toDo'> & Partial<ProblemBody>

/**
 * The one error of Leadside that is meant to be read by the coach: what went wrong, where, and what to do, as a key and what
 * fills its places. Its sentences stand in `wording/coach/problems.ts`. Window, command line and tests share it; anything
 * else thrown is a bug.
 */
export class Problem<K extends ProblemKey = ProblemKey> extends Error {
  /** What programs go by; several sentences may have the same. */
  readonly code: string
  readonly key: K
  readonly values: Words
  /** `where` before it is said. */
  readonly place: Word | null
  /** What happened, one sentence, no full stop needed at the end. */
  readonly what: string
  /** File, line, column, clip or record it happened at; null if it is nowhere in particular. */
  readonly where: string | null
  /** What the coach can do now; null if nothing. */
  readonly toDo: string | null

  constructor(
    key: K,
    ...[filled, options]: Record<never, never> extends ProblemValues<K>
      ? [filled?: ProblemValues<K>, options?: { cause?: unknown }]
      : [filled: ProblemValues<K>, options?: { cause?: unknown }]
  ) {
    const { where: place = null, ...values } = (filled ?? {}) as Words & { where?: Word | null }
    const { what, toDo } = problemWords(key, values)
    const where = place === null ? null : sayWord(place)
    super([where ? `${where}: ${what}` : what, toDo].filter(Boolean).join('. '), { cause: options?.cause })
    this.name = 'Problem'
    this.code = key.split('.')[0]!
    this.key = key
    this.values = values
    this.place = place
    this.what = what
    this.where = where
    this.toDo = toDo
  }

  /** As it crosses to another process or thread, or into the records. */
  get body(): ProblemBody {
    const { code, what, where, toDo, key, values, place } = this
    return { code, what, where, toDo, key, values, place }
  }

  /** The same problem, told to have happened elsewhere. */
  at(place: Word): Problem {
    return Problem.from({ ...this.body, place }, this)
  }

  /** A problem that was told as data. One that another Leadside kept, of a key or places unknown here, keeps its sentences. */
  static from({ key, values, what, toDo, ...kept }: Kept, cause?: unknown): Problem {
    const where = kept.place ?? kept.where
    if (key !== undefined && isProblemKey(key)) {
      try {
        return new Problem(key, { ...values, where } as ProblemValues<ProblemKey>, { cause })
      } catch {
        // A place that this version's sentence has and the kept values don't: the kept sentences say it all the same.
      }
    }
    return toDo === null
      ? new Problem('told.what', { what, where }, { cause })
      : new Problem('told.whatAndToDo', { what, toDo, where }, { cause })
  }
}
