import type { BounceBack } from './bounce-back.ts'
import type { Finding } from './finding.ts'
import { count, level, moreOrLess, name, size } from './words.ts'
import type { Wording } from './words.ts'

/**
 * What goes with a change after an unusual baseline; null where nothing worth a word is to be expected
 * by itself (less than the last digit shown), or where the earlier blocks are too few.
 */
export function bounceBackFinding(report: BounceBack, wording: Wording): Finding | null {
  const { metric, expectedChange, usualLevel, blocks } = report
  if (expectedChange === null || usualLevel === null) return null
  const expected = size(metric, expectedChange, wording)
  if (expected === 'next to nothing') return null
  return {
    topic: 'change',
    metric,
    verdict: 'bounce-back',
    sentence:
      `Part of the change in ${name(metric)} was to be expected: the baseline was unusual for this player, and about ` +
      `${expected} ${moreOrLess(metric, expectedChange)} would have come by itself.`,
    howSure: 'An expectation from earlier blocks, not a measurement.',
    isSure: false,
    howWeKnow: {
      data: `${count(blocks, 'earlier block')}; usual level ${level(metric, usualLevel, wording)}.`,
      method: 'Regression to the mean: how much of a block’s distance from the usual level is scatter.',
      source: 'Barnett, van der Pols & Dobson 2005',
    },
    caution: null,
  }
}
