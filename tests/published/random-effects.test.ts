import { describe, expect, test } from 'vitest'
import { twoSidedT } from '../../shared-core/statistics/distributions.ts'
import { randomEffects } from '../../shared-core/statistics/random-effects.ts'

/*
 * Thirteen trials of a vaccine against tuberculosis (Colditz et al. 1994, JAMA 271:698): cases and others among the
 * vaccinated and the controls. The summary is what R's metafor prints for them in its own documentation,
 * rma(measure = "RR", method = "REML", test = "knha").
 */
const trials: [number, number, number, number][] = [
  [4, 119, 11, 128],
  [6, 300, 29, 274],
  [3, 228, 11, 209],
  [62, 13536, 248, 12619],
  [33, 5036, 47, 5761],
  [180, 1361, 372, 1079],
  [8, 2537, 10, 619],
  [505, 87886, 499, 87892],
  [29, 7470, 45, 7232],
  [17, 1699, 65, 1600],
  [186, 50448, 141, 27197],
  [5, 2493, 3, 2338],
  [27, 16886, 29, 17825],
]
const logRatios = trials.map(([a, b, c, d]) => Math.log((a * (c + d)) / (c * (a + b))))
const variances = trials.map(([a, b, c, d]) => 1 / a - 1 / (a + b) + 1 / c - 1 / (c + d))

describe('random effects with the Hartung–Knapp interval', () => {
  const found = randomEffects(logRatios, variances)!

  test('are metafor’s for the thirteen trials', () => {
    expect(found.k).toBe(13)
    expect(found.tau2).toBeCloseTo(0.3132, 4)
    expect(found.estimate).toBeCloseTo(-0.7145, 4)
    expect(found.standardError).toBeCloseTo(0.1808, 4)
    expect(found.ci[0]).toBeCloseTo(-1.1084, 4)
    expect(found.ci[1]).toBeCloseTo(-0.3206, 4)
    expect(found.p).toBeCloseTo(0.0019, 4)
  })

  test('foretell one more unit on k − 2 degrees of freedom (Higgins, Thompson & Spiegelhalter 2009, eq. 12)', () => {
    // t with 11 degrees of freedom is 2.201 in every printed table; the rest from the values above.
    const half = 2.201 * Math.sqrt(0.3132 + 0.1808 ** 2)
    expect(found.prediction![0]).toBeCloseTo(-0.7145 - half, 3)
    expect(found.prediction![1]).toBeCloseTo(-0.7145 + half, 3)
  })

  test('are the plain mean and its t interval where all variances are alike', () => {
    const y = [1.2, 0.4, 2.2, 1.8, 0.9]
    const { estimate, ci } = randomEffects(
      y,
      y.map(() => 0.01),
    )!
    expect(estimate).toBeCloseTo(1.3, 12)
    const sd = Math.sqrt(y.reduce((sum, value) => sum + (value - 1.3) ** 2, 0) / 4)
    expect(ci[1]).toBeCloseTo(1.3 + (twoSidedT(0.95, 4) * sd) / Math.sqrt(5), 10)
  })

  test('are never surer than the usual interval because estimates agree by luck', () => {
    const v = [1, 1, 1, 1]
    const { tau2, standardError } = randomEffects([0.5, 0.5001, 0.4999, 0.5], v)!
    expect(tau2).toBe(0)
    expect(standardError).toBeCloseTo(Math.sqrt(1 / 4), 12)
  })

  test('say nothing of a single unit', () => {
    expect(randomEffects([1], [1])).toBeNull()
  })
})
