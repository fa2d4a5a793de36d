import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { defaultSetupError } from '../../../shared-core/change/metric-noise.ts'
import { defaultDeviceError } from '../../../shared-core/impact/device-error.ts'
import { lessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { ReportInput, ReportShot } from '../../../shared-core/report/report-input.ts'

const noAir = { temperatureC: null, pressureHpa: null, altitudeM: null, humidityPercent: null }
const inputOf = (blocks: ReportShot[][], earlier: ReportInput['earlier'] = []): ReportInput => ({
  lesson: {
    label: 'Lesson',
    date: '2026-05-01',
    air: noAir,
    blocks: blocks.map((shots, i) => ({ id: `b${i}`, label: `Block ${i + 1}`, isBaseline: i === 0, shots })),
  },
  earlier,
  ownEfficiencies: {},
  deviceError: defaultDeviceError,
  setupError: defaultSetupError,
  margins: {},
  units: 'mph-yd',
  cueLabels: {},
})
const shot = (
  id: number,
  club: string | null,
  clubSpeedMps: number | null,
  ballSpeedMps: number | null,
): ReportShot => ({
  id: `s${id}`,
  club,
  cues: [],
  isLeftOut: false,
  clubSpeedMps,
  ballSpeedMps,
})
const hasNaN = (value: unknown): boolean =>
  typeof value === 'number'
    ? !Number.isFinite(value)
    : typeof value === 'object' && value !== null && Object.values(value).some(hasNaN)
const claims = (report: ReturnType<typeof lessonReport>) =>
  report.findings.filter((f) => f.isSure && !f.verdict.endsWith('-settled')).map((f) => f.sentence)

describe('the report of a lesson', () => {
  it.each<[string, ReportShot[][]]>([
    ['no shot at all', [[], []]],
    ['three shots', [[shot(1, 'driver', 40, 55), shot(2, 'driver', 41, 56)], [shot(3, 'driver', 42, 60)]]],
    [
      'identical shots',
      [
        Array.from({ length: 6 }, (_, i) => shot(i, 'driver', 40, 58)),
        Array.from({ length: 6 }, (_, i) => shot(10 + i, 'driver', 40, 58)),
      ],
    ],
    ['no club speed', [[1, 2, 3, 4, 5, 6].map((i) => shot(i, 'driver', null, 55 + (i % 3)))]],
    [
      'a mixed bag of clubs',
      [
        ['driver', '7-iron', 'pitching-wedge', null].map((club, i) => shot(i, club, 30 + i, 40 + i)),
        ['3-wood', 'sand-wedge'].map((club, i) => shot(9 + i, club, 30 + i, 40 + i)),
      ],
    ],
  ])('of %s makes no false claim and speaks in sentences', (_, blocks) => {
    const report = lessonReport(inputOf(blocks))
    expect(claims(report)).toEqual([])
    expect(hasNaN(report)).toBe(false)
    for (const finding of report.findings) {
      expect(finding.sentence).toMatch(/^\S.*[.…]$/s)
      expect(finding.howWeKnow.method.length).toBeGreaterThan(3)
    }
  })

  it('without shots claims nothing, whatever was hit in the lesson before', () => {
    const before = inputOf([
      [1, 2, 3, 4, 5, 6, 7, 8, 9].map((i) => shot(i, 'driver', 40 + i / 10, 58)),
    ]).lesson
    expect(lessonReport(inputOf([[], []], [before])).findings).toEqual([])
    const leftOut = [1, 2, 3].map((i) => ({ ...shot(i, 'driver', 40, 58), isLeftOut: true }))
    expect(lessonReport(inputOf([leftOut], [before])).findings).toEqual([])
  })

  it('where the strike is the leak, no finding advises speed, whatever the shots', () => {
    const reading = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true })
    const swings = fc.array(fc.tuple(reading(36, 48), reading(1.05, 1.38)), { minLength: 6, maxLength: 20 })
    let leaks = 0
    fc.assert(
      fc.property(fc.array(swings, { minLength: 1, maxLength: 2 }), (blocks) => {
        let id = 0
        const report = lessonReport(
          inputOf(
            blocks.map((b) => b.map(([speed, ratio]) => shot((id += 1), 'driver', speed, speed * ratio))),
          ),
        )
        if (report.holdingBack?.verdict !== 'strike' && !report.holdingBack?.isStrikeFirst) return
        leaks += 1
        for (const finding of report.findings) {
          expect(finding.sentence).not.toMatch(
            /effort|To find out|(?<!no reason to )swing (faster|harder)|Speed holds/,
          )
          expect(finding.caution ?? '').not.toMatch(/speed work/)
        }
      }),
      { numRuns: 25 },
    )
    expect(leaks).toBeGreaterThan(12)
  })

  it('puts beside a change after an unusual baseline what would have come by itself', () => {
    const hit = (speed: number, from: number) =>
      Array.from({ length: 10 }, (_, i) =>
        shot(from + i, 'driver', speed + 0.5 * ((i * 3) % 5) - 1, 1.4 * (speed + 0.5 * ((i * 3) % 5) - 1)),
      )
    const earlier = [42, 43, 41.5, 42.5, 44, 42.2].map((speed, i) => ({
      ...inputOf([hit(speed, 0)]).lesson,
      date: `2026-04-0${i + 1}`,
    }))
    const slow = lessonReport(inputOf([hit(38, 0), hit(42, 20)], earlier))
    const finding = slow.findings.find((f) => f.key === 'change:regression-to-mean:clubSpeedMps')
    expect(finding).toMatchObject({ isMain: true, isSure: false, verdict: 'regression-to-mean' })
    expect(finding!.sentence).toMatch(/\d(\.\d)? mph faster would have come by itself/)
    const usual = lessonReport(inputOf([hit(46, 0), hit(50, 20)], earlier))
    expect(usual.findings.some((f) => f.verdict === 'regression-to-mean')).toBe(false)
  })

  it('says that the shots came closer together, where they did', () => {
    const wide = Array.from({ length: 20 }, (_, i) => shot(i, 'driver', 40 + ((i * 7) % 20) / 4, 58))
    const close = Array.from({ length: 20 }, (_, i) => shot(30 + i, 'driver', 42 + ((i * 7) % 20) / 40, 58))
    const report = lessonReport(inputOf([wide, close]))
    const finding = report.findings.find(
      (f) => f.verdict === 'spread-steadier' && f.metric === 'clubSpeedMps',
    )
    expect(finding?.sentence).toMatch(/^Club speed: the shots of “Block 2” lie closer together/)
    expect(finding?.isMain).toBe(true)
  })

  it('says what it can’t say when no club speed was recorded', () => {
    const report = lessonReport(
      inputOf([[1, 2, 3, 4, 5, 6].map((i) => shot(i, 'driver', null, 55 + (i % 3)))]),
    )
    expect(
      report.shots.every((s) => s.efficiency === null && /no usable club speed/.test(s.reason ?? '')),
    ).toBe(true)
    expect(report.holdingBack?.verdict).toBe('cannot-tell')
  })

  it('is the same every time, and gives each finding a key of its own', () => {
    const blocks = [0, 1].map((b) =>
      Array.from({ length: 7 }, (_, i) =>
        shot(b * 10 + i, 'driver', 40 + b + 0.2 * ((i * 3) % 7), 55 + 3 * b + 0.3 * ((i * 5) % 7)),
      ),
    )
    const [first, second] = [lessonReport(inputOf(blocks)), lessonReport(inputOf(blocks))]
    expect(second).toEqual(first)
    const keys = first.findings.map((f) => f.key)
    expect(new Set(keys).size).toBe(keys.length)
  })

  it('holds no NaN and no infinity, whatever finite readings come in', () => {
    const reading = fc.option(fc.double({ min: -200, max: 400, noNaN: true }), { nil: null })
    const anyShot = fc.record({
      club: fc.constantFrom('driver', '7-iron', 'putter', 'my own club', null),
      c: reading,
      b: reading,
    })
    fc.assert(
      fc.property(fc.array(fc.array(anyShot, { maxLength: 7 }), { maxLength: 3 }), (blocks) => {
        let id = 0
        expect(
          hasNaN(
            lessonReport(
              inputOf(blocks.map((b) => b.map(({ club, c, b: ball }) => shot((id += 1), club, c, ball)))),
            ),
          ),
        ).toBe(false)
      }),
      {
        numRuns: 40,
        examples: [
          [
            [
              [
                { club: 'driver', c: 0, b: null },
                { club: 'driver', c: 0, b: null },
              ],
              [
                { club: 'driver', c: 0, b: null },
                { club: 'driver', c: 3e-162, b: null },
              ],
            ],
          ],
        ],
      },
    )
  })
})
