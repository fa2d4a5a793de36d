import type { Swing } from '../model/entities.ts'
import { said, type PhraseKey } from '../wording/phrase.ts'

type Pair = Pick<Swing, 'shotId' | 'pairHow' | 'pairConfidence'> & { views: readonly unknown[] }

/** A pair of which the clocks say too little; the coach's own word is sure. */
export const isUnsurePair = (swing: Pair): boolean =>
  swing.shotId !== null && swing.views.length > 0 && swing.pairHow !== 'coach' && swing.pairConfidence < 0.5

/** What is not settled between clips and shots; "this clip has no shot" is settled, where the coach said so. */
export const stillWaiting = (swings: readonly Pair[]) => ({
  shotsWithoutClip: swings.filter((s) => s.shotId !== null && s.views.length === 0).length,
  clipsWithoutShot: swings.filter((s) => s.shotId === null && s.views.length > 0 && s.pairHow !== 'coach')
    .length,
  unsurePairs: swings.filter(isUnsurePair).length,
})

const counted = (n: number, what: Extract<PhraseKey, `waiting.${string}`>): string[] =>
  n === 0 ? [] : [said(what, { n })]

/** In words, in the order in which a coach would look; empty when all is settled. */
export const stillWaitingWords = (swings: readonly Pair[], hasShots: boolean): string[] => {
  const { shotsWithoutClip, clipsWithoutShot, unsurePairs } = stillWaiting(swings)
  return [
    ...counted(shotsWithoutClip, 'waiting.shots'),
    // Where nothing measures, a clip waits for nothing.
    ...(hasShots ? counted(clipsWithoutShot, 'waiting.clips') : []),
    ...counted(unsurePairs, 'waiting.pairs'),
  ]
}
