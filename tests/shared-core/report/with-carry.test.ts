import { describe, expect, it } from 'vitest'
import { flight } from '../../../shared-core/flight/flight.ts'
import { defaultDeviceError } from '../../../shared-core/impact/device-error.ts'
import type { ReportLesson, ReportShot } from '../../../shared-core/report/report-input.ts'
import { withCarry } from '../../../shared-core/report/with-carry.ts'

const noAir = { temperatureC: null, pressureHpa: null, altitudeM: null, humidityPercent: null }
const shot = (id: string, patch: Partial<ReportShot>): ReportShot => ({
  id,
  club: 'driver',
  cues: [],
  isLeftOut: false,
  ballSpeedMps: 65,
  launchDeg: 12,
  spinRpm: 2600,
  ...patch,
})
const lessonOf = (shots: ReportShot[], air: ReportLesson['air'] = noAir): ReportLesson => ({
  label: 'lesson',
  date: '2026-05-01',
  air,
  blocks: [{ id: 'b', label: 'b', isBaseline: true, shots }],
})
const carries = (lesson: ReportLesson, options: { inStandardAir?: boolean } = {}) => {
  const filled = withCarry(lesson, { deviceError: defaultDeviceError, ...options })
  return { carries: filled.lesson.blocks[0]!.shots.map((s) => s.carryM), computed: filled.computedClubs }
}

describe('carry in a lesson', () => {
  it('stays as the device gave it', () => {
    expect(carries(lessonOf([shot('a', { carryM: 190 })]))).toEqual({ carries: [190], computed: [] })
  })

  it('is computed, and said to be, where the device gave none at all with the club', () => {
    const result = carries(
      lessonOf([shot('a', { carryM: null }), shot('b', { club: '7-iron', carryM: 130 })]),
    )
    expect(result.computed).toEqual(['driver'])
    expect(result.carries[0]).toBeCloseTo(
      flight({ ballSpeedMps: 65, launchDeg: 12, spinRpm: 2600 }).carryM,
      6,
    )
    expect(result.carries[1]).toBe(130)
  })

  it('is never half measured and half computed with one club', () => {
    expect(carries(lessonOf([shot('a', { carryM: 190 }), shot('b', { carryM: null })])).carries).toEqual([
      190,
      null,
    ])
  })

  it('cannot be computed without a ball speed', () => {
    expect(carries(lessonOf([shot('a', { carryM: null, ballSpeedMps: null })]))).toEqual({
      carries: [null],
      computed: [],
    })
  })

  // Altitude makes the ball fly farther: +1.16 % a 1000 ft is a ball maker's rule (references, check 8).
  it('hit at altitude counts less in standard air, by about the published rule', () => {
    const high = lessonOf([shot('a', { carryM: 200 })], { ...noAir, altitudeM: 1609, temperatureC: 15 })
    const [carry] = carries(high, { inStandardAir: true }).carries
    const rule = 200 / (1 + 0.0116 * (1609 / 304.8))
    expect(carry!).toBeLessThan(200)
    expect(Math.abs(carry! - rule)).toBeLessThan(4)
  })

  it('is left alone in standard air when nothing is known of the day’s air', () => {
    expect(carries(lessonOf([shot('a', { carryM: 200 })]), { inStandardAir: true }).carries).toEqual([200])
  })
})
