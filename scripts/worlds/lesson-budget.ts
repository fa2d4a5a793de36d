import type { Finding } from '../../shared-core/change/findings.ts'
import { goodDevice, inventedLesson } from './support/invented-lesson.ts'
import type { Truth } from './support/invented-lesson.ts'
import { claimsOf, quickFindings } from './support/quick-claims.ts'
import { share, worldTable } from './support/world.ts'
import type { WorldRun } from './support/world.ts'

export const name = 'Lessons with and without an effect: what is called sure'

/** Said to have come with the step, in so many words. */
const isNamed = (f: Finding): boolean => f.topic === 'change' && /It came with/.test(f.sentence)

interface Row {
  name: string
  truth: Truth
  /** What is counted, and the aim in %. */
  counts: 'any' | 'unqualified' | 'speed' | 'efficiency'
  aim: string
  passes: (percent: number) => boolean
}

const atMost = (limit: number) => ({ aim: `≤ ${limit} %`, passes: (p: number) => p <= limit })
const atLeast = (limit: number) => ({ aim: `≥ ${limit} %`, passes: (p: number) => p >= limit })
const three = [10, 10, 10]

export const rows: Row[] = [
  { name: 'no effect, plain', truth: { blocks: three }, counts: 'any', ...atMost(5) },
  { name: 'no effect, mishits', truth: { blocks: three, mishits: 0.1 }, counts: 'any', ...atMost(5) },
  { name: 'no effect, skewed', truth: { blocks: three, skewed: true }, counts: 'any', ...atMost(5) },
  {
    name: 'no effect, good device',
    truth: { blocks: three, error: goodDevice },
    counts: 'any',
    ...atMost(5),
  },
  {
    name: 'no effect, two blocks of 8',
    truth: { blocks: [8, 8], error: goodDevice },
    counts: 'any',
    ...atMost(5),
  },
  {
    name: 'no effect, one block of 24',
    truth: { blocks: [24], error: goodDevice },
    counts: 'any',
    ...atMost(5),
  },
  {
    name: 'no effect, direction, face and cues',
    truth: { blocks: three, withDirection: true, withFace: true, withCues: true, error: goodDevice },
    counts: 'any',
    ...atMost(5),
  },
  {
    name: 'drift +2 mph',
    truth: { blocks: three, driftMph: 2, error: goodDevice },
    counts: 'any',
    ...atMost(8),
  },
  { name: 'drift −2 mph', truth: { blocks: three, driftMph: -2 }, counts: 'any', ...atMost(8) },
  {
    name: 'drift +2 mph, unqualified',
    truth: { blocks: three, driftMph: 2, error: goodDevice },
    counts: 'unqualified',
    ...atMost(8),
  },
  {
    name: 'autocorrelation 0.3',
    truth: { blocks: three, autocorrelation: 0.3 },
    counts: 'any',
    ...atMost(8),
  },
  {
    name: 'autocorrelation 0.3, good device',
    truth: { blocks: three, autocorrelation: 0.3, error: goodDevice },
    counts: 'any',
    ...atMost(8),
  },
  {
    name: 'drift 5 mph, unqualified',
    truth: { blocks: three, driftMph: 5 },
    counts: 'unqualified',
    ...atMost(10),
  },
  {
    name: 'drift 5 mph, good device, unqualified',
    truth: { blocks: three, driftMph: 5, error: goodDevice },
    counts: 'unqualified',
    ...atMost(10),
  },
  {
    name: '+3 mph, 8 + 8, good device',
    truth: { blocks: [8, 8], speedStepMph: [0, 3], error: goodDevice },
    counts: 'speed',
    ...atLeast(80),
  },
  {
    name: '+3 mph, 8 + 8 + 8, good device',
    truth: { blocks: [8, 8, 8], speedStepMph: [0, 3, 3], error: goodDevice },
    counts: 'speed',
    ...atLeast(70),
  },
  {
    name: '+3 mph in the last of 8 + 8 + 8, good device',
    truth: { blocks: [8, 8, 8], speedStepMph: [0, 0, 3], error: goodDevice },
    counts: 'speed',
    ...atLeast(70),
  },
  {
    name: '+0.04 of efficiency, 12 + 12, good device',
    truth: { blocks: [12, 12], efficiencyStep: [0, 0.04], efficiencySd: 0.02, error: goodDevice },
    counts: 'efficiency',
    ...atLeast(80),
  },
]

export interface Outcome {
  name: string
  lessons: number
  percent: number
  aim: string
  holds: boolean
}

const sureCells = (f: Finding, metric?: string): boolean =>
  f.cells?.some((cell) => cell.isSure && (metric === undefined || cell.metric === metric)) ?? false

/** What is counted of one lesson, and how much of it is said to have come with the step. */
function seenIn(row: Row, findings: readonly Finding[]): { isCounted: boolean; isNamed: boolean } {
  if (row.counts === 'any') {
    const sure = claimsOf(findings)
    return { isCounted: sure.length > 0, isNamed: sure.some(isNamed) }
  }
  const named = findings.filter(isNamed)
  if (row.counts === 'unqualified') return { isCounted: named.length > 0, isNamed: named.length > 0 }
  const metric = row.counts === 'speed' ? 'clubSpeedMps' : 'efficiency'
  return {
    isCounted: findings.some((f) => sureCells(f, metric)),
    isNamed: named.some((f) => sureCells(f, metric)),
  }
}

export function run({ small, seed, print }: WorldRun, only?: (row: Row) => boolean): Outcome[] {
  const lessons = small ? 400 : 600
  const outcomes = rows.flatMap((row, i) => {
    if (only && !only(row)) return []
    let [hits, named, shown] = [0, 0, 0]
    for (let k = 0; k < lessons; k++) {
      const findings = quickFindings(inventedLesson(row.truth, seed + 10_000 * i + k))
      const seen = seenIn(row, findings)
      if (seen.isCounted) hits += 1
      if (seen.isNamed) named += 1
      if (findings.some((f) => sureCells(f))) shown += 1
    }
    const percent = (100 * hits) / lessons
    return [
      { name: row.name, lessons, percent, holds: row.passes(percent), aim: row.aim, hits, named, shown },
    ]
  })
  print(
    worldTable(
      ['truth', 'lessons', 'counted', 'aim', 'holds', 'a difference shown', 'named as come with the step'],
      outcomes.map((o) => [
        o.name,
        o.lessons,
        share(o.hits, o.lessons),
        o.aim,
        o.holds ? 'yes' : 'no',
        share(o.shown, o.lessons),
        share(o.named, o.lessons),
      ]),
    ),
  )
  print(
    'Counted: without an effect, lessons with a finding called sure; with one, lessons that show it (in bold in the table of ' +
      'differences), whether or not its sentence adds that a drift over the lesson could make it. A difference that a drift could ' +
      'make is shown, its finding is not called sure, and the step is not named.',
  )
  return outcomes
}
