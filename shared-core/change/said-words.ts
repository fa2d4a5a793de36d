import type { ShownMetric } from '../units.ts'
import { andList, capital as capitalWord, sayWord } from '../wording/phrase.ts'
import * as words from './words.ts'
import type { Wording } from './words.ts'

/** Parts of findings, said in English, for sentences that are not data yet. */
export const capital = (text: string): string => sayWord(capitalWord(text))
/** `words.count` as English text. */
export const count = (...of: Parameters<typeof words.count>): string => sayWord(words.count(...of))
/** `words.cueWords` as English text. */
export const cueWords = (cue: string, wording: Wording): string => sayWord(words.cueWords(cue, wording))
/** Things in a row, "a, b and c", as English text. */
export const list = (items: readonly string[]): string => sayWord(andList(items))
/** `words.moreOrLess` as English text. */
export const moreOrLess = (metric: ShownMetric, value: number): string =>
  sayWord(words.moreOrLess(metric, value))
/** `words.quoted` as English text. */
export const quoted = (label: string): string => sayWord(words.quoted(label))
/** `words.range` as English text. */
export const range = (...of: Parameters<typeof words.range>): string => sayWord(words.range(...of))
export { name, sdOfInterval, signed } from './words.ts'
export type { Wording } from './words.ts'
