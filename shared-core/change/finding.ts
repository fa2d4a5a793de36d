import type { ShownMetric } from '../units.ts'
import type { ComparisonCell } from './comparison-cells.ts'

/** One plain sentence with its number, how sure it is, and how we know. */
export interface Finding {
  topic: 'change' | 'session' | 'cue' | 'kept' | 'season' | 'plan' | 'play-speed' | 'strike'
  /** Null where the finding is about more than one metric. */
  metric: ShownMetric | null
  verdict: string
  /** For the student. */
  sentence: string
  /** How sure it is, in words. */
  howSure: string
  /** True only where something was shown; false for "can't tell" in any form. */
  isSure: boolean
  howWeKnow: { data: string; method: string; source: string }
  /** Goes with the advice; null where nothing is advised. */
  caution: string | null
  /** What is said, for a machine: the sentence can be made again from `kind` and `values` (SI units, labels). */
  kind?: string
  values?: Readonly<Record<string, string | number | boolean | null>>
  /** The metrics of a comparison, a cell each; only with a comparison of two blocks. */
  cells?: ComparisonCell[]
}

/** What goes with any advice to swing (common practice; warm-up: Ehlert & Wilson 2019, JSCR 33:3444). */
export const swingCaution =
  'Warm up first and build up slowly. Stop if anything hurts; with an injury, see a medical professional before speed work. ' +
  'Mind the space around you and follow the rules of the place.'
