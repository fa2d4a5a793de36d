import { describe, expect, test } from 'vitest'
import { chanceOf, silenceOdds } from '../../../shared-core/moments/impact-chance.ts'
import type { ImpactEvidence } from '../../../shared-core/moments/impact-chance.ts'
import { swingBursts } from '../../../shared-core/moments/swing-bursts.ts'

const swing = { away: 0.3, clearness: 0.9, shape: -0.5, swung: 1, lies: 0 }
const seen = (silence: number, ball = 1): ImpactEvidence => ({
  ...swing,
  ...{ by: 'sight', ball, lead: 2, heard: 0, within: 0.98, silence },
})
const heard = (lies: number): ImpactEvidence => ({ ...swing, by: 'sound', heard: 0.8, inStep: 0.9, lies })

describe('how likely an instant is the impact', () => {
  test('a ball that is seen to go in a film with sound, and is not heard, is doubted; a plain one is still believed', () => {
    const mute = chanceOf(seen(1))
    const late = chanceOf(seen(silenceOdds.later))
    const unheard = chanceOf(seen(silenceOdds.nothing))
    expect(mute).toBeGreaterThan(late)
    expect(late).toBeGreaterThan(unheard)
    expect(chanceOf(seen(silenceOdds.nothing, -1))).toBeLessThan(0.5)
    expect(chanceOf(seen(silenceOdds.nothing, 6))).toBeGreaterThan(0.6)
  })

  test('a bang in the downswing, while a ball still lies there, is told by half', () => {
    expect(chanceOf(heard(0))).toBeGreaterThan(0.62)
    expect(chanceOf(heard(1))).toBeLessThan(0.5)
  })

  test('a burst after a stretch that is quieter than the rest of the film is no less than not clear at all', () => {
    const near = Float32Array.from({ length: 600 }, (_, i) =>
      i >= 42 && i < 97 ? 0 : i >= 97 && i <= 103 ? 2 : 0.8,
    )
    const atSeconds = Float64Array.from(near, (_, i) => i / 30)
    const bursts = swingBursts({ atSeconds, near, far: near }, atSeconds)
    expect(bursts.length).toBeGreaterThan(0)
    for (const { clearness } of bursts) expect(clearness).toBeGreaterThanOrEqual(0)
  })
})
