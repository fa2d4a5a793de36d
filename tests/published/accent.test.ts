import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { accentOn, contrastRatio, minContrast, pageGrounds } from '../../shared-core/hand-over/accent.ts'

describe('contrast of the coach’s colour', () => {
  test.each([
    // WCAG 2.2, "contrast ratio": "can range from 1 to 21".
    ['#000000', '#ffffff', 21],
    ['#ffffff', '#ffffff', 1],
    // Greys and pure colours on white as WebAIM's contrast checker gives them (from memory).
    ['#767676', '#ffffff', 4.54],
    ['#777777', '#ffffff', 4.48],
    ['#ff0000', '#ffffff', 4.0],
    ['#0000ff', '#ffffff', 8.59],
  ])('%s on %s is %d', (one, other, ratio) => {
    expect(contrastRatio(one, other)).toBeCloseTo(ratio, 2)
    expect(contrastRatio(other, one)).toBe(contrastRatio(one, other))
  })

  test('any colour becomes one that can be seen on both papers; one that can be seen stays', () => {
    const colour = fc
      .integer({ min: 0, max: 0xffffff })
      .map((value) => `#${value.toString(16).padStart(6, '0')}`)
    fc.assert(
      fc.property(colour, fc.constantFrom(pageGrounds.light, pageGrounds.dark), (chosen, ground) => {
        const shown = accentOn(chosen, ground)
        expect(contrastRatio(shown, ground)).toBeGreaterThanOrEqual(minContrast)
        if (contrastRatio(chosen, ground) >= minContrast) expect(shown).toBe(chosen)
      }),
    )
  })
})
