import { lessonReport } from '../../shared-core/report/lesson-report.ts'
import type { KeyedFinding } from '../../shared-core/report/lesson-report.ts'
import { goodDevice, inventedLesson } from './support/invented-lesson.ts'
import type { Truth } from './support/invented-lesson.ts'
import { share, worldTable } from './support/world.ts'
import type { WorldRun } from './support/world.ts'

export const name = 'Lessons with and without an effect: what is called sure'

/** Sure findings that speak of an effect. What holds back and the play speed that rises with level efficiency are true here. */
const claims = (findings: readonly KeyedFinding[]): KeyedFinding[] =>
  findings.filter(
    (f) =>
      f.isSure && f.topic !== 'holding-back' && !(f.topic === 'play-speed' && f.verdict === 'still-rising'),
  )

const unqualified = (f: KeyedFinding): boolean => /It came with/.test(f.sentence)

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

const isCounted = (row: Row, findings: readonly KeyedFinding[]): boolean => {
  const sure = claims(findings)
  switch (row.counts) {
    case 'any':
      return sure.length > 0
    case 'unqualified':
      return sure.some(unqualified)
    default: {
      const metric = row.counts === 'speed' ? 'clubSpeedMps' : 'efficiency'
      return sure.some((f) => f.cells?.some((cell) => cell.metric === metric && cell.isSure))
    }
  }
}

export function run({ small, seed, print }: WorldRun, only?: (row: Row) => boolean): Outcome[] {
  const lessons = small ? 60 : 400
  const outcomes = rows.filter(only ?? (() => true)).map((row, i) => {
    let hits = 0
    for (let k = 0; k < lessons; k++) {
      const { findings } = lessonReport(inventedLesson(row.truth, seed + 1000 * i + k))
      if (isCounted(row, findings)) hits += 1
    }
    const percent = (100 * hits) / lessons
    return { name: row.name, lessons, percent, holds: row.passes(percent), aim: row.aim, hits }
  })
  print(
    worldTable(
      ['truth', 'lessons', 'counted', 'aim', 'holds'],
      outcomes.map((o) => [o.name, o.lessons, share(o.hits, o.lessons), o.aim, o.holds ? 'yes' : 'no']),
    ),
  )
  return outcomes
}
