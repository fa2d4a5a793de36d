import { expect, it } from 'vitest'
import { stillWaitingWords } from '../../../shared-core/pairing/still-waiting.ts'

const swing = (
  shotId: string | null,
  views: number,
  pairHow: 'clock' | 'coach' | null = null,
  pairConfidence = 0,
) => ({ shotId, views: Array.from({ length: views }), pairHow, pairConfidence })

it('says what waits between clips and shots; the coach’s word settles it', () => {
  const swings = [
    swing('a', 1, 'clock', 0.9),
    swing('b', 1, 'clock', 0.3),
    swing('c', 2, 'coach', 0.3),
    swing('d', 0),
    swing('e', 0),
    swing(null, 1),
    swing(null, 1, 'coach', 1),
  ]
  expect(stillWaitingWords(swings, true)).toEqual([
    '2 shots without a clip',
    '1 clip without a shot',
    '1 pair is unsure',
  ])
  expect(stillWaitingWords(swings.slice(0, 1), true)).toEqual([])
})

it('lets clips wait for nothing where no device measures', () => {
  expect(stillWaitingWords([swing(null, 1)], false)).toEqual([])
})
