import { describe, expect, it } from 'vitest'
import { defaultSetupError } from '../../../shared-core/change/metric-noise.ts'
import { defaultDeviceError } from '../../../shared-core/impact/device-error.ts'
import type { ReportLesson } from '../../../shared-core/report/report-input.ts'
import { seasonView, type SeasonLesson } from '../../../shared-core/report/season-view.ts'

const noAir = { temperatureC: null, pressureHpa: null, altitudeM: null, humidityPercent: null }
const hit = (club: string, speed: number, n = 12) =>
  Array.from({ length: n }, (_, i) => {
    const clubSpeedMps = speed + 0.3 * (((i * 5) % 7) - 3)
    return {
      id: `${club}${i}`,
      club,
      cues: [],
      isLeftOut: false,
      clubSpeedMps,
      ballSpeedMps: 1.42 * clubSpeedMps,
    }
  })
const lesson = (date: string, shots: ReturnType<typeof hit>, plan: SeasonLesson['plan'] = null) => ({
  lesson: { id: date, date, title: '', nextFocus: '', plan },
  report: {
    label: date,
    date,
    air: noAir,
    blocks: [{ id: date, label: 'All', isBaseline: true, shots }],
  } satisfies ReportLesson,
})
const view = (lessons: ReturnType<typeof lesson>[]) =>
  seasonView({
    student: { id: 's', name: 'Robin Testing', language: 'en' },
    lessons,
    units: 'mph-yd',
    deviceError: defaultDeviceError,
    setupError: defaultSetupError,
    margins: {},
  })
const plan = { items: ['Slow swings'], note: '', outcome: 'Most days' }

describe('a season', () => {
  it('sets each plan against what the next lesson with that club shows', () => {
    const { clubs } = view([
      lesson('2026-05-02', hit('driver', 40), plan),
      lesson('2026-05-09', [...hit('driver', 44), ...hit('7-iron', 35, 6)]),
    ])
    expect(clubs.map((c) => [c.club, c.plans.length])).toEqual([
      ['driver', 1],
      ['7-iron', 0],
    ])
    const [result] = clubs[0]!.plans
    expect(result).toMatchObject({ plannedOn: '2026-05-02', shownOn: '2026-05-09' })
    const speed = result!.findings.find((f) => f.metric === 'clubSpeedMps')!
    expect(speed.sentence).toMatch(
      /^Club speed was \d(\.\d)? mph faster at the start of the lesson of 9 May 2026 than at the end of the lesson of 2 May 2026/,
    )
    expect(speed.sentence).toContain('came after the practice; other things may have changed too')
    expect(speed.howSure).toContain('the device placed anew')
  })

  it('claims nothing of a plan where the next lesson shows the same, or too little', () => {
    const findings = (speed: number, n: number) =>
      view([lesson('2026-05-02', hit('driver', 40), plan), lesson('2026-05-09', hit('driver', speed, n))])
        .clubs[0]!.plans[0]!.findings
    expect(findings(40.4, 12).some((f) => f.isSure)).toBe(false)
    expect(findings(44, 1)).toMatchObject([{ verdict: 'too-few', isSure: false }])
  })

  it('speaks of no plan where none was given, and of no club where none was hit', () => {
    expect(
      view([lesson('2026-05-02', hit('driver', 40)), lesson('2026-05-09', hit('driver', 44))]).clubs[0]!
        .plans,
    ).toEqual([])
    expect(view([lesson('2026-05-02', [], plan)]).clubs).toEqual([])
  })
})
