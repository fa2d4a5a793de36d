import { holdingBack } from '../../shared-core/impact/holding-back.ts'
import { mersenneGenerator } from '../../shared-core/statistics/generator.ts'
import { inventedLesson } from './support/invented-lesson.ts'
import type { Truth } from './support/invented-lesson.ts'
import { share, worldTable } from './support/world.ts'
import type { WorldRun } from './support/world.ts'

export const name = 'Strike or speed: what is said where the truth is known'

interface Row {
  name: string
  truths: Partial<Truth>[]
  must: Partial<Record<'strike' | 'speed', { least?: number; most?: number }>>
}

const spread = [0.02, 0.03, 0.05]
const driver = (efficiency: number, efficiencySd = 0.02, speedMph = 90): Partial<Truth> => ({
  efficiency,
  efficiencySd,
  speedMph,
})
const other = (club: string, speedMph: number, efficiency: number, launchDeg: number, spinRpm: number) => ({
  club,
  speedMph,
  efficiency,
  efficiencySd: 0.02,
  launchDeg,
  spinRpm,
})

export const rows: Row[] = [
  {
    name: 'driver 90 mph, 1.30, SD 0.02 to 0.05',
    truths: spread.map((sd) => driver(1.3, sd)),
    must: { strike: { least: 90 }, speed: { most: 0 } },
  },
  {
    name: 'driver 90 mph, 1.47 to 1.49',
    truths: [1.47, 1.48, 1.49].flatMap((e) => [driver(e, 0.015), driver(e, 0.02)]),
    must: { speed: { least: 80 }, strike: { most: 1 } },
  },
  {
    name: '7-iron 1.33 and wedge 1.23, as the best do',
    truths: [other('7-iron', 75, 1.33, 16.3, 7100), other('pitching-wedge', 70, 1.23, 24.2, 9300)],
    must: { speed: { least: 70 }, strike: { most: 2 } },
  },
  {
    name: 'the same two, 0.10 below',
    truths: [other('7-iron', 75, 1.23, 16.3, 7100), other('pitching-wedge', 70, 1.13, 24.2, 9300)],
    must: { strike: { least: 90 } },
  },
  {
    name: 'strong-lofted 7-iron (1.42), player 1.34',
    truths: [other('7-iron', 75, 1.34, 11.6, 5200)],
    must: { speed: { most: 5 } },
  },
  {
    name: 'child, 49 mph driver at 1.30',
    truths: [driver(1.3, 0.02, 49), driver(1.3, 0.04, 49)],
    must: { strike: { least: 90 } },
  },
  {
    name: 'driver 1.41, in between',
    truths: spread.map((sd) => driver(1.41, sd)),
    must: { speed: { most: 5 } },
  },
]

const devices = [
  { name: '1 % / 0.5 %', error: { clubSpeedShare: 0.01, ballSpeedShare: 0.005 } },
  { name: '2 % / 1 %', error: { clubSpeedShare: 0.02, ballSpeedShare: 0.01 } },
]
const histories = [0, 24, 72]

export interface Outcome {
  name: string
  device: string
  history: number
  strike: number
  speed: number
  holds: boolean
}

const holdsWithin = (value: number, limits: { least?: number; most?: number } = {}): boolean =>
  value >= (limits.least ?? 0) && value <= (limits.most ?? 100)

const efficienciesOf = (
  truth: Partial<Truth>,
  shots: number,
  seed: number,
  error: Truth['error'],
): number[] =>
  inventedLesson({ blocks: [shots], ...truth, error }, seed)
    .lesson.blocks.flatMap((block) => block.shots)
    .map((shot) => shot.ballSpeedMps! / shot.clubSpeedMps!)

export function run({ small, seed, print }: WorldRun): Outcome[] {
  const lessons = small ? 24 : 240
  const outcomes: Outcome[] = []
  let world = 0
  for (const row of rows) {
    for (const device of devices) {
      for (const history of histories) {
        const said = { strike: 0, speed: 0 }
        for (let k = 0; k < lessons; k++) {
          const truth = row.truths[k % row.truths.length]!
          const at = seed + 10_000 * world + 2 * k
          const input = inventedLesson({ blocks: [10], ...truth, error: device.error }, at)
          const own = history === 0 ? [] : efficienciesOf(truth, history, at + 1, device.error)
          const held = holdingBack(input.lesson.blocks[0]!.shots, {
            generator: mersenneGenerator(at),
            ownEfficiencies: own,
            error: input.deviceError,
          })
          if (held.verdict !== 'cannot-tell') said[held.verdict] += 1
        }
        const [strike, speed] = [(100 * said.strike) / lessons, (100 * said.speed) / lessons]
        outcomes.push({
          name: row.name,
          device: device.name,
          history,
          strike,
          speed,
          holds: holdsWithin(strike, row.must.strike) && holdsWithin(speed, row.must.speed),
        })
        world += 1
      }
    }
  }
  const limits = (row: Row) =>
    (['strike', 'speed'] as const)
      .flatMap((what) => {
        const { least, most } = row.must[what] ?? {}
        return [
          least === undefined ? '' : `${what} ≥ ${least} %`,
          most === undefined ? '' : `${what} ≤ ${most} %`,
        ]
      })
      .filter(Boolean)
      .join(', ')
  print(
    worldTable(
      ['truth', 'device (club/ball)', 'earlier shots', 'strike', 'speed', 'unsure', 'must say', 'holds'],
      outcomes.map((o) => [
        o.name,
        o.device,
        o.history,
        share(o.strike, 100),
        share(o.speed, 100),
        share(100 - o.strike - o.speed, 100),
        limits(rows.find((row) => row.name === o.name)!),
        o.holds ? 'yes' : 'no',
      ]),
    ),
  )
  print(`${lessons} lessons of 10 shots a row.`)
  return outcomes
}
