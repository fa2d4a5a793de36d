import { describe, expect, it } from 'vitest'
import type { ChangeLesson, ChangeShot } from '../../shared-core/change/change-shot.ts'
import { cueReport } from '../../shared-core/change/cue-report.ts'
import { lessonAgainstLesson } from '../../shared-core/change/lesson-against-lesson.ts'
import { plansAgainstResults } from '../../shared-core/change/plan-against-result.ts'
import { playSpeedReport } from '../../shared-core/change/play-speed-report.ts'
import { seasonReport } from '../../shared-core/change/season-report.ts'
import { sessionReport } from '../../shared-core/change/session-report.ts'
import { strikeMapReport } from '../../shared-core/change/strike-map-report.ts'
import { block, invented, normalDraws } from './change-scenario.ts'

const club = ['clubSpeedMps'] as const
const speeds = (values: readonly number[]): ChangeShot[] =>
  values.map((clubSpeedMps) => ({ club: 'driver', clubSpeedMps }))

describe('inside a session', () => {
  it('names the block whose start the change of level came with, and the cue first tagged there', () => {
    const draw = normalDraws(2)
    const report = sessionReport({
      blocks: [
        block('As you are', invented(12, { speed: 42, efficiency: 1.4 }, draw)),
        block('Loose hands', invented(12, { speed: 42, efficiency: 1.4 }, draw)),
        block(
          'Firm lead side',
          invented(12, { speed: 45, efficiency: 1.4 }, draw).map((s) => ({ ...s, cues: ['bracing-firm'] })),
        ),
      ],
      metrics: club,
    })
    const found = report.metrics[0]!.levelChange
    expect(found).toMatchObject({
      state: 'changed',
      startingBlock: 'Firm lead side',
      startingCues: ['bracing-firm'],
      isAlsoTrend: false,
    })
    expect(found.from!).toBeLessThanOrEqual(24)
    expect(found.to!).toBeGreaterThanOrEqual(24)
  })

  it('fourteen shots are too few to place a change', () => {
    const values = [40, 40.1, 40.2, 40, 40.3, 40.1, 40.2, 44, 44.1, 44.3, 44, 44.2, 44.1, 44]
    const report = sessionReport({ blocks: [block('A', speeds(values))], metrics: club })
    expect(report.metrics[0]!.levelChange).toMatchObject({ state: 'too-few', p: null, n: 14 })
  })

  it('a steady climb through the session is called a slope, not a step', () => {
    const draw = normalDraws(4)
    const values = Array.from({ length: 40 }, (_, i) => 40 + 0.1 * i + 0.2 * draw())
    const report = sessionReport({ blocks: [block('A', speeds(values))], metrics: club })
    expect(report.metrics[0]!.levelChange).toMatchObject({ state: 'changed', isAlsoTrend: true })
  })

  it('a baseline that still climbs is not called settled; a flat one with little scatter is', () => {
    const climb = sessionReport({
      blocks: [block('A', speeds([40, 40.4, 40.9, 41.2, 41.9, 42.1, 42.6, 43]))],
      metrics: club,
    })
    expect(climb.metrics[0]!.baseline.state).toBe('still-moving')
    const flat = sessionReport({
      blocks: [block('A', speeds([42, 42.1, 41.9, 42, 42.1, 41.9, 42, 42.1, 42, 41.9]))],
      metrics: club,
    })
    expect(flat.metrics[0]!.baseline.state).toBe('settled')
  })

  it('a later half that sinks is found', () => {
    const draw = normalDraws(6)
    const values = Array.from({ length: 40 }, (_, i) => 43 - Math.max(0, i - 20) * 0.12 + 0.15 * draw())
    const report = sessionReport({ blocks: [block('A', speeds(values))], metrics: club })
    expect(report.metrics[0]!.laterHalf.state).toBe('still-moving')
    expect(report.metrics[0]!.laterHalf.drift!).toBeLessThan(-1)
  })

  it('calls a change in about one steady session of twenty (p by shuffling)', () => {
    const draw = normalDraws(8)
    let alarms = 0
    for (let run = 0; run < 100; run++) {
      const report = sessionReport({
        blocks: [block('A', invented(24, { speed: 42, efficiency: 1.4 }, draw))],
        metrics: club,
        options: { permutations: 499 },
      })
      if (report.metrics[0]!.levelChange.state === 'changed') alarms++
    }
    // 5 of 100 expected; three standard deviations (2.2) above that is 11.5.
    expect(alarms).toBeLessThanOrEqual(11)
  })

  it('the same shots give the same answer', () => {
    const draw = normalDraws(10)
    const blocks = [block('A', invented(20, { speed: 42, efficiency: 1.4 }, draw))]
    expect(sessionReport({ blocks })).toEqual(sessionReport({ blocks }))
  })

  it('no shots at all, one shot and identical shots are answered, not refused', () => {
    expect(sessionReport({ blocks: [] }).metrics.every((row) => row.reason === 'no-data')).toBe(true)
    expect(
      sessionReport({ blocks: [block('A', speeds([42]))], metrics: club }).metrics[0]!.baseline.state,
    ).toBe('too-few')
    const alike = sessionReport({ blocks: [block('A', speeds(Array(20).fill(42)))], metrics: club })
    expect(alike.metrics[0]!.levelChange.state).toBe('no-spread')
  })
})

describe('by cue', () => {
  it('a cue that only goes with a faster block, not with faster swings inside it, is not credited', () => {
    const draw = normalDraws(12)
    const slow = invented(12, { speed: 40, efficiency: 1.4 }, draw)
    const fast = invented(12, { speed: 46, efficiency: 1.4 }, draw).map((s) => ({ ...s, cues: ['release'] }))
    const report = cueReport({ blocks: [block('A', slow), block('B', fast)], metrics: club })
    expect(report.rows[0]).toMatchObject({
      verdict: 'too-few',
      isBlockItself: true,
      difference: null,
      p: null,
    })
  })

  it('a cue that goes with faster swings inside the blocks differs', () => {
    const draw = normalDraws(13)
    const tag = (list: ChangeShot[]) =>
      list.map((s, i) => (i % 2 ? { ...s, cues: ['release'], clubSpeedMps: s.clubSpeedMps! + 3 } : s))
    const report = cueReport({
      blocks: [
        block('A', tag(invented(12, { speed: 40, efficiency: 1.4 }, draw))),
        block('B', tag(invented(12, { speed: 46, efficiency: 1.4 }, draw))),
      ],
      metrics: club,
    })
    expect(report.rows[0]).toMatchObject({ verdict: 'differs', blocksUsed: 2, tagged: 12, untagged: 12 })
    expect(report.rows[0]!.difference!).toBeGreaterThan(2)
    expect(report.rows[0]!.difference!).toBeLessThan(4)
  })

  it('two clubs in one block are not held against each other', () => {
    const shots: ChangeShot[] = [
      ...speeds([45, 45.2, 45.1]).map((s) => ({ ...s, cues: ['grip'] })),
      ...[36, 36.2, 36.1].map((clubSpeedMps) => ({ club: '7-iron', clubSpeedMps })),
    ]
    expect(cueReport({ blocks: [block('A', shots)], metrics: club }).rows[0]!.verdict).toBe('too-few')
  })
})

const lesson = (label: string, date: string, ...blocks: ChangeShot[][]): ChangeLesson => ({
  label,
  date,
  blocks: blocks.map((shots, i) => block(`${label} ${i + 1}`, shots)),
})

describe('lesson against lesson', () => {
  const draw = normalDraws(14)
  const hit = (speed: number, n = 12) => invented(n, { speed, efficiency: 1.42 }, draw)

  it('a gain that is still there is kept; one that is gone is lost; one that never was is not judged', () => {
    const first = lesson('One', '2026-03-01', hit(42), hit(46))
    const verdictOf = (current: ChangeLesson, previous = first) =>
      lessonAgainstLesson({ previous, current, metrics: club }).metrics[0]!.verdict
    expect(verdictOf(lesson('Two', '2026-03-08', hit(46), hit(46)))).toBe('kept')
    expect(verdictOf(lesson('Two', '2026-03-08', hit(42), hit(42)))).toBe('lost')
    expect(
      verdictOf(lesson('Two', '2026-03-08', hit(44), hit(44)), lesson('One', '2026-03-01', hit(42), hit(42))),
    ).toBe('gain-not-clear')
  })

  it('a gain no larger than placing the device anew could make is not followed', () => {
    const tight = (speed: number) => invented(30, { speed, efficiency: 1.42, speedSd: 0.3 }, draw)
    const report = lessonAgainstLesson({
      previous: lesson('One', '2026-03-01', tight(42), tight(42.8)),
      current: lesson('Two', '2026-03-08', tight(42.8)),
      metrics: club,
    })
    expect(report.metrics[0]!.verdict).toBe('within-setup-error')
  })

  it('seven shots in a block are too few to say what was kept', () => {
    const report = lessonAgainstLesson({
      previous: lesson('One', '2026-03-01', hit(42), hit(46)),
      current: lesson('Two', '2026-03-08', hit(46, 7)),
      metrics: club,
    })
    expect(report.metrics[0]).toMatchObject({ verdict: 'too-few', retained: null, n: [12, 12, 7] })
  })

  it('skips warm-up shots only where enough others remain', () => {
    const report = (n: number) =>
      lessonAgainstLesson({
        previous: lesson('One', '2026-03-01', hit(42, n), hit(46)),
        current: lesson('Two', '2026-03-08', hit(46, n)),
        metrics: club,
      })
    expect(report(11)).toMatchObject({ warmUpShots: 3 })
    expect(report(11).metrics[0]!.n).toEqual([8, 12, 8])
    expect(report(10)).toMatchObject({ warmUpShots: 0 })
  })

  it('a lesson with one block, or without a common club, is not comparable', () => {
    const single = lesson('One', '2026-03-01', hit(42))
    expect(lessonAgainstLesson({ previous: single, current: single }).isComparable).toBe(false)
    const irons = lesson(
      'Two',
      '2026-03-08',
      invented(9, { speed: 38, efficiency: 1.3, club: '7-iron' }, draw),
    )
    const drivers = lesson('One', '2026-03-01', hit(42), hit(44))
    expect(lessonAgainstLesson({ previous: drivers, current: irons }).isComparable).toBe(false)
  })
})

describe('season', () => {
  const season = (levels: readonly number[], start: number, n = 20): ChangeLesson[] => {
    const draw = normalDraws(start)
    return levels.map((speed, i) =>
      lesson(
        `L${i + 1}`,
        new Date(Date.UTC(2026, 0, 5 + 14 * i)).toISOString().slice(0, 10),
        invented(n, { speed, efficiency: 1.42 }, draw),
        invented(n, { speed, efficiency: 1.42 }, draw),
      ),
    )
  }

  it('a climb over ten lessons is a trend; four lessons are too early', () => {
    const climb = season([42, 42.3, 42.6, 43, 43.2, 43.6, 43.9, 44.3, 44.5, 44.9], 15)
    const found = seasonReport({ lessons: climb, metrics: club }).metrics[0]!
    expect(found.trend.state).toBe('rising')
    // 2.9 m/s in 126 days.
    expect(found.trend.perThirtyDays!).toBeCloseTo((2.9 / 126) * 30, 0)
    expect(seasonReport({ lessons: climb.slice(0, 4), metrics: club }).metrics[0]).toMatchObject({
      trend: { state: 'too-early', perThirtyDays: null },
      best: null,
      lessonsDiffer: null,
    })
  })

  it('the best of lessons that are all alike is not a personal best', () => {
    let claims = 0
    for (let start = 1; start <= 30; start++) {
      const report = seasonReport({ lessons: season(Array(8).fill(42), 100 + start, 8), metrics: club })
      if (report.metrics[0]!.best?.isClear) claims++
    }
    expect(claims).toBe(0)
  })

  it('a lesson far above all others is a personal best, pulled a little towards the others', () => {
    const lessons = season([42, 42.1, 41.9, 42, 42.1, 46], 16)
    const best = seasonReport({ lessons, metrics: club }).metrics[0]!.best!
    expect(best).toMatchObject({ label: 'L6', isClear: true })
    expect(best.level).toBeLessThan(46.3)
  })

  it('a best that placing the device anew could make is not clear', () => {
    const draw = normalDraws(22)
    const lessons = [42, 42.05, 41.95, 42, 42.05, 42.9].map((speed, i) =>
      lesson(`L${i + 1}`, `2026-01-1${i}`, invented(40, { speed, efficiency: 1.42, speedSd: 0.3 }, draw)),
    )
    const isClear = (clubSpeedShare: number) =>
      seasonReport({
        lessons,
        metrics: club,
        options: { setupError: { clubSpeedShare, ballSpeedShare: 0, carryShare: 0 } },
      }).metrics[0]!.best!.isClear
    expect(isClear(0)).toBe(true)
    expect(isClear(0.01)).toBe(false)
  })

  it('sorts by date, follows each lesson to the next, and looks at the club hit most', () => {
    const lessons = season([42, 43, 44, 45, 46, 47], 17)
    const iron = { club: '7-iron', clubSpeedMps: 36 }
    lessons[0]!.blocks[0]!.shots = [...lessons[0]!.blocks[0]!.shots, iron]
    const report = seasonReport({ lessons: [...lessons].reverse(), metrics: club })
    expect(report.metrics[0]!.levels.map((level) => level.label)).toEqual([
      'L1',
      'L2',
      'L3',
      'L4',
      'L5',
      'L6',
    ])
    expect(report.kept).toHaveLength(5)
    expect(report).toMatchObject({ club: 'driver', leftOut: [{ block: 'L1', club: '7-iron', shots: 1 }] })
  })

  it('no lessons, and lessons without the metric, are answered', () => {
    expect(seasonReport({ lessons: [] }).metrics.every((row) => row.reason === 'no-data')).toBe(true)
    const empty = Array.from({ length: 6 }, (_, i) =>
      lesson(`L${i}`, `2026-01-0${i + 1}`, [{ club: 'driver', carryM: 200 }]),
    )
    expect(seasonReport({ lessons: empty, metrics: club }).metrics[0]).toMatchObject({
      reason: 'no-data',
      best: null,
    })
  })

  it('reads 100 lessons of 60 shots, each against the one before it (how fast: see the benchmark)', () => {
    const lessons = season(
      Array.from({ length: 100 }, (_, i) => 42 + 0.01 * i),
      18,
      30,
    )
    const report = seasonReport({ lessons })
    expect(report.kept).toHaveLength(99)
  })
})

describe('plan against result', () => {
  const draw = normalDraws(19)
  const hit = (speed: number, n = 12, club = 'driver') => invented(n, { speed, efficiency: 1.4, club }, draw)
  const day = (date: string, ...blocks: ChangeShot[][]): ChangeLesson => ({
    label: date,
    date,
    blocks: blocks.map((shots, i) => block(`${date} ${i}`, shots)),
  })
  const speedAfter = (lessons: ChangeLesson[], plannedOn = ['2026-05-02']) =>
    plansAgainstResults({ lessons, plannedOn: new Set(plannedOn), club: 'driver', metrics: club })

  it('holds the last block of the planning lesson against the first of the next, placing the device anew counted', () => {
    const [result] = speedAfter([day('2026-05-02', hit(40), hit(42)), day('2026-05-09', hit(46), hit(50))])
    expect(result).toMatchObject({ plannedOn: '2026-05-02', shownOn: '2026-05-09' })
    expect(result!.comparison).toMatchObject({
      sameSetup: false,
      before: '2026-05-02 1',
      after: '2026-05-09 0',
    })
    expect(result!.comparison.metrics[0]!.verdict).toBe('changed')
    expect(result!.comparison.metrics[0]!.difference).toBeCloseTo(4, 0)
  })

  it('a rise that placing the device anew could make is no result of the plan', () => {
    const [result] = speedAfter([day('2026-05-02', hit(42, 30)), day('2026-05-09', hit(42.9, 30))])
    expect(result!.comparison.metrics[0]!.verdict).toBe('within-device-error')
  })

  it('skips lessons without the club, and says nothing before there is a next lesson', () => {
    const lessons = [
      day('2026-05-02', hit(42)),
      day('2026-05-05', hit(33, 12, '7-iron')),
      day('2026-05-09', hit(42)),
    ]
    expect(speedAfter(lessons)[0]!.shownOn).toBe('2026-05-09')
    expect(speedAfter(lessons, ['2026-05-09'])).toEqual([])
    expect(speedAfter(lessons, [])).toEqual([])
  })
})

describe('play speed', () => {
  const player = (start: number, n: number, sd: number, loss: number, club = 'driver'): ChangeShot[] => {
    const draw = normalDraws(start)
    return Array.from({ length: n }, () => {
      const clubSpeedMps = 42 + sd * draw()
      const efficiency = 1.47 - loss * Math.max(0, clubSpeedMps - 42) ** 2 + 0.012 * draw()
      return { club, clubSpeedMps, ballSpeedMps: clubSpeedMps * efficiency }
    })
  }
  const report = (shots: ChangeShot[]) => playSpeedReport({ blocks: [block('A', shots)] })

  it('a player who loses the strike past a speed gets a band inside what was hit', () => {
    const found = report(player(30, 60, 3, 0.01))
    expect(found.verdict).toBe('inside')
    expect(found.bandMps![0]).toBeGreaterThan(found.slowestMps!)
    expect(found.bandMps![1]).toBeLessThan(found.fastestMps!)
    expect(found.toHit).toBeNull()
  })

  it('a player whose strike holds at every speed is never given a best speed inside', () => {
    for (let start = 31; start < 51; start++) {
      expect(report(player(start, 30, 3, 0)).verdict).not.toBe('inside')
    }
  })

  it('speeds that differ no more than the device errs are refused, with the swings to hit', () => {
    const found = report(player(60, 30, 0.8, 0.01))
    expect(found.verdict).toBe('not-enough-range')
    expect(found).toMatchObject({ bestMps: null, bandMps: null, suggestedMps: null })
    expect(found.toHit!.efforts).toEqual([0.8, 0.9, 1])
    expect(found.toHit!.shots).toBeGreaterThanOrEqual(9)
  })

  it('fewer than twelve shots are too few, and none is no data', () => {
    expect(report(player(61, 11, 3, 0.01))).toMatchObject({
      verdict: 'too-few',
      bandMps: null,
      reason: 'too-few',
    })
    expect(report([{ club: 'driver', ballSpeedMps: 60 }])).toMatchObject({
      n: 0,
      toHit: null,
      reason: 'no-data',
    })
  })

  it('identical shots are refused without an error', () => {
    const same = Array.from({ length: 20 }, () => ({ club: 'driver', clubSpeedMps: 42, ballSpeedMps: 60 }))
    expect(report(same)).toMatchObject({ verdict: 'not-enough-range', bandMps: null, reliability: null })
  })

  it('where direction gets worse with speed the band ends at the best ball speed', () => {
    const draw = normalDraws(63)
    const shots = player(30, 60, 3, 0.01).map((s) => ({
      ...s,
      launchDirectionDeg: 0.8 * Math.max(0.2, s.clubSpeedMps! - 38) * draw(),
    }))
    const found = report(shots)
    expect(found.control.verdict).toBe('worse-with-speed')
    expect(found.suggestedMps).toEqual([found.bandMps![0], found.bestMps])
  })

  it('misreading the speed tilts the plain slope down; taking the error out brings it back up', () => {
    const found = report(player(64, 40, 3, 0))
    expect(found.slope.fromNoiseAlone!).toBeLessThan(0)
    expect(found.slope.corrected!).toBeGreaterThan(found.slope.naive!)
  })
})

describe('strike map', () => {
  const strikes = (start: number, n: number, x: number, loss: number): ChangeShot[] => {
    const draw = normalDraws(start)
    return Array.from({ length: n }, () => {
      const impactXMm = x + 8 * draw()
      const impactYMm = 5 * draw()
      const efficiency = 1.48 - loss * (impactXMm ** 2 + impactYMm ** 2) + 0.005 * draw()
      return { club: 'driver', impactXMm, impactYMm, clubSpeedMps: 42, ballSpeedMps: 42 * efficiency }
    })
  }

  it('finds a pattern on the toe side and the loss at 10 mm', () => {
    const report = strikeMapReport({ blocks: [block('A', strikes(70, 30, 9, 4e-4))] })
    expect(report.bias.verdict).toBe('off')
    expect(report.pattern.centreMm![0]).toBeGreaterThan(5)
    expect(report.loss.verdict).toBe('falls-with-distance')
    expect(report.loss.at10Mm!).toBeCloseTo(-0.04, 2)
  })

  it('seven strikes are not shown as a pattern; three crash nothing', () => {
    const seven = strikeMapReport({ blocks: [block('A', strikes(71, 7, 9, 0))] })
    expect(seven).toMatchObject({
      reason: 'too-few',
      pattern: { isShown: false, semiAxesMm: null },
      bias: { verdict: 'too-few' },
    })
    expect(strikeMapReport({ blocks: [block('A', strikes(72, 3, 9, 0))] }).reason).toBe('too-few')
    expect(strikeMapReport({ blocks: [] }).reason).toBe('no-data')
  })

  it('strikes all in one place have no test and no claim', () => {
    const same = Array.from({ length: 10 }, () => ({ club: 'driver', impactXMm: 3, impactYMm: 1 }))
    const report = strikeMapReport({ blocks: [block('A', same)] })
    expect(report.bias.verdict).toBe('cannot-tell')
    expect(report.loss.verdict).toBe('not-recorded')
  })
})
