import { lessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { ReportInput, ReportShot } from '../../../shared-core/report/report-input.ts'
import { mersenneGenerator } from '../../../shared-core/statistics/generator.ts'
import { unitSystems } from '../../../shared-core/units.ts'
import { goodDevice, inventedLesson } from './invented-lesson.ts'
import type { Truth } from './invented-lesson.ts'

const names = ['Baseline', 'Soft shoulders', 'Firm lead side', 'As before', 'Other grip', 'Swish']

/**
 * A lesson as odd as lessons are, the same for the same seed: other clubs and levels of play, blocks of one to twenty shots, drift,
 * mishits, lost and flagged readings, earlier lessons, a child's speed, a device that misreads, cues, a block hit as before.
 */
export function variedLesson(seed: number): { input: ReportInput; truth: Truth } {
  const uniform = mersenneGenerator(seed)
  const pick = <T>(list: readonly T[]): T => list[Math.floor(uniform() * list.length)]!
  const chance = (share: number): boolean => uniform() < share
  const [club, speedMph, efficiency] = pick([
    ['driver', 92, 1.42],
    ['driver', 108, 1.49],
    ['driver', 49, 1.3],
    ['driver', 78, 1.3],
    ['7-iron', 76, 1.31],
    ['7-iron', 62, 1.2],
    ['pitching-wedge', 70, 1.22],
    ['driver', 95, 1.58],
  ] as const)
  const count = pick([1, 2, 2, 3, 3, 4, 5])
  const blocks = Array.from({ length: count }, () => pick([1, 3, 5, 6, 8, 10, 12, 15, 20]))
  const step = (size: number) =>
    blocks.map((_, i) => (i === 0 || chance(0.5) ? 0 : size * (2 * uniform() - 0.6)))
  const truth: Truth = {
    club,
    speedMph,
    efficiency,
    blocks,
    labels: blocks.map((_, i) => names[i]!),
    speedSdMph: pick([0.8, 1.5, 3]),
    efficiencySd: pick([0.01, 0.025, 0.05]),
    speedStepMph: step(pick([0, 3, 8])),
    efficiencyStep: step(pick([0, 0.04, 0.12])),
    driftMph: pick([0, 0, 2, -3, 6]),
    autocorrelation: pick([0, 0, 0.3]),
    mishits: pick([0, 0.1]),
    withDirection: chance(0.5),
    withFace: chance(0.3),
    withCues: chance(0.5),
    launchDeg: chance(0.2) ? null : club === 'driver' ? 12 : 18,
    spinRpm: club === 'driver' ? 2700 : 6500,
    ...(chance(0.5) ? { error: goodDevice } : {}),
  }
  const input = inventedLesson(truth, seed + 1)
  const lost = pick([0, 0, 0.1, 0.5])
  const marred = (shot: ReportShot): ReportShot => ({
    ...shot,
    clubSpeedMps: chance(lost) ? null : shot.clubSpeedMps,
    carryM: chance(lost) ? null : shot.carryM,
    isLeftOut: chance(0.05),
  })
  const lesson = {
    ...input.lesson,
    blocks: input.lesson.blocks.map((block) => ({ ...block, shots: block.shots.map(marred) })),
  }
  const earlier = chance(0.4)
    ? [0, 1].map((k) => ({
        ...inventedLesson({ ...truth, speedMph: speedMph - 1 }, seed + 100 + k).lesson,
        label: `Lesson ${k + 1}`,
        date: `2026-04-1${k}`,
      }))
    : []
  return {
    truth,
    input: {
      ...input,
      lesson,
      earlier,
      units: pick(unitSystems),
      cueLabels: { grip: 'Grip', release: 'Release' },
    },
  }
}

export const variedReport = (seed: number): LessonReport => lessonReport(variedLesson(seed).input)
