import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { ChangeShot } from '../../shared-core/change/change-shot.ts'
import { compareBlocks, compareToBaseline } from '../../shared-core/change/compare-blocks.ts'
import { metricValue } from '../../shared-core/change/metric-value.ts'
import { holm } from '../../shared-core/statistics/holm.ts'
import { varianceInflation } from '../../shared-core/statistics/resemblance.ts'
import { normalScoresP } from '../../shared-core/statistics/normal-scores.ts'
import { judge, verdictEvidence } from '../../shared-core/statistics/verdict.ts'
import { block, invented, normalDraws } from './change-scenario.ts'

const speeds = (values: readonly (number | null)[], club: string | null = 'driver'): ChangeShot[] =>
  values.map((clubSpeedMps) => ({ club, clubSpeedMps }))

const only = ['clubSpeedMps'] as const

const tenths = fc.integer({ min: 380, max: 480 }).map((n) => n / 10)
const shot = fc.record({
  club: fc.constantFrom('driver', '7-iron', null),
  clubSpeedMps: fc.option(tenths, { freq: 6 }),
  ballSpeedMps: fc.option(
    tenths.map((v) => v * 1.4),
    { freq: 6 },
  ),
  carryM: fc.option(fc.integer({ min: 120, max: 230 }), { freq: 6 }),
  isLeftOut: fc.constantFrom(false, false, false, true),
})
const shots = fc.array(shot, { maxLength: 12 })

describe('block against block', () => {
  it('answers with exactly the promised keys, and more', () => {
    const draw = normalDraws(1)
    const report = compareBlocks({
      before: block('A', invented(8, { speed: 42, efficiency: 1.4 }, draw)),
      after: block('B', invented(8, { speed: 43, efficiency: 1.4 }, draw)),
    })
    expect(report.metrics.map((row) => row.metric)).toEqual([
      'clubSpeedMps',
      'efficiency',
      'ballSpeedMps',
      'carryM',
    ])
    for (const row of report.metrics) {
      for (const key of [
        'metric',
        'before',
        'after',
        'difference',
        'ci95',
        'method',
        'effectSize',
        'p',
        'pAdjusted',
      ]) {
        expect(row).toHaveProperty(key)
      }
      for (const key of ['smallestVisible', 'verdict', 'shotsNeeded']) expect(row).toHaveProperty(key)
      for (const key of ['label', 'n', 'median', 'mad', 'mean', 'sd']) {
        expect(row.before).toHaveProperty(key)
        expect(row.after).toHaveProperty(key)
      }
    }
  })

  it('gives each metric the verdict of statistics/verdict, decided by the normal scores with the other metrics beside it', () => {
    fc.assert(
      fc.property(shots, shots, (before, after) => {
        const margins = { clubSpeedMps: 0.5, efficiency: 0.02, ballSpeedMps: 1, carryM: 3 }
        const report = compareBlocks({
          before: block('A', before),
          after: block('B', after),
          options: { margins, deviceError: noError },
        })
        const kept = (list: ChangeShot[]): ChangeShot[] =>
          report.isComparable ? list.filter((s) => !s.isLeftOut && (s.club ?? null) === report.club) : []
        const adjusted = holm(report.metrics.map((row) => row.p))
        report.metrics.forEach((row, i) => {
          const blocks = [kept(before), kept(after)].map((list) =>
            list.map((s) => metricValue(s, row.metric)),
          )
          const inflation = varianceInflation(row.lag1)
          const evidence = verdictEvidence(blocks[0]!, blocks[1]!, { margin: row.margin, inflation })
          const byScores = normalScoresP(blocks, inflation) ?? evidence.p
          expect(row.p).toBe(evidence.largerOfTwo ? Math.max(byScores!, evidence.p!) : byScores)
          expect(row.pAdjusted).toBe(adjusted[i])
          expect(row.verdict).toBe(judge(evidence, row.pAdjusted))
          expect(row.difference).toBe(evidence.shift)
        })
      }),
    )
  })

  it('holds no NaN or infinity whatever is missing, mixed or left out', () => {
    fc.assert(
      fc.property(shots, shots, (before, after) => {
        const report = compareBlocks({ before: block('A', before), after: block('B', after) })
        expect(
          JSON.stringify(report, (_, v) => (typeof v === 'number' && !Number.isFinite(v) ? 'BAD' : v)),
        ).not.toContain('BAD')
      }),
    )
  })

  it('counts every shot once: compared or left out', () => {
    fc.assert(
      fc.property(shots, shots, (before, after) => {
        const report = compareBlocks({ before: block('A', before), after: block('B', after) })
        const row = report.metrics[0]!
        const left = (label: string): number =>
          report.leftOut.filter((part) => part.block === label).reduce((sum, part) => sum + part.shots, 0)
        expect(row.before.n + row.before.missing + left('A')).toBe(before.length)
        expect(row.after.n + row.after.missing + left('B')).toBe(after.length)
      }),
    )
  })

  it('the order of the shots in a block changes no number but the look at a drift', () => {
    fc.assert(
      fc.property(shots, shots, (before, after) => {
        const numbers = (a: ChangeShot[], b: ChangeShot[]) =>
          compareBlocks({ before: block('A', a), after: block('B', b) }).metrics.map(
            ({ drift: _1, evidence: _2, method: _3, before: first, after: last, ...rest }) => ({
              ...JSON.parse(
                JSON.stringify(rest, (_, v: unknown) =>
                  typeof v === 'number' ? Number(v.toPrecision(9)) : v,
                ),
              ),
              before: { ...first, flagged: first.flagged?.length },
              after: { ...last, flagged: last.flagged?.length },
            }),
          )
        expect(numbers([...before].reverse(), [...after].reverse())).toEqual(numbers(before, after))
      }),
    )
  })

  it('adding the same speed to every shot of both blocks does not change the difference or its interval', () => {
    const list = fc.array(fc.integer({ min: 400, max: 460 }), { minLength: 1, maxLength: 14 })
    fc.assert(
      fc.property(list, list, fc.integer({ min: 0, max: 40 }), (before, after, added) => {
        // Quarter metres per second are exact in binary, so the differences must be equal, not only close.
        const row = (extra: number) =>
          compareBlocks({
            before: block('A', speeds(before.map((v) => (v + extra) / 4))),
            after: block('B', speeds(after.map((v) => (v + extra) / 4))),
            metrics: only,
          }).metrics[0]!
        expect(row(added).difference).toBe(row(0).difference)
        expect(row(added).ci95).toEqual(row(0).ci95)
        expect(row(added).p).toBe(row(0).p)
      }),
    )
  })

  it('takes efficiency shot by shot, only where club and ball speed both exist', () => {
    const before = [
      { club: 'driver', clubSpeedMps: 40, ballSpeedMps: 56 },
      { club: 'driver', clubSpeedMps: 40, ballSpeedMps: null },
      { club: 'driver', clubSpeedMps: null, ballSpeedMps: 60 },
      { club: 'driver', clubSpeedMps: 0, ballSpeedMps: 60 },
      { club: 'driver', clubSpeedMps: 50, ballSpeedMps: 75 },
    ]
    const row = compareBlocks({
      before: block('A', before),
      after: block('B', before),
      metrics: ['efficiency'],
    }).metrics[0]!
    expect(row.before.n).toBe(2)
    expect(row.before.median).toBeCloseTo((1.4 + 1.5) / 2, 12)
  })

  it('compares only shots of the same club, names it, and lists what was left out', () => {
    const mixed = [...speeds([42, 42.5, 43], 'driver'), ...speeds([36, 36.5, 37, 37.2], '7-iron')]
    const irons = [...speeds([36.2, 36.9, 37.1, 36], '7-iron'), ...speeds([39], '3-wood')]
    const report = compareBlocks({ before: block('A', mixed), after: block('B', irons), metrics: only })
    expect(report.club).toBe('7-iron')
    expect(report.metrics[0]!.before.n).toBe(4)
    expect(report.leftOut).toEqual([
      { block: 'A', club: 'driver', shots: 3, why: 'other-club' },
      { block: 'B', club: '3-wood', shots: 1, why: 'other-club' },
    ])
    expect(Math.abs(report.metrics[0]!.difference!)).toBeLessThan(1)
  })

  it('compares nothing where no club was hit in both blocks', () => {
    const report = compareBlocks({
      before: block('A', speeds([42, 43, 44, 45, 46], 'driver')),
      after: block('B', speeds([36, 37, 38, 39, 40], '7-iron')),
    })
    expect(report.isComparable).toBe(false)
    expect(report.metrics.every((row) => row.difference === null && row.verdict === 'too-few')).toBe(true)
  })

  it('two blocks of three cannot give 95 %: no interval of 95 %, verdict too few', () => {
    const row = compareBlocks({
      before: block('A', speeds([40, 41.5, 40.7])),
      after: block('B', speeds([44, 45.1, 44.6])),
      metrics: only,
    }).metrics[0]!
    expect(row).toMatchObject({ ci95: null, verdict: 'too-few', reason: 'too-few' })
    expect(row.achievedConfidence).toBeCloseTo(0.9, 10)
    expect(row.interval).not.toBeNull()
  })

  it('identical shots are too coarse to judge, also where the blocks differ', () => {
    for (const after of [42, 45]) {
      const row = compareBlocks({
        before: block('A', speeds(Array(8).fill(42))),
        after: block('B', speeds(Array(8).fill(after))),
        metrics: only,
      }).metrics[0]!
      expect(row.verdict).toBe('no-spread')
    }
  })

  it('a metric nobody recorded is said to have no data and costs the others nothing', () => {
    const draw = normalDraws(3)
    const strip = (list: ChangeShot[]) => list.map((s) => ({ ...s, clubSpeedMps: null }))
    const report = compareBlocks({
      before: block('A', strip(invented(9, { speed: 42, efficiency: 1.4 }, draw))),
      after: block('B', strip(invented(9, { speed: 42, efficiency: 1.4 }, draw))),
    })
    const [club, efficiency, ball] = report.metrics
    expect(club).toMatchObject({ reason: 'no-data', p: null, pAdjusted: null, verdict: 'too-few' })
    expect(efficiency).toMatchObject({ reason: 'no-data' })
    expect(ball!.reason).toBeNull()
    expect(report.lookedAt).toBe(2)
  })

  it('a shot the coach left out is not compared, and is counted', () => {
    const before = [
      ...speeds([42, 42.1, 42.2, 42.3, 42.4]),
      { club: 'driver', clubSpeedMps: 12, isLeftOut: true },
    ]
    const report = compareBlocks({
      before: block('A', before),
      after: block('B', speeds([42, 43])),
      metrics: only,
    })
    expect(report.metrics[0]!.before.n).toBe(5)
    expect(report.leftOut).toEqual([{ block: 'A', club: 'driver', shots: 1, why: 'left-out-by-coach' }])
  })

  it('a mishit stays in and is flagged', () => {
    const row = compareBlocks({
      before: block('A', speeds([42, 42.1, 42.2, 42.3, 42.4, 30])),
      after: block('B', speeds([42, 43, 42.5])),
      metrics: only,
    }).metrics[0]!
    expect(row.before).toMatchObject({ n: 6, flagged: [5] })
  })

  it('several blocks against the baseline are adjusted for all of them together', () => {
    const draw = normalDraws(7)
    const blocks = [42, 42.5, 43, 44].map((speed, i) =>
      block(`B${i}`, invented(9, { speed, efficiency: 1.42 }, draw)),
    )
    const reports = compareToBaseline({ blocks })
    expect(reports.map((report) => report.after)).toEqual(['B1', 'B2', 'B3'])
    const rows = reports.flatMap((report) => report.metrics)
    expect(rows.map((row) => row.pAdjusted)).toEqual(holm(rows.map((row) => row.p)))
    expect(reports[0]!.lookedAt).toBe(12)
  })

  it('placing the device anew raises what the device alone could make', () => {
    const draw = normalDraws(9)
    const before = block('A', invented(12, { speed: 42, efficiency: 1.42 }, draw))
    const after = block('B', invented(12, { speed: 43, efficiency: 1.42 }, draw))
    const floor = (sameSetup: boolean): number =>
      compareBlocks({ before, after, metrics: only, options: { sameSetup } }).metrics[0]!.deviceFloor!
    expect(floor(false)).toBeGreaterThan(1.5 * floor(true))
  })

  it('calls a change in at most one lesson of twenty in which nothing changed, over four metrics and mishits', () => {
    const draw = normalDraws(20)
    const runs = 300
    let alarms = 0
    for (let run = 0; run < runs; run++) {
      const hit = () =>
        invented(10, { speed: 42, efficiency: 1.42 }, draw).map((s) =>
          draw() > 1.28 ? { ...s, ballSpeedMps: s.ballSpeedMps! - 6, carryM: s.carryM! - 25 } : s,
        )
      const report = compareBlocks({
        before: block('A', hit()),
        after: block('B', hit()),
        options: { deviceError: noError },
      })
      if (report.metrics.some((row) => row.verdict === 'changed')) alarms++
    }
    // 5 % of 300 is 15; three standard deviations (3.8) above that is 26.
    expect(alarms).toBeLessThanOrEqual(26)
  })

  it('finds a change of two and a half times the scatter in most lessons of 12 and 12 shots', () => {
    const draw = normalDraws(21)
    let found = 0
    for (let run = 0; run < 60; run++) {
      const report = compareBlocks({
        before: block('A', invented(12, { speed: 42, efficiency: 1.42 }, draw)),
        after: block('B', invented(12, { speed: 43.75, efficiency: 1.42 }, draw)),
      })
      if (report.metrics[0]!.verdict === 'changed') found++
    }
    expect(found).toBeGreaterThan(48)
  })
})

const noError = { ballSpeedShare: 0, clubSpeedShare: 0, launchDeg: 0, spinShare: 0, carryShare: 0 }
