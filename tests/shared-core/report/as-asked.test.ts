import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { asAsked, type Said } from '../../../shared-core/report/as-asked.ts'

const said = (...words: (boolean | null)[]): Said[] =>
  words.map((didAsked) => ({ didAsked, isLeftOut: false }))

describe('how many in a row did what was asked', () => {
  it('counts back to the last that did not, over those of which nothing was said', () => {
    expect(asAsked(said())).toEqual({ inARow: 0, did: 0, said: 0 })
    expect(asAsked(said(true, false, true, null, true, null))).toEqual({ inARow: 2, did: 3, said: 4 })
    expect(asAsked(said(true, false, true, false, true))).toEqual({ inARow: 1, did: 3, said: 5 })
    expect(asAsked(said(true, true, false))).toEqual({ inARow: 0, did: 2, said: 3 })
  })

  it('is what the swings would give without those that were left out', () => {
    const swing = fc.record({ didAsked: fc.option(fc.boolean()), isLeftOut: fc.boolean() })
    fc.assert(
      fc.property(fc.array(swing), (swings) => {
        expect(asAsked(swings)).toEqual(asAsked(swings.filter((s) => !s.isLeftOut)))
      }),
    )
  })
})
