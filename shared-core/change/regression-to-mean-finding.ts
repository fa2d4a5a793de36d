import type { RegressionToMeanReport } from './regression-to-mean-report.ts'
import { sayFinding, type Finding } from './finding.ts'
import { phrase } from '../wording/phrase.ts'
import { count, isNothing, level, moreOrLess, name, size } from './words.ts'
import type { Wording } from './words.ts'

/**
 * What goes with a change after an unusual baseline; null where nothing worth a word is to be expected
 * by itself (less than the last digit shown), or where the earlier blocks are too few.
 */
export function regressionToMeanFinding(report: RegressionToMeanReport, wording: Wording): Finding | null {
  const { metric, expectedChange, usualLevel, blocks } = report
  if (expectedChange === null || usualLevel === null) return null
  if (isNothing(metric, expectedChange, wording)) return null
  return sayFinding({
    topic: 'change',
    metric,
    verdict: 'regression-to-mean',
    sentence: phrase('regression.expected', {
      metric: name(metric),
      by: size(metric, expectedChange, wording),
      way: moreOrLess(metric, expectedChange),
    }),
    howSure: phrase('regression.howSure'),
    isSure: false,
    howWeKnow: {
      data: phrase('regression.data', {
        blocks: count(blocks, 'earlierBlock'),
        level: level(metric, usualLevel, wording),
      }),
      method: phrase('regression.method'),
      source: 'Barnett, van der Pols & Dobson 2005',
    },
    caution: null,
  })
}
