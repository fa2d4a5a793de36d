import { minimalStandardGenerator } from '../../../shared-core/statistics/generator.ts'
import type { ReportLesson, ReportShot } from '../../../shared-core/report/report-input.ts'

const mphToMps = 0.44704
const ydToM = 0.9144

export interface InventedSeason {
  lessons: number
  shotsPerLesson: number
  blocksPerLesson: number
  /** Speeds to 0.1 mph and carries to whole yards, as devices write them: many equal values. Else every digit. */
  isRounded: boolean
}

/**
 * A driver season of an invented player, a little faster every lesson, with the scatter of a club golfer.
 * The same one every time.
 */
export const inventedLessons = (season: InventedSeason): ReportLesson[] => {
  const next = minimalStandardGenerator(7)
  const normal = () => Math.sqrt(-2 * Math.log(next() || 1e-12)) * Math.cos(2 * Math.PI * next())
  const rounded = (value: number, step: number) =>
    season.isRounded ? Math.round(value / step) * step : value
  const cues = ['tension-shoulders', 'brace-late', 'release-early']
  return Array.from({ length: season.lessons }, (_, l): ReportLesson => {
    const ofDay = 90 + 0.05 * l + 1.2 * normal()
    const perBlock = season.shotsPerLesson / season.blocksPerLesson
    return {
      label: `Lesson ${l + 1}`,
      air: { temperatureC: 18, pressureHpa: null, altitudeM: 120, humidityPercent: null },
      date: new Date(Date.UTC(2024, 0, 6 + 7 * l)).toISOString().slice(0, 10),
      blocks: Array.from({ length: season.blocksPerLesson }, (_, b) => ({
        id: `block-${l}-${b}`,
        label: b === 0 ? 'Baseline' : `Block ${b + 1}`,
        isBaseline: b === 0,
        shots: Array.from({ length: perBlock }, (_, s): ReportShot => {
          const clubMph = ofDay + 0.4 * b + 1.5 * normal()
          const efficiency = 1.44 + 0.005 * b - 0.03 * Math.abs(normal())
          const ballMph = clubMph * efficiency
          return {
            id: `shot-${l}-${b}-${s}`,
            club: 'driver',
            isLeftOut: false,
            cues: next() < 0.3 ? [cues[Math.floor(next() * cues.length)]!] : [],
            clubSpeedMps: rounded(clubMph, 0.1) * mphToMps,
            ballSpeedMps: rounded(ballMph, 0.1) * mphToMps,
            launchDeg: rounded(12 + 2 * normal(), 0.1),
            spinRpm: rounded(2900 + 400 * normal(), 1),
            launchDirectionDeg: rounded(2 * normal(), 0.1),
            spinAxisDeg: rounded(5 * normal(), 0.1),
            carryM: rounded(1.72 * ballMph - 15 + 4 * normal(), 1) * ydToM,
          }
        }),
      })),
    }
  })
}
