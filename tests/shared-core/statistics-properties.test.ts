import pcorrtest from '@stdlib/stats-pcorrtest'
import signrankCdf from '@stdlib/stats-base-dists-signrank-cdf'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bca } from '../published/reference/bca.ts'
import { blockStatistics } from '../published/reference/bootstrap-statistics.ts'
import { blockSummary } from '../../shared-core/statistics/block-summary.ts'
import { centreInterval } from '../../shared-core/statistics/centre-interval.ts'
import { changeLocation } from '../../shared-core/statistics/change-location.ts'
import { correlation } from '../../shared-core/statistics/correlation.ts'
import { ellipse } from '../../shared-core/statistics/ellipse.ts'
import { equivalence } from '../../shared-core/statistics/equivalence.ts'
import { minimalStandardGenerator } from '../../shared-core/statistics/generator.ts'
import { hedgesG } from '../../shared-core/statistics/hedges-g.ts'
import { holm } from '../../shared-core/statistics/holm.ts'
import { lag1 } from '../published/reference/lag1.ts'
import { line } from '../../shared-core/statistics/line.ts'
import { pettittPermutation } from '../../shared-core/statistics/pettitt-permutation.ts'
import { pettitt } from '../../shared-core/statistics/pettitt.ts'
import { playSpeedBootstrap } from '../../shared-core/statistics/play-speed-bootstrap.ts'
import { playSpeed } from '../../shared-core/statistics/play-speed.ts'
import {
  pairCountProbabilities,
  rankSumCumulative,
} from '../../shared-core/statistics/rank-sum-distribution.ts'
import { ratioSlope } from '../../shared-core/statistics/ratio-slope.ts'
import { reliability } from '../published/reference/reliability.ts'
import { retention } from '../../shared-core/statistics/retention.ts'
import { segmentation } from '../../shared-core/statistics/segmentation.ts'
import { semPairs } from '../published/reference/sem-pairs.ts'
import { shiftLarge } from '../../shared-core/statistics/shift-large.ts'
import { shiftWithinBlocks } from '../../shared-core/statistics/shift-within-blocks.ts'
import { shift } from '../../shared-core/statistics/shift.ts'
import { shotsNeeded } from '../published/reference/shots-needed.ts'
import { shrinkage } from '../../shared-core/statistics/shrinkage.ts'
import { signedRankCumulative } from '../../shared-core/statistics/signed-rank-distribution.ts'
import { spreadChange } from '../../shared-core/statistics/spread-change.ts'
import { trend } from '../../shared-core/statistics/trend.ts'
import { verdict } from '../../shared-core/statistics/verdict.ts'
import { welch } from '../../shared-core/statistics/welch.ts'

// Readings as a device gives them: few decimals, so that ties are common, and gaps.
const value = fc.integer({ min: -400, max: 400 }).map((quarter) => quarter / 4)
const reading = fc.option(value, { freq: 8 })
const block = fc.array(reading, { maxLength: 14 })
const full = fc.array(value, { minLength: 1, maxLength: 14 })

const permuted = <T>(items: readonly T[], start: number): T[] => {
  const draw = minimalStandardGenerator(start)
  return items
    .map((item) => ({ item, key: draw() }))
    .sort((a, b) => a.key - b.key)
    .map(({ item }) => item)
}

/** Every number anywhere in a result. */
const numbersIn = (result: unknown): number[] =>
  typeof result === 'number'
    ? [result]
    : result !== null && typeof result === 'object'
      ? Object.values(result).flatMap(numbersIn)
      : []

const close = (got: number | null, wanted: number | null): void => {
  if (wanted === null) expect(got).toBeNull()
  else expect(got).toBeCloseTo(wanted, 7)
}

describe('statistics, whatever the shots', () => {
  it('no finite input, gap, tie or empty block yields NaN or infinity', () => {
    const next = (): (() => number) => minimalStandardGenerator(11)
    fc.assert(
      fc.property(
        block,
        block,
        block,
        fc.array(fc.boolean(), { minLength: 14, maxLength: 14 }),
        (a, b, c, tags) => {
          const present = (values: typeof a): number[] => values.filter((v) => v !== null)
          const results = [
            blockSummary(a),
            lag1(a),
            centreInterval(a),
            welch(a, b),
            shift(a, b),
            shiftLarge(a, b),
            shiftWithinBlocks(
              a,
              tags,
              a.map((_, i) => i % 3),
            ),
            bca([present(a), present(b)], blockStatistics['difference-of-means'], {
              replicates: 60,
              generator: next(),
            }),
            hedgesG(a, b),
            spreadChange(a, b),
            equivalence(a, b, { margin: 2 }),
            retention(a, b, c),
            shotsNeeded(blockSummary(a).sd, blockSummary(b).sd),
            reliability([a.slice(0, 3), b.slice(0, 3), c.slice(0, 3)]),
            semPairs(a, b),
            verdict(a, b, {
              margin: 1,
              deviceErrorSd: 0.5,
              setupErrorSd: 0.5,
              sameSetup: false,
              otherPValues: [0.2, null],
            }),
            trend(a),
            trend(a, { x: b }),
            shrinkage([a, b, c]),
            pettitt(a),
            pettittPermutation(a, { permutations: 20, generator: next() }),
            segmentation(a, { minSegment: 2, maxBreaks: 3 }),
            changeLocation(a),
            line(a, b),
            line(a, b, { fit: 'theil-sen' }),
            line(a, b, { fit: 'huber' }),
            playSpeed(a, b),
            playSpeedBootstrap(a, b, { speedSem: 1, replicates: 30, generator: next() }),
            ratioSlope(
              a.map((v) => v && Math.abs(v) + 1),
              b,
              { speedSem: 1 },
            ),
            ellipse(a.map((v, i) => [v, b[i] ?? null])),
            correlation(a, b),
          ]
          results.forEach((result) =>
            numbersIn(result).forEach((n) => expect(n, JSON.stringify(result)).toSatisfy(Number.isFinite)),
          )
        },
      ),
      { numRuns: 400 },
    )
  })

  it('the order of the shots inside a block changes nothing', () => {
    fc.assert(
      fc.property(full, full, fc.integer({ min: 1, max: 1e6 }), (before, after, start) => {
        const [a, b] = [permuted(before, start), permuted(after, start + 1)]
        expect(shift(a, b)).toEqual(shift(before, after))
        close(welch(a, b).p, welch(before, after).p)
        close(blockSummary(a).sd, blockSummary(before).sd)
        expect(blockSummary(a).hodgesLehmann).toBe(blockSummary(before).hodgesLehmann)
        expect(centreInterval(a)).toEqual(centreInterval(before))
        expect(verdict(a, b, { margin: 1 })).toEqual(verdict(before, after, { margin: 1 }))
      }),
    )
  })

  it('adding a constant to all readings moves the centre and leaves difference, interval and p alone', () => {
    fc.assert(
      fc.property(full, full, value, (before, after, constant) => {
        const moved = [before, after].map((list) => list.map((v) => v + constant)) as [number[], number[]]
        expect(shift(...moved)).toEqual(shift(before, after))
        close(welch(...moved).difference, welch(before, after).difference)
        close(hedgesG(...moved).g, hedgesG(before, after).g)
        close(blockSummary(moved[0]).hodgesLehmann, blockSummary(before).hodgesLehmann! + constant)
      }),
    )
  })

  it('adding a constant to the block after adds it to the shift and to its interval', () => {
    fc.assert(
      fc.property(full, full, value, (before, after, constant) => {
        const plain = shift(before, after)
        const moved = shift(
          before,
          after.map((v) => v + constant),
        )
        close(moved.shift, plain.shift! + constant)
        close(moved.lower, plain.lower! + constant)
        close(moved.upper, plain.upper! + constant)
      }),
    )
  })

  it('swapping before and after turns the sign and keeps the p-value', () => {
    fc.assert(
      fc.property(full, full, (before, after) => {
        const there = shift(before, after)
        const back = shift(after, before)
        close(back.shift, -there.shift!)
        close(back.lower, -there.upper!)
        expect(back.p).toBeCloseTo(there.p!, 12)
        expect(back.probabilityOfSuperiority! + there.probabilityOfSuperiority!).toBeCloseTo(1, 12)
      }),
    )
  })

  it('the exact p of a shift is the share of splits at least as far from the middle (all splits counted)', () => {
    const few = fc.array(value, { minLength: 1, maxLength: 5 })
    fc.assert(
      fc.property(few, few, (before, after) => {
        const pooled = [...before, ...after]
        const wins = (mask: number): number => {
          const inside = pooled.filter((_, i) => mask & (1 << i))
          const outside = pooled.filter((_, i) => !(mask & (1 << i)))
          return inside.reduce(
            (s, b) => s + outside.reduce((t, a) => t + (b > a ? 2 : b === a ? 1 : 0), 0),
            0,
          )
        }
        const middle = before.length * after.length
        const own = ((1 << pooled.length) - 1) & ~((1 << before.length) - 1)
        const distance = Math.abs(wins(own) - middle)
        let all = 0
        let far = 0
        for (let mask = 0; mask < 1 << pooled.length; mask++) {
          const ones = pooled.filter((_, i) => mask & (1 << i)).length
          if (ones !== after.length) continue
          all++
          if (Math.abs(wins(mask) - middle) >= distance) far++
        }
        expect(shift(before, after).p).toBeCloseTo(far / all, 12)
      }),
      { numRuns: 60 },
    )
  })

  it('the interval of the shift holds the shift, and a wider confidence never narrows it', () => {
    fc.assert(
      fc.property(full, full, (before, after) => {
        const narrow = shift(before, after, { confidence: 0.9 })
        const wide = shift(before, after, { confidence: 0.95 })
        expect(wide.lower!).toBeLessThanOrEqual(narrow.lower!)
        expect(narrow.lower!).toBeLessThanOrEqual(narrow.shift!)
        expect(narrow.shift!).toBeLessThanOrEqual(narrow.upper!)
        expect(narrow.upper!).toBeLessThanOrEqual(wide.upper!)
      }),
    )
  })

  it('Mann-Whitney counts without ties are those of counting over the ordered shots', () => {
    const sizes = fc.tuple(fc.integer({ min: 1, max: 25 }), fc.integer({ min: 1, max: 40 }))
    fc.assert(
      fc.property(sizes, ([m, n]) => {
        const counted = pairCountProbabilities(new Array<number>(m + n).fill(1), m)
        let sum = 0
        rankSumCumulative(m, n).forEach((p, u) => {
          sum += counted[2 * u]!
          expect(Math.abs(p - sum)).toBeLessThanOrEqual(1e-13 * sum)
        })
      }),
      { numRuns: 40 },
    )
  })

  it('signed-rank counts are those of @stdlib/stats-base-dists-signrank-cdf', () => {
    for (const n of [1, 2, 5, 8, 13]) {
      signedRankCumulative(n).forEach((p, v) => expect(p).toBeCloseTo(signrankCdf(v, n), 12))
    }
  })

  it("Fisher's interval is that of @stdlib/stats-pcorrtest", () => {
    const pairs = fc.array(fc.tuple(value, value), { minLength: 5, maxLength: 20 })
    fc.assert(
      fc.property(pairs, (rows) => {
        const x = rows.map((row) => row[0])
        const y = rows.map((row) => row[1])
        const got = correlation(x, y)
        fc.pre(got.pearson !== null && Math.abs(got.pearson) < 0.999)
        const reference = pcorrtest(x, y)
        expect(got.lower).toBeCloseTo(reference.ci[0]!, 9)
        expect(got.upper).toBeCloseTo(reference.ci[1]!, 9)
      }),
    )
  })

  it('adjusted p-values are never below the raw ones and keep their order', () => {
    fc.assert(
      fc.property(
        fc.array(fc.option(fc.double({ min: 0, max: 1, noNaN: true })), { maxLength: 8 }),
        (raw) => {
          const adjusted = holm(raw)
          raw.forEach((p, i) => {
            if (p === null) expect(adjusted[i]).toBeNull()
            else expect(adjusted[i]!).toBeGreaterThanOrEqual(p)
            raw.forEach((q, j) => {
              if (p !== null && q !== null && p < q) expect(adjusted[i]!).toBeLessThanOrEqual(adjusted[j]!)
            })
          })
        },
      ),
    )
  })

  it('a strike pattern turned by an angle keeps its areas and turns its axis', () => {
    const points = fc.array(fc.tuple(value, value), { minLength: 6, maxLength: 20 })
    fc.assert(
      fc.property(points, fc.integer({ min: 1, max: 179 }), (shots, degrees) => {
        const plain = ellipse(shots)
        fc.pre(plain.eigenvalues![0] - plain.eigenvalues![1] > 0.01 * plain.eigenvalues![0])
        fc.pre(plain.eigenvalues![1] > 1e-3 * plain.eigenvalues![0])
        const turn = (degrees * Math.PI) / 180
        const turned = ellipse(
          shots.map(([x, y]) => [
            x * Math.cos(turn) - y * Math.sin(turn),
            x * Math.sin(turn) + y * Math.cos(turn),
          ]),
        )
        expect(turned.areaPrediction! / plain.areaPrediction!).toBeCloseTo(1, 8)
        const apart = (((turned.angleDegrees! - plain.angleDegrees! - degrees) % 180) + 180) % 180
        expect(Math.min(apart, 180 - apart)).toBeLessThan(1e-4)
        expect(turned.hotellingT2! / Math.max(1e-9, plain.hotellingT2!)).toBeCloseTo(1, 5)
      }),
    )
  })
})

describe('statistics at their edges (rules of the method sheet, by definition)', () => {
  it('an empty block has no data and no flags; one shot has no spread; below five shots nothing is flagged', () => {
    expect(blockSummary([null, NaN])).toMatchObject({
      n: 0,
      missing: 2,
      flagged: [],
      median: null,
      reason: 'no-data',
    })
    expect(blockSummary([40])).toMatchObject({ n: 1, sd: null, scaledMad: 0, flagged: null, reason: null })
    expect(blockSummary([40, 41, 42, 99]).flagged).toBeNull()
  })

  it('flags fall back on the mean deviation where most shots are alike, and none are flagged where all are', () => {
    expect(blockSummary([5, 5, 5, 5, 5, 5, 5, 5, 9]).flagged).toEqual([8])
    expect(blockSummary([5, 5, 5, 5, 5, 5]).flagged).toEqual([])
  })

  it('readings that are all alike give a shift interval of nothing, p 1 and half of the pairs', () => {
    expect(shift([3, 3, 3, 3], [3, 3, 3, 3, 3])).toMatchObject({ shift: 0, lower: 0, upper: 0, p: 1, u: 10 })
    expect(centreInterval([0, 0, 0])).toMatchObject({ centre: 0, lower: 0, upper: 0, p: 1, v: 0 })
  })

  it('a spread of rounding size only is no spread', () => {
    expect(hedgesG([0.1, 0.1, 0.1], [0.1, 0.1, 0.1]).reason).toBe('no-spread')
    expect(welch([0.1, 0.1, 0.1], [0.3, 0.3])).toMatchObject({
      standardError: 0,
      t: null,
      reason: 'no-spread',
    })
  })

  it('a block of one has a difference but no test', () => {
    expect(welch([40], [41, 42])).toMatchObject({ difference: 1.5, p: null, reason: 'too-few' })
    expect(welch([], [41, 42])).toMatchObject({ difference: null, reason: 'too-few' })
  })

  it('constant readings have a trend of 0 and no exact p', () => {
    expect(trend([7, 7, 7, 7])).toMatchObject({
      s: 0,
      varS: 0,
      tau: null,
      z: 0,
      pNormal: 1,
      pExact: null,
      slope: 0,
      lower: 0,
      upper: 0,
      reason: null,
    })
    expect(trend([1, 2])).toMatchObject({ n: 2, slope: null, reason: 'too-few' })
  })

  it('constant or few readings have no change point', () => {
    expect(pettitt([2, 2, 2])).toEqual({ k: 0, shotsBefore: null, pApproximate: 1, reason: 'no-spread' })
    expect(changeLocation([1, 2, 1, 2]).reason).toBe('too-few')
    expect(changeLocation([2, 2, 2, 2, 2]).reason).toBe('no-spread')
  })

  it('three strikes have an ellipse but no test; strikes on a line have no test; a round pattern has no angle', () => {
    expect(
      ellipse([
        [0, 0],
        [1, 2],
        [3, 1],
      ]),
    ).toMatchObject({ areaPrediction: null, p: null, reason: 'too-few' })
    expect(
      ellipse([
        [0, 0],
        [1, 2],
        [2, 4],
        [3, 6],
        [4, 8],
      ]),
    ).toMatchObject({ p: null, reason: 'no-spread' })
    expect(
      ellipse([
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ]).angleDegrees,
    ).toBeNull()
  })

  it('three pairs have a correlation without an interval', () => {
    expect(correlation([1, 2, 3], [1, 3, 2])).toMatchObject({ n: 3, lower: null, upper: null, reason: null })
    expect(correlation([1, 2], [1, 3]).reason).toBe('too-few')
  })

  it('lessons that differ no more than their scatter are all put on the overall level', () => {
    const groups = [
      [1, 3],
      [1, 3],
      [3, 1],
    ]
    expect(shrinkage(groups)).toMatchObject({ sdBetween: 0, reliability: [0, 0, 0], shrunken: [2, 2, 2] })
  })

  it('speeds that vary no more than the device errs give no corrected slope', () => {
    expect(ratioSlope([40, 40.5, 41], [1.4, 1.45, 1.41], { speedSem: 2 })).toMatchObject({
      slopeCorrected: null,
      reason: 'not-enough-range',
    })
  })

  it('a cue that is on all shots of its block cannot be told from the block', () => {
    expect(shiftWithinBlocks([1, 2, 3, 4], [false, false, true, true], ['a', 'a', 'b', 'b'])).toEqual({
      shift: null,
      interval: null,
      pairs: 0,
      blocksUsed: 0,
      p: null,
      reason: 'too-few',
    })
  })

  it('the interval of a cue is that of two blocks where there is one block, and leaves 0 out where the test denies it', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: -4000, max: 4000 }), { minLength: 6, maxLength: 22 }),
        fc.array(fc.boolean(), { minLength: 22, maxLength: 22 }),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 0, max: 6000 }),
        (values, tagged, blocks, moved) => {
          // Thirds keep a moved reading apart from every other: no ties, no difference of exactly 0.
          const readings = values.map((v, i) => (tagged[i] ? v + moved + 1 / 3 : v))
          const cue = shiftWithinBlocks(
            readings,
            tagged,
            values.map((_, i) => i % blocks),
          )
          if (cue.interval !== null) {
            const isZeroOut = cue.interval[0] > 0 || cue.interval[1] < 0
            expect(isZeroOut).toBe(cue.p! < 0.05 - 1e-9)
            expect(cue.interval[0]).toBeLessThanOrEqual(cue.shift!)
            expect(cue.interval[1]).toBeGreaterThanOrEqual(cue.shift!)
          }
          const of = (isTagged: boolean) => readings.filter((_, i) => tagged[i] === isTagged)
          const plain = shift(of(false), of(true))
          if (blocks === 1 && plain.achievedConfidence !== null) {
            const isReached = plain.achievedConfidence >= 0.95 - 1e-9
            expect(cue.interval).toEqual(isReached ? [plain.lower, plain.upper] : null)
          }
        },
      ),
    )
  })

  it('two blocks of readings all alike are too coarse to judge, whatever the difference', () => {
    expect(verdict([40, 40, 40, 40, 40], [41, 41, 41, 41, 41], { margin: 0.1 }).verdict).toBe('no-spread')
  })

  it('a block of one shot is too few, without an error', () => {
    expect(verdict([40], [41, 42, 43, 44, 45], { margin: 0.1 }).verdict).toBe('too-few')
    expect(verdict([], [41, 42], { margin: 0.1 })).toMatchObject({
      verdict: 'too-few',
      p: null,
      pAdjusted: null,
    })
  })
})
