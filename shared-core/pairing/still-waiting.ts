import type { Swing } from '../model/entities.ts'

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

const counted = (n: number, one: string, many: string): string[] =>
  n === 0 ? [] : [`${n} ${n === 1 ? one : many}`]

/** In words, in the order in which a coach would look; empty when all is settled. */
export const stillWaitingWords = (swings: readonly Pair[], hasShots: boolean): string[] => {
  const { shotsWithoutClip, clipsWithoutShot, unsurePairs } = stillWaiting(swings)
  return [
    ...counted(shotsWithoutClip, 'shot without a clip', 'shots without a clip'),
    // Where nothing measures, a clip waits for nothing.
    ...(hasShots ? counted(clipsWithoutShot, 'clip without a shot', 'clips without a shot') : []),
    ...counted(unsurePairs, 'pair is unsure', 'pairs are unsure'),
  ]
}
