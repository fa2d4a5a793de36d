import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { closedSteps } from '../../shared-core/statistics/closed-testing.ts'
import { gatekeep } from '../../shared-core/statistics/gatekeeping.ts'
import type { GatekeptFamily } from '../../shared-core/statistics/gatekeeping.ts'
import { holm } from '../../shared-core/statistics/holm.ts'
import { mersenneGenerator } from '../../shared-core/statistics/generator.ts'
import { normalScoresP } from '../../shared-core/statistics/normal-scores.ts'
import { standardNormalQuantile } from '../../shared-core/statistics/distributions.ts'

const evenly = (p: readonly (number | null)[]): GatekeptFamily[] =>
  p.map((each, i) => ({
    p: [each],
    weight: 1 / p.length,
    passesTo: p.flatMap((_, to) => (to === i ? [] : [{ to, part: 1 / (p.length - 1) }])),
  }))

describe('one budget', () => {
  it('is Holm’s procedure where all have equal shares and pass them on evenly', () => {
    const p = fc.array(fc.double({ min: 1e-6, max: 1, noNaN: true }), { minLength: 2, maxLength: 7 })
    fc.assert(
      fc.property(p, (values) => {
        const found = gatekeep(evenly(values)).map(([each]) => each!)
        holm(values).forEach((wanted, i) => expect(found[i]).toBeCloseTo(wanted!, 9))
      }),
    )
  })

  it('is the fixed sequence where one has all and passes all on', () => {
    // Maurer, Hothorn & Lehmacher 1995: each at the full level, in order, until one is not shown.
    const families: GatekeptFamily[] = [0.01, 0.03, 0.2, 0.001].map((p, i) => ({
      p: [p],
      weight: i === 0 ? 1 : 0,
      passesTo: i < 3 ? [{ to: i + 1, part: 1 }] : [],
    }))
    expect(gatekeep(families).flat()).toEqual([0.01, 0.03, 0.2, 0.2])
  })

  it('lets a follower in once a member is shown, with no more than that member gives', () => {
    const families: GatekeptFamily[] = [
      { p: [0.001, 0.6], weight: 1, passesTo: [{ to: 1, part: 1 }], gives: [[{ to: 1, part: 0.1 }], []] },
      { p: [0.004], weight: 0, passesTo: [] },
    ]
    const [steps, follower] = gatekeep(families)
    expect(steps).toEqual([0.001, 0.6])
    expect(follower![0]).toBeCloseTo(0.04, 12)
    expect(gatekeep([{ ...families[0]!, gives: undefined }, families[1]!])[1]![0]).toBe(0.6)
  })
})

describe('normal scores', () => {
  const normal = (u: () => number) => standardNormalQuantile(0.001 + 0.998 * u())

  it('calls two small blocks different as often as every dealing of the same shots does', () => {
    // By its definition: fully separated blocks are 2 of the 252 ways of dealing 5 and 5.
    expect(
      normalScoresP([
        [1, 2, 3, 4, 5],
        [6, 7, 8, 9, 10],
      ]),
    ).toBeCloseTo(2 / 252, 12)
    expect(
      normalScoresP([
        [1, 2, 3],
        [4, 5, 6],
      ]),
    ).toBeCloseTo(2 / 20, 12)
    expect(
      normalScoresP([
        [4, 4, 4],
        [4, 4],
      ]),
    ).toBe(1)
  })

  it('meets what shuffling gives where the t of the scores takes over', () => {
    const u = mersenneGenerator(91)
    const shuffles = 4_000
    for (const step of [0.3, 0.8, 1.2]) {
      const a = Array.from({ length: 9 }, () => normal(u))
      const b = Array.from({ length: 9 }, () => normal(u) + step)
      // Means of scores of two blocks of one size differ by more where one sum is farther from 0.
      const all = [...a, ...b]
      const scores = all.map((v) =>
        standardNormalQuantile(all.filter((w) => w <= v).length / (all.length + 1)),
      )
      const sumOf = (list: number[]) => Math.abs(list.slice(0, 9).reduce((sum, v) => sum + v, 0))
      const seen = sumOf(scores)
      let far = 0
      for (let k = 0; k < shuffles; k++) {
        const dealt = [...scores]
        for (let i = dealt.length - 1; i > 0; i--) {
          const j = Math.floor(u() * (i + 1))
          ;[dealt[i], dealt[j]] = [dealt[j]!, dealt[i]!]
        }
        if (sumOf(dealt) >= seen - 1e-9) far++
      }
      const share = far / shuffles
      const p = normalScoresP([a, b])!
      expect(Math.abs(p - share), `step ${step}: ${p} against ${share}`).toBeLessThan(
        0.004 + 3 * Math.sqrt((share * (1 - share)) / shuffles),
      )
    }
  })

  it('keeps its level: one lesson in twenty without a step, with two blocks and with four', () => {
    const u = mersenneGenerator(92)
    for (const blocks of [2, 4]) {
      let below = 0
      for (let k = 0; k < 2_000; k++) {
        const groups = Array.from({ length: blocks }, () => Array.from({ length: 9 }, () => normal(u)))
        if (normalScoresP(groups)! <= 0.05) below++
      }
      // Three standard errors of a share of 5 % in 2,000.
      expect(below / 2_000).toBeGreaterThan(0.035)
      expect(below / 2_000).toBeLessThan(0.065)
    }
  })

  it('does not depend on how far a mishit flew, nor on the unit', () => {
    const before = [40.1, 41.2, 39.8, 40.9, 41.5, 40.4, 30]
    const after = [42.1, 41.9, 43, 42.7, 41.4, 42.2, 43.1]
    const p = normalScoresP([before, after])
    expect(normalScoresP([before.map((v) => (v === 30 ? 3 : v)), after])).toBe(p)
    expect(normalScoresP([before.map((v) => 2.236936 * v), after.map((v) => 2.236936 * v)])).toBe(p)
  })
})

describe('several steps, one baseline', () => {
  const u = mersenneGenerator(93)
  const block = (level: number) => Array.from({ length: 10 }, () => level + standardNormalQuantile(u()))
  const steps = (levels: number[], baseline: number[]) =>
    levels.map((level) => {
      const values = block(level)
      return { values, own: normalScoresP([baseline, values]) }
    })

  it('asks of a step alone nothing more than its own p', () => {
    const baseline = block(0)
    const [only] = steps([1], baseline)
    expect(closedSteps(baseline, [only!])).toEqual([{ all: only!.own, some: null }])
  })

  it('shows a false step beside a true one in no more than one lesson in twenty', () => {
    let wrong = 0
    let found = 0
    const lessons = 800
    for (let k = 0; k < lessons; k++) {
      const baseline = block(0)
      const closed = closedSteps(baseline, steps([0, 3, 0], baseline))
      const isShown = ({ all, some }: (typeof closed)[number]) => Math.max(all!, some!) <= 0.05
      if (isShown(closed[0]!) || isShown(closed[2]!)) wrong++
      if (isShown(closed[1]!)) found++
    }
    expect(wrong / lessons).toBeLessThan(0.075)
    expect(found / lessons).toBeGreaterThan(0.99)
  })
})
