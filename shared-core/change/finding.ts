import type { ShownMetric } from '../units.ts'
import { phrase, sayOrNull, sayWord, type Word } from '../wording/phrase.ts'
import { sayHowWeKnow, type HowWeKnow, type HowWeKnowWords } from '../wording/how-we-know.ts'
import type { ComparisonCell } from './comparison-cells.ts'

/** One plain sentence with its number, how sure it is, and how we know. */
export interface Finding {
  topic: 'change' | 'session' | 'cue' | 'kept' | 'season' | 'plan' | 'play-speed' | 'strike'
  /** Null where the finding is about more than one metric. */
  metric: ShownMetric | null
  verdict: string
  /** For the coach, in English. */
  sentence: string
  /** How sure it is, in words. */
  howSure: string
  /** What all its texts are made of, to be said in another language. */
  words: { sentence: Word; howSure: Word; caution: Word | null; howWeKnow: HowWeKnowWords }
  /** True only where something was shown; false for "can't tell" in any form. */
  isSure: boolean
  howWeKnow: HowWeKnow
  /** Goes with the advice; null where nothing is advised. */
  caution: string | null
  /** What is said, for a machine: the sentence can be made again from `kind` and `values` (SI units, labels). */
  kind?: string
  values?: Readonly<Record<string, string | number | boolean | null>>
  /** The metrics of a comparison, a cell each; only with a comparison of two blocks. */
  cells?: ComparisonCell[]
}

/** A finding before it is said. */
export interface FindingInWords extends Omit<
  Finding,
  'sentence' | 'howSure' | 'words' | 'howWeKnow' | 'caution'
> {
  sentence: Word
  howSure: Word
  howWeKnow: HowWeKnowWords
  caution: Word | null
}

/** A finding said in the window's language, with what it is made of. */
export const sayFinding = ({ sentence, howSure, howWeKnow, caution, ...rest }: FindingInWords): Finding => ({
  ...rest,
  sentence: sayWord(sentence),
  howSure: sayWord(howSure),
  words: { sentence, howSure, caution, howWeKnow },
  howWeKnow: sayHowWeKnow(howWeKnow),
  caution: sayOrNull(caution),
})

/** What goes with any advice to swing (common practice; warm-up: Ehlert & Wilson 2019, JSCR 33:3444). */
export const swingCaution: Word = phrase('caution.swing')
