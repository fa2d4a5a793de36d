import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { defaultSetupError } from '../../../shared-core/change/metric-noise.ts'
import { defaultDeviceError } from '../../../shared-core/impact/device-error.ts'
import { lessonReport } from '../../../shared-core/report/lesson-report.ts'
import { readingNotes } from '../../../shared-core/report/reading-notes.ts'
import { reportShot } from '../../../shared-core/report/report-shot.ts'
import type { ReportInput, ReportShot } from '../../../shared-core/report/report-input.ts'
import { readShots } from '../../../shared-core/shots/read-shots.ts'

/** A lesson of shots as a file gives them, with the coach's word on the doubtful ones. */
const shotsOf = (
  rows: readonly (readonly [club: number, ball: number])[],
  isTrusted: boolean,
): ReportShot[] =>
  readShots(
    [
      'Shot,Club,Club Speed (mph),Ball Speed (mph)',
      ...rows.map(([c, b], k) => `${k + 1},Driver,${c},${b}`),
    ].join('\n'),
  ).shots.map((shot, k) => reportShot({ ...shot, id: `s${k}`, isTrusted }, []))
const inputOf = (blocks: ReportShot[][], baseline = 0): ReportInput => ({
  lesson: {
    label: 'Lesson',
    date: '2026-05-01',
    air: { temperatureC: null, pressureHpa: null, altitudeM: null, humidityPercent: null },
    blocks: blocks.map((shots, i) => ({
      id: `b${i}`,
      label: `Block ${i + 1}`,
      isBaseline: i === baseline,
      shots: shots.map((s) => ({ ...s, id: `${i}${s.id}` })),
    })),
  },
  earlier: [],
  ownEfficiencies: {},
  deviceError: defaultDeviceError,
  setupError: defaultSetupError,
  margins: {},
  units: 'mph-yd',
  cueLabels: {},
})

const plain = fc.array(fc.tuple(fc.integer({ min: 88, max: 98 }), fc.integer({ min: 128, max: 136 })), {
  minLength: 6,
  maxLength: 12,
})
/** Speeds that no device can mean: ball over club speed far above what an impact gives. */
const impossible = fc.array(fc.tuple(fc.integer({ min: 88, max: 98 }), fc.integer({ min: 170, max: 190 })), {
  minLength: 1,
  maxLength: 2,
})

describe('values that cannot be', () => {
  it('take no part until the coach says so, and the report says how many and why', () => {
    fc.assert(
      fc.property(plain, impossible, (good, bad) => {
        const withBad = shotsOf([...good, ...bad], false)
        const withheld = withBad.filter((s) => (s.withheld ?? []).length > 0)
        expect(withheld).toHaveLength(bad.length)
        const speeds = (report: ReturnType<typeof lessonReport>, missing: number) =>
          report.blocks.map((b) => {
            const club = b.metrics.find((m) => m.metric === 'clubSpeedMps')!
            expect(club.missing).toBe(missing)
            return { ...club, missing: 0 }
          })
        const alone = inputOf([shotsOf(good, false)])
        // The numbers of the block are those of the good shots.
        expect(speeds(lessonReport(inputOf([withBad])), bad.length)).toEqual(speeds(lessonReport(alone), 0))
        const notes = readingNotes(inputOf([withBad]).lesson)
        expect(
          notes.some((n) => n.includes(bad.length === 1 ? '1' : String(bad.length)) && /club speed/.test(n)),
        ).toBe(true)
        // With the coach's word they count.
        const trusted = shotsOf([...good, ...bad], true)
        expect(trusted.every((s) => (s.withheld ?? []).length === 0)).toBe(true)
        expect(readingNotes(inputOf([trusted]).lesson)).toEqual([])
      }),
      { numRuns: 40, seed: 90_020 },
    )
  })

  it('"no shot has both speeds" is said where no shot has both, and only there', () => {
    const said = (blocks: ReportShot[][]) =>
      lessonReport(inputOf(blocks)).findings.some((f) =>
        /No shot has both club speed and ball speed/.test(f.sentence),
      )
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('both', 'club', 'ball'), { minLength: 3, maxLength: 10 }),
        (kinds) => {
          const shots = kinds.map((kind, k): ReportShot => ({
            id: `s${k}`,
            club: 'driver',
            cues: [],
            isLeftOut: false,
            clubSpeedMps: kind === 'ball' ? null : 41 + (k % 4),
            ballSpeedMps: kind === 'club' ? null : 59 + (k % 4),
          }))
          expect(said([shots])).toBe(!kinds.includes('both'))
        },
      ),
      { numRuns: 60, seed: 90_021 },
    )
    // Values taken out are no missing ones.
    expect(
      said([
        shotsOf(
          [
            [93, 180],
            [94, 181],
            [95, 182],
          ],
          false,
        ),
      ]),
    ).toBe(false)
  })
})

describe('a block that was hit before the baseline', () => {
  it('is never told as later, as changed to or as come with', () => {
    const shots = (middle: number) =>
      shotsOf(
        Array.from(
          { length: 10 },
          (_, k) => [middle + ((k * 7) % 5) / 2, Math.round(1.45 * middle) + ((k * 3) % 4)] as const,
        ),
        false,
      )
    const report = lessonReport(inputOf([shots(80), shots(92)], 1))
    const words = report.findings.filter((f) => /Block 1/.test(f.sentence)).map((f) => f.sentence)
    expect(words.length).toBeGreaterThan(0)
    expect(words.join(' ')).toMatch(/before/)
    for (const sentence of words) {
      expect(sentence).not.toMatch(/\blater\b|came with|changed to|rose with|after it/i)
    }
    // The other way round the same numbers are told as what came with the step.
    const usual = lessonReport(inputOf([shots(80), shots(92)], 0))
    expect(usual.findings.some((f) => /Block 2/.test(f.sentence) && !/before it/.test(f.sentence))).toBe(true)
  })
})
