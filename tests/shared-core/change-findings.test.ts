import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { regressionToMeanReport } from '../../shared-core/change/regression-to-mean-report.ts'
import type { ChangeLesson, ChangeShot } from '../../shared-core/change/change-shot.ts'
import { compareBlocks } from '../../shared-core/change/compare-blocks.ts'
import { compareSpreads } from '../../shared-core/change/compare-spread.ts'
import { cueRows, type CueRow } from '../../shared-core/report/comparison-rows.ts'
import { cueReport } from '../../shared-core/change/cue-report.ts'
import {
  regressionToMeanFinding,
  comparisonFindings,
  cueFindings,
  lessonFindings,
  planFindings,
  playSpeedFindings,
  seasonFindings,
  sessionFindings,
  spreadFindings,
  strikeFindings,
} from '../../shared-core/change/findings.ts'
import type { Finding, Wording } from '../../shared-core/change/findings.ts'
import { lessonAgainstLesson } from '../../shared-core/change/lesson-against-lesson.ts'
import { levelsForDrawing } from '../../shared-core/change/levels-for-drawing.ts'
import { plansAgainstResults } from '../../shared-core/change/plan-against-result.ts'
import { playSpeedReport } from '../../shared-core/change/play-speed-report.ts'
import { seasonReport } from '../../shared-core/change/season-report.ts'
import { sessionReport } from '../../shared-core/change/session-report.ts'
import { strikeMapReport } from '../../shared-core/change/strike-map-report.ts'
import { withShotsNeeded } from '../../shared-core/report/one-budget.ts'
import { unitSystems } from '../../shared-core/units.ts'
import { block, invented, normalDraws } from './change-scenario.ts'

const words: Wording = { units: 'mph-yd' }
const text = (findings: readonly Finding[]): string =>
  findings.map((finding) => `${finding.sentence} ${finding.howSure} ${finding.caution ?? ''}`).join('\n')

/** Everything that can be said about three blocks of shots, taken also as lessons of a season. */
function everything(blocks: readonly (readonly ChangeShot[])[], wording: Wording): Finding[] {
  const named = blocks.map((shots, i) => block(`Block ${i + 1}`, [...shots]))
  const [first, second] = named as [(typeof named)[0], (typeof named)[0]]
  const lesson = (i: number): ChangeLesson => ({
    label: `Lesson ${i + 1}`,
    date: `2026-02-1${i}`,
    blocks: named,
  })
  const lessons = [0, 1, 2, 3, 4, 5].map(lesson)
  return [
    ...comparisonFindings(compareBlocks({ before: first, after: second }), wording),
    ...compareSpreads([[first, second]]).flatMap(spreadFindings),
    ...sessionFindings(sessionReport({ blocks: named, options: { permutations: 99 } }), wording),
    ...cueFindings(cueReport({ blocks: named }), wording),
    ...lessonFindings(lessonAgainstLesson({ previous: lessons[0]!, current: lessons[1]! }), wording),
    ...seasonFindings(seasonReport({ lessons }), wording),
    ...playSpeedFindings(playSpeedReport({ blocks: named, options: { replicates: 50 } }), wording),
    ...strikeFindings(strikeMapReport({ blocks: named })),
    ...plansAgainstResults({
      lessons,
      plannedOn: new Set(lessons.map(({ date }) => date)),
      club: 'driver',
    }).flatMap((plan) => planFindings(plan, wording)),
  ]
}

const tenths = (from: number, to: number) => fc.integer({ min: from * 10, max: to * 10 }).map((n) => n / 10)
const anyShot: fc.Arbitrary<ChangeShot> = fc.record({
  club: fc.constantFrom('driver', 'driver', '7-iron', null),
  clubSpeedMps: fc.option(tenths(36, 50), { freq: 5 }),
  ballSpeedMps: fc.option(tenths(50, 70), { freq: 5 }),
  carryM: fc.option(fc.integer({ min: 120, max: 240 }), { freq: 5 }),
  launchDirectionDeg: fc.option(tenths(-6, 6)),
  impactXMm: fc.option(fc.integer({ min: -20, max: 20 })),
  impactYMm: fc.option(fc.integer({ min: -15, max: 15 })),
  cues: fc.subarray(['grip', 'release']),
  isLeftOut: fc.constantFrom(false, false, false, true),
})
const anyBlocks = fc.array(fc.array(anyShot, { maxLength: 16 }), { minLength: 3, maxLength: 3 })

describe('findings, whatever the shots', () => {
  it('every finding is a whole sentence with how sure it is and how we know, and nothing unreadable', () => {
    fc.assert(
      fc.property(anyBlocks, fc.constantFrom(...unitSystems), (blocks, units) => {
        for (const finding of everything(blocks, { units })) {
          const all = [finding.sentence, finding.howSure, ...Object.values(finding.howWeKnow)].join(' ')
          expect(all).not.toMatch(/NaN|undefined|null|Infinity|\[object|–/)
          expect(finding.sentence).toMatch(/^[A-Z0-9“].*\.$/)
          expect(finding.howSure).toMatch(/^[A-Z0-9].*\.$/)
          for (const part of Object.values(finding.howWeKnow)) expect(part.length).toBeGreaterThan(3)
        }
      }),
      { numRuns: 60 },
    )
  })

  it('nothing is ever put down to a cause', () => {
    fc.assert(
      fc.property(anyBlocks, (blocks) => {
        expect(text(everything(blocks, words))).not.toMatch(/because|caused|thanks to|due to|proves/i)
      }),
      { numRuns: 30 },
    )
  })

  it('no number carries more digits than a device prints', () => {
    fc.assert(
      fc.property(anyBlocks, fc.constantFrom(...unitSystems), (blocks, units) => {
        const all = text(everything(blocks, { units }))
        expect(all).not.toMatch(/\d\.\d\d+ (mph|km\/h|m\/s)/)
        expect(all).not.toMatch(/\d\.\d+ (yd|m)\b(?!\/)/)
        expect(all).not.toMatch(/\d\.\d{3,}/)
      }),
      { numRuns: 40 },
    )
  })

  it('blocks of at most three shots never make a sure finding', () => {
    const few = fc.array(fc.array(anyShot, { maxLength: 3 }), { minLength: 2, maxLength: 2 })
    fc.assert(
      fc.property(few, (blocks) => {
        const [before, after] = blocks.map((shots, i) => block(`Block ${i}`, shots)) as never as [
          never,
          never,
        ]
        expect(comparisonFindings(compareBlocks({ before, after }), words).some((f) => f.isSure)).toBe(false)
      }),
    )
  })
})

describe('findings of a comparison', () => {
  const draw = normalDraws(3)
  const base = block('As you are', invented(12, { speed: 42, efficiency: 1.4 }, draw))
  const fast = block('Softer shoulders', invented(12, { speed: 45, efficiency: 1.4 }, draw))

  it('a clear change says how much, from where to where, how sure, and that it came with the block', () => {
    const findings = comparisonFindings(compareBlocks({ before: base, after: fast }), words)
    expect(findings).toHaveLength(1)
    const [found] = findings
    expect(found!.sentence).toMatch(
      /^In “Softer shoulders” club speed was \d\.\d to \d+\.\d mph faster \(about \d\.\d\).* than in “As you are”/,
    )
    expect(found!.sentence).toMatch(/came with “Softer shoulders”|hit five as before once more/)
    expect(found!.howSure).toContain('4 numbers were looked at')
    expect(found!.isSure).toBe(true)
    expect(found!.cells!.map(({ metric, isSure }) => [metric, isSure])).toContainEqual(['clubSpeedMps', true])
  })

  it('speaks the units asked for', () => {
    const sentence = (units: Wording['units']): string =>
      comparisonFindings(compareBlocks({ before: base, after: fast }), { units })[0]!.sentence
    expect(sentence('kmh-m')).toContain('km/h')
    expect(sentence('mps-m')).toContain('m/s')
    expect(sentence('mps-m')).not.toContain('mph')
  })

  it('where it can’t be told, says so and how many shots would do', () => {
    const near = block('Again', invented(6, { speed: 42.3, efficiency: 1.4, speedSd: 1.5 }, draw))
    const wide = block('As you are', invented(6, { speed: 42, efficiency: 1.4, speedSd: 1.5 }, draw))
    const comparison = compareBlocks({ before: wide, after: near })
    const [speed] = comparisonFindings(
      withShotsNeeded(comparison, () => 0.02),
      words,
    )
    expect(speed!.verdict).toBe('cannot-tell')
    expect(speed!.sentence).toMatch(
      /^Can't tell yet whether “Again” changed anything.*club speed \(.* fits\)/,
    )
    expect(speed!.sentence).toMatch(/About \d+ shots in each block would show|scatter too widely/)
    expect(speed!.isSure).toBe(false)
  })

  it('a difference clear by itself but not among four numbers is said to look so, and to be not sure', () => {
    const row = {
      ...compareBlocks({ before: base, after: fast }).metrics[0]!,
      verdict: 'cannot-tell' as const,
      interval: [0.2, 2.6] as [number, number],
      difference: 1.4,
    }
    const report = { ...compareBlocks({ before: base, after: fast }), metrics: [row] }
    const [finding] = comparisonFindings(report, words)
    expect(finding!.sentence).toMatch(
      /Club speed looks \d(\.\d)? to \d(\.\d)? mph faster \(about .*\), but of \d+ numbers looked at, one or two look so by chance/,
    )
    expect(finding!.howSure).toContain('not among the 4 looked at')
    expect(finding!.isSure).toBe(false)
  })

  it('three shots against three: too few, and how many are needed', () => {
    const three = (label: string) => block(label, invented(3, { speed: 42, efficiency: 1.4 }, draw))
    const findings = comparisonFindings(compareBlocks({ before: three('A'), after: three('B') }), words)
    expect(findings.every((finding) => finding.verdict === 'too-few' && !finding.isSure)).toBe(true)
    expect(findings[0]!.sentence).toContain('Too few shots to compare “A” and “B” (3 shots and 3)')
  })

  it('three shots after many are a first impression, even where the numbers part', () => {
    const three = block('Three', invented(3, { speed: 47, efficiency: 1.4 }, draw))
    const [speed] = comparisonFindings(compareBlocks({ before: base, after: three }), words)
    expect(speed!.isSure).toBe(false)
    expect(speed!.sentence).toContain('first impression, not a level')
    expect(speed!.sentence).not.toContain('came with')
  })

  it('a missing club speed is said, and what can’t be said without it', () => {
    const strip = (b: typeof base) => ({ ...b, shots: b.shots.map((s) => ({ ...s, clubSpeedMps: null })) })
    const findings = comparisonFindings(compareBlocks({ before: strip(base), after: strip(fast) }), words)
    expect(findings[0]!.sentence).toContain('No readings of club speed and efficiency')
    expect(findings[0]!.cells!.filter((cell) => cell.isSure).map((cell) => cell.metric)).toContain(
      'ballSpeedMps',
    )
  })

  it('identical shots are called too coarse to judge', () => {
    const same = (label: string, v: number) =>
      block(label, Array(8).fill({ club: 'driver', clubSpeedMps: v }))
    const [speed] = comparisonFindings(compareBlocks({ before: same('A', 42), after: same('B', 43) }), words)
    expect(speed!.sentence).toContain('too coarse to judge')
    expect(speed!.isSure).toBe(false)
  })

  it('a mixed bag says which club was compared and what was not looked at', () => {
    const iron = invented(4, { speed: 37, efficiency: 1.3, club: '7-iron' }, draw)
    const findings = comparisonFindings(
      compareBlocks({ before: { ...base, shots: [...base.shots, ...iron] }, after: fast }),
      words,
    )
    expect(text(findings)).toContain(
      'Only the driver was compared; not looked at: 4 7-iron shots in “As you are”.',
    )
  })

  it('blocks without a common club are not compared, in so many words', () => {
    const iron = block('Iron', invented(6, { speed: 37, efficiency: 1.3, club: '7-iron' }, draw))
    const findings = comparisonFindings(compareBlocks({ before: base, after: iron }), words)
    expect(findings).toHaveLength(1)
    expect(findings[0]!.sentence).toContain("have no shots of the same club, so they can't be compared")
  })
})

describe('findings about a session', () => {
  const draw = normalDraws(12)

  it('what can’t be told of several numbers is said once, of all of them', () => {
    const session = sessionReport({
      blocks: [block('A', invented(6, { speed: 42, efficiency: 1.4 }, draw))],
      options: { permutations: 99 },
    })
    const sentences = sessionFindings(session, words).map((f) => f.sentence)
    expect(sentences).toContain(
      'Too few shots to say whether and where club speed, efficiency, ball speed and carry changed inside the session.',
    )
    expect(sentences.filter((sentence) => /inside the session/.test(sentence))).toHaveLength(1)
  })
})

describe('findings about speed', () => {
  const player = (start: number, n: number, sd: number, slope: number): ChangeShot[] => {
    const draw = normalDraws(start)
    return Array.from({ length: n }, () => {
      const clubSpeedMps = 42 + sd * draw()
      return {
        club: 'driver',
        clubSpeedMps,
        ballSpeedMps: clubSpeedMps * (1.45 + slope * (clubSpeedMps - 42) + 0.004 * draw()),
      }
    })
  }
  const say = (shots: ChangeShot[], leak: 'strike' | 'speed' | null = null) =>
    playSpeedFindings(playSpeedReport({ blocks: [block('A', shots)] }), words, { leak })[0]!

  it('a ball speed still rising is no advice to swing harder', () => {
    const finding = say(player(80, 40, 3, 0))
    expect(finding.verdict).toBe('still-rising')
    expect(finding.sentence).toContain('no reason to swing harder')
    expect(finding.sentence).not.toMatch(/hit about|effort|swing faster/)
  })

  it('where the strike is the leak, no sentence asks for more speed', () => {
    for (const shots of [
      player(81, 40, 3, 0),
      player(82, 8, 1, 0),
      player(83, 30, 0.5, 0),
      player(84, 40, 3, -0.03),
    ]) {
      const finding = say(shots, 'strike')
      expect(finding.sentence).not.toMatch(/effort|swing faster|To find out/)
      expect(finding.sentence).toContain('work on the strike')
    }
  })

  it('swings to hit at high effort come with the caution', () => {
    const finding = say(player(85, 30, 0.5, 0))
    expect(finding.sentence).toContain('80 %, 90 % and 100 % effort')
    expect(finding.caution).toMatch(
      /Warm up first.*Stop if anything hurts.*medical professional.*space around you/,
    )
  })

  it('without club speed it says what it can’t say', () => {
    expect(say([{ club: 'driver', ballSpeedMps: 60, carryM: 200 }]).sentence).toContain(
      'nothing can be said about it',
    )
  })
})

describe('more findings', () => {
  it('a cue is named by its label', () => {
    const draw = normalDraws(90)
    const shots = invented(12, { speed: 42, efficiency: 1.4 }, draw).map((s, i) =>
      i % 2 ? { ...s, cues: ['grip'], clubSpeedMps: s.clubSpeedMps! + 4 } : s,
    )
    const report = cueReport({ blocks: [block('A', shots)], metrics: ['clubSpeedMps'] })
    const [finding] = cueFindings(report, { ...words, cueLabels: { grip: 'Grip' } })
    expect(finding!.sentence).toContain('tagged “Grip”')
    expect(finding!.sentence).toContain('came with the cue')
  })

  it('what can’t be told by cue is said once of all numbers, and a number that was not recorded is not spoken of', () => {
    const shots = invented(12, { speed: 42, efficiency: 1.4 }, normalDraws(93)).map(
      ({ carryM: _, ...shot }, i) => (i % 3 ? shot : { ...shot, cues: ['grip'] }),
    )
    const report = cueReport({
      blocks: [block('A', shots)],
      metrics: ['clubSpeedMps', 'efficiency', 'carryM'],
    })
    const found = cueFindings(report, { ...words, cueLabels: { grip: 'Grip' } })
    expect(found.map((f) => f.sentence)).toEqual([
      "Can't tell yet whether the swings tagged “Grip” differ in club speed and efficiency.",
    ])
    expect(found[0]).toMatchObject({ metric: null, isSure: false })
    expect(found[0]!.howWeKnow.data).toMatch(/4 tagged swings, 8 untagged.*club speed.*efficiency/)
  })

  it('the table by cue has a row a cue, the most tagged first, bold where the finding is sure', () => {
    const draw = normalDraws(94)
    const shots = invented(14, { speed: 42, efficiency: 1.4 }, draw).map((s, i) => ({
      ...s,
      clubSpeedMps: s.clubSpeedMps! + (i % 2 ? 4 : 0),
      ballSpeedMps: s.ballSpeedMps! + (i % 2 ? 4 * 1.4 : 0),
      cues: [
        ...(i % 2 ? ['grip'] : []),
        ...(i < 3 ? ['release'] : []),
        ...(i === 5 ? ['strike'] : []),
        'on-all',
      ],
    }))
    const cues = cueReport({ blocks: [block('A', shots)], metrics: ['clubSpeedMps', 'efficiency'] })
    const [rows, pictures] = cueRows({ cues, measures: null }) as [CueRow[], CueRow[]]
    expect(pictures).toEqual([])
    expect(rows.map(({ cue, tagged, untagged }) => [cue, tagged, untagged])).toEqual([
      ['grip', 7, 7],
      ['release', 3, 11],
    ])
    const [speed, efficiency] = rows[0]!.cells
    expect(speed!.isSure).toBe(true)
    expect(speed!.interval![0]).toBeGreaterThan(0)
    expect(speed!.interval![0]).toBeLessThan(4)
    expect(speed!.interval![1]).toBeGreaterThan(4)
    expect(efficiency!.isSure).toBe(false)
  })

  it('scatter that halves is a finding with enough shots, and unsayable with few', () => {
    const draw = normalDraws(91)
    const of = (n: number, sd: number) =>
      block(`SD ${sd}`, invented(n, { speed: 42, efficiency: 1.4, speedSd: sd }, draw))
    const report = (n: number) => compareSpreads([[of(n, 2), of(n, 0.3)]], ['clubSpeedMps'])[0]!
    expect(spreadFindings(report(25))[0]!.verdict).toBe('spread-steadier')
    expect(spreadFindings(report(7))[0]).toMatchObject({ verdict: 'spread-too-few', isSure: false })
  })

  it('after an unusually slow baseline some of the rise is to be expected; after a usual one nothing is said', () => {
    const draw = normalDraws(92)
    const history = [41, 42, 43, 41.5, 42.5, 42].map((speed, i) =>
      block(`H${i}`, invented(8, { speed, efficiency: 1.4, speedSd: 2 }, draw)),
    )
    const finding = (values: number[]) =>
      regressionToMeanFinding(
        regressionToMeanReport({
          history,
          baseline: block(
            'B',
            values.map((clubSpeedMps) => ({ club: 'driver', clubSpeedMps })),
          ),
          metric: 'clubSpeedMps',
        }),
        words,
      )
    expect(finding([38, 38.5, 39, 38.2])!.sentence).toMatch(
      /about \d\.\d mph faster would have come by itself/,
    )
    const usual = regressionToMeanReport({
      history,
      baseline: history[0]!,
      metric: 'clubSpeedMps',
    }).usualLevel!
    expect(finding([usual, usual, usual])).toBeNull()
    expect(
      regressionToMeanReport({ history: history.slice(0, 4), baseline: history[0]!, metric: 'clubSpeedMps' }),
    ).toMatchObject({ reason: 'too-few', expectedChange: null })
  })

  it('levels to draw leave out flagged shots and gaps, and keep the places of the given list', () => {
    const values = [40, 40.1, null, 40.2, 39.9, 40, 20, 43, 43.1, 42.9, 43, 43.2, 43.1]
    const levels = levelsForDrawing(values)
    expect(levels.map(({ fromShot, toShot }) => [fromShot, toShot])).toEqual([
      [0, 5],
      [7, 12],
    ])
    expect(levelsForDrawing([40, 41, 42])).toEqual([])
  })
})
