import type { Swish } from '../../shared-core/swish/find-swishes.ts'

/** Sound that is kept to be listened to, s; a swish with the quiet around it is shorter. */
const keptSeconds = 2.4
/** Looked at this often. */
const everySeconds = 0.25
/** A swish is judged once this much was heard after it: until then another sound may follow. */
const afterSeconds = 0.45

/** Finds swishes in sound that arrives in pieces; each is told once, and the sound itself is forgotten. */
export class LiveSwishes {
  readonly #rate: number
  readonly #find: (pcm: Float32Array, rate: number) => Swish[]
  readonly #kept: Float32Array
  #filled = 0
  #heard = 0
  #sinceLook = 0
  #toldUntil = -1

  constructor(rate: number, find: (pcm: Float32Array, rate: number) => Swish[]) {
    this.#rate = rate
    this.#find = find
    this.#kept = new Float32Array(Math.round(keptSeconds * rate))
  }

  /** Takes the next piece; swishes that are new, in seconds since the beginning. */
  hear(piece: Float32Array): Swish[] {
    const { length } = this.#kept
    const part = piece.length > length ? piece.subarray(piece.length - length) : piece
    const gone = Math.max(0, this.#filled + part.length - length)
    this.#kept.copyWithin(0, gone, this.#filled)
    this.#kept.set(part, this.#filled - gone)
    this.#filled += part.length - gone
    this.#heard += piece.length
    this.#sinceLook += piece.length
    if (this.#sinceLook < everySeconds * this.#rate || this.#filled < length) return []
    this.#sinceLook = 0
    const startSeconds = (this.#heard - this.#filled) / this.#rate
    const news = this.#find(this.#kept, this.#rate)
      .map((swish) => ({
        ...swish,
        atSeconds: startSeconds + swish.atSeconds,
        fromSeconds: startSeconds + swish.fromSeconds,
        toSeconds: startSeconds + swish.toSeconds,
      }))
      .filter(
        (s) => s.fromSeconds > this.#toldUntil && s.toSeconds + afterSeconds <= this.#heard / this.#rate,
      )
    for (const swish of news) this.#toldUntil = swish.toSeconds
    return news
  }
}
