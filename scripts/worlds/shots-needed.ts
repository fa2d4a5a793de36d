import { lessonReport } from '../../shared-core/report/lesson-report.ts'
import { goodDevice, inventedLesson, mph } from './support/invented-lesson.ts'
import type { Truth } from './support/invented-lesson.ts'
import { quickFindings } from './support/quick-claims.ts'
import { share, worldTable } from './support/world.ts'
import type { WorldRun } from './support/world.ts'

export const name = 'Shots needed: how often the promised number shows the change'

interface Row {
  name: string
  truth: Truth
  metric: 'clubSpeedMps' | 'efficiency'
  /** The change worth having, in mph or in efficiency. */
  change: number
}

const rows: Row[] = [
  {
    name: 'speed 3 mph, 6 + 6 first',
    truth: { blocks: [6, 6], error: goodDevice },
    metric: 'clubSpeedMps',
    change: 3,
  },
  {
    name: 'speed 2 mph, 8 + 8 first',
    truth: { blocks: [8, 8], error: goodDevice },
    metric: 'clubSpeedMps',
    change: 2,
  },
  {
    name: 'speed 3 mph, 8 + 8 + 8 first',
    truth: { blocks: [8, 8, 8], error: goodDevice },
    metric: 'clubSpeedMps',
    change: 3,
  },
  {
    name: 'efficiency 0.04, 8 + 8 first',
    truth: { blocks: [8, 8], error: goodDevice },
    metric: 'efficiency',
    change: 0.04,
  },
  {
    name: 'speed 4 mph, usual device, 10 + 10 first',
    truth: { blocks: [10, 10] },
    metric: 'clubSpeedMps',
    change: 4,
  },
]

export interface Outcome {
  name: string
  promises: number
  middle: number
  percent: number
}

/** Each lesson is hit once to get the promise, then again with the change in it and the promised number of shots a block. */
export function run({ small, seed, print }: WorldRun): Outcome[] {
  const lessons = small ? 120 : 600
  const found = rows.map(({ name: title, truth, metric, change }, i) => {
    const margins = { [metric]: metric === 'clubSpeedMps' ? change * mph : change }
    const promised: number[] = []
    let shown = 0
    for (let k = 0; k < lessons; k++) {
      const at = seed + 20_000 * i + 2 * k
      const first = lessonReport({ ...inventedLesson(truth, at), margins })
      const row = first.comparisons[0]!.metrics.find((each) => each.metric === metric)!
      if (row.shotsNeeded === null) continue
      promised.push(row.shotsNeeded)
      const blocks = truth.blocks.map(() => row.shotsNeeded!)
      const steps = blocks.map((_, b) => (b === 0 ? 0 : change))
      const again: Truth = {
        ...truth,
        blocks,
        ...(metric === 'clubSpeedMps' ? { speedStepMph: steps } : { efficiencyStep: steps }),
      }
      const findings = quickFindings({ ...inventedLesson(again, at + 1), margins })
      if (findings.some((f) => f.cells?.some((cell) => cell.metric === metric && cell.isSure))) shown++
    }
    promised.sort((a, b) => a - b)
    return {
      name: title,
      promises: promised.length,
      middle: promised[Math.floor(promised.length / 2)] ?? 0,
      percent: (100 * shown) / Math.max(1, promised.length),
      shown,
    }
  })
  print(
    worldTable(
      [
        'change worth having',
        'lessons with a promise',
        'promised shots a block (middle)',
        'shown with that many',
      ],
      found.map((o) => [o.name, o.promises, o.middle, share(o.shown, o.promises)]),
    ),
  )
  return found
}
