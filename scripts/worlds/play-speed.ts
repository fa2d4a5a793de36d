import { playSpeedReport } from '../../shared-core/change/play-speed-report.ts'
import { defaultDeviceError } from '../../shared-core/impact/device-error.ts'
import { mersenneGenerator } from '../../shared-core/statistics/generator.ts'
import { mph, normalFrom } from './support/invented-lesson.ts'
import { share, worldTable } from './support/world.ts'
import type { WorldRun } from './support/world.ts'

export const name = 'Play speed: bends of known place'

/** Where the ball is fastest, and by how much ball speed falls with the square of the distance from it, mph per mph². */
const bends = [
  { bestMph: 92, fallPerMph2: 0.004 },
  { bestMph: 92, fallPerMph2: 0.009 },
  { bestMph: 90, fallPerMph2: 0.018 },
  { bestMph: 90, fallPerMph2: 0.06 },
]
const devices = [
  { clubSpeedShare: 0.01, ballSpeedShare: 0.005 },
  { clubSpeedShare: 0.02, ballSpeedShare: 0.01 },
]

export interface Outcome {
  spoken: number
  covered: number
  /** The speed given is not above the true best. */
  slowEnough: number
}

/** Forty swings over 75 to 105 mph; the interval of the best speed must cover the truth, and never err towards danger. */
export function run({ small, seed, print }: WorldRun): Outcome {
  const lessons = small ? 25 : 200
  const all = { spoken: 0, covered: 0, slowEnough: 0 }
  const rows: (string | number)[][] = []
  for (const [i, { bestMph, fallPerMph2 }] of bends.entries()) {
    for (const device of devices) {
      const row = { spoken: 0, covered: 0, slowEnough: 0 }
      for (let k = 0; k < lessons; k++) {
        const uniform = mersenneGenerator(seed + 1000 * i + k)
        const normal = normalFrom(uniform)
        const shots = Array.from({ length: 40 }, () => {
          const speed = 75 + 30 * uniform()
          const ball = bestMph * 1.46 - fallPerMph2 * (speed - bestMph) ** 2 + 0.02 * speed * normal()
          return {
            club: 'driver',
            clubSpeedMps: speed * mph * (1 + device.clubSpeedShare * normal()),
            ballSpeedMps: ball * mph * (1 + device.ballSpeedShare * normal()),
          }
        })
        const report = playSpeedReport({
          blocks: [{ label: 'A', shots }],
          options: { deviceError: { ...defaultDeviceError, ...device }, replicates: 400 },
        })
        if (report.bestCi95 === null || report.suggestedMps === null) continue
        const truth = bestMph * mph
        row.spoken += 1
        if (report.bestCi95[0] <= truth && truth <= report.bestCi95[1]) row.covered += 1
        if (report.suggestedMps[0] <= truth) row.slowEnough += 1
      }
      rows.push([
        `${bestMph} mph, ${fallPerMph2} mph/mph²`,
        `${100 * device.clubSpeedShare} %`,
        share(row.spoken, lessons),
        share(row.covered, row.spoken),
        share(row.slowEnough, row.spoken),
      ])
      for (const key of ['spoken', 'covered', 'slowEnough'] as const) all[key] += row[key]
    }
  }
  print(
    worldTable(
      ['best speed, bend', 'club speed error', 'spoken of', 'interval covers', 'lower end not too fast'],
      rows,
    ),
  )
  return all
}
