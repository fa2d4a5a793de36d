import { describe, expect, test } from 'vitest'
import { defaultDeviceError } from '../../shared-core/impact/device-error.ts'
import type { ReportShot } from '../../shared-core/report/report-input.ts'
import { withoutNames, worksText, worksWarnings } from '../../shared-core/students/what-works-words.ts'
import { whatWorks, type WhatWorks, type WorksStudent } from '../../shared-core/students/what-works.ts'

const air = { temperatureC: null, pressureHpa: null, altitudeM: null, humidityPercent: null }
const wobble = [-0.3, 0.2, 0.1, -0.1, 0.3, -0.2]
const shots = (speed: number, cues: readonly string[] = []): ReportShot[] =>
  wobble.map((off, i) => ({
    id: `${speed}-${i}`,
    club: 'driver',
    cues,
    isLeftOut: false,
    clubSpeedMps: speed + off,
    ballSpeedMps: null,
    carryM: null,
  }))
const student = (name: string, blocks: [string, ReportShot[]][]): WorksStudent => ({
  id: name,
  name,
  lessons: [
    {
      label: 'a lesson',
      date: '2026-05-02',
      air,
      blocks: blocks.map(([label, hit], i) => ({ id: label, label, isBaseline: i === 0, shots: hit })),
    },
  ],
})
const works = (students: WorksStudent[], withoutConsent = 0): WhatWorks =>
  whatWorks({
    ...{ students, withoutConsent, units: 'mps-m', cueLabels: { firm: 'Bracing: firm' } },
    deviceError: defaultDeviceError,
  })
const changes = [1.4, 1.1, 0.9, 1.6, 1.2, -0.1, 1.3, 0.8]
const named = (label: string, values: readonly number[], from = 0) =>
  values.map((change, i) =>
    student(`Robin ${i + from}`, [
      ['Baseline', shots(38 + i)],
      [label, shots(38 + i + change)],
    ]),
  )
const speedOf = (report: WhatWorks, label: string) => {
  const row = report.rows.find((r) => r.label.toLowerCase() === label.toLowerCase())!
  return { row, found: row.metrics.find((m) => m.metric === 'clubSpeedMps')! }
}

describe('what works with my students', () => {
  test('holds each student against that student’s own baseline, and counts those who went the same way', () => {
    const report = works(named('Firm lead side', changes))
    const { row, found } = speedOf(report, 'Firm lead side')
    expect(found.students.map((s) => s.change)).toEqual(
      changes.toSorted((a, b) => a - b).map((v) => expect.closeTo(v, 9)),
    )
    expect(found.sameWay).toBe(7)
    expect(found.verdict).toBe('came-with')
    const { short, sentence, howSure } = worksText(row, found, { units: 'mps-m' }, report.lookedAt)
    expect(short).toMatch(/^7 of 8 students, \+1\.0\d? m\/s \(\+0\.\d+ to \+1\.\d+ m\/s\)$/)
    expect(sentence).toContain('One more student like these may find')
    expect(howSure).toContain('not that it came from it')
    expect(howSure).toContain('what any later block brings is in it')
  })

  test('takes one focus written in two ways as one, and leaves out blocks that nobody named', () => {
    const report = works([
      ...named('Firm lead side', changes.slice(0, 2)),
      ...named(' firm  LEAD side', changes.slice(2, 5), 2),
      ...named('Block 2', changes, 5),
    ])
    expect(report.rows.map((r) => [r.key, r.students])).toEqual([['firm lead side', 5]])
  })

  test('says nothing of fewer than four students, and says that', () => {
    const report = works(named('Firm lead side', changes.slice(0, 3)))
    const { row, found } = speedOf(report, 'Firm lead side')
    expect(found).toMatchObject({ verdict: 'too-few', summary: null, pAdjusted: null })
    expect(report.lookedAt).toBe(0)
    const { sentence, isSure } = worksText(row, found, { units: 'mps-m' }, 0)
    expect(sentence).toBe(
      'Club speed with “Firm lead side”: 3 students so far; from 4 on something can be said.',
    )
    expect(isSure).toBe(false)
    expect(worksWarnings(report).join(' ')).toContain('Few students (3 at most)')
  })

  test('does not credit a focus with what every later block brought', () => {
    const report = works(
      changes.map((change, i) =>
        student(`Robin ${i}`, [
          ['Baseline', shots(38)],
          ['Firm lead side', shots(38 + change)],
          ['Soft shoulders', shots(38 + change + 0.1)],
        ]),
      ),
    )
    const { row, found } = speedOf(report, 'Firm lead side')
    expect(found.verdict).toBe('as-other-blocks')
    expect(worksText(row, found, { units: 'mps-m' }, report.lookedAt).sentence).toContain(
      'but not clearly otherwise than in the same lessons’ other blocks after the baseline (the difference is −0.1',
    )
  })

  test('credits a focus where it differs from the same lessons’ other blocks, too', () => {
    const report = works(
      changes.map((change, i) =>
        student(`Robin ${i}`, [
          ['Baseline', shots(38)],
          ['Firm lead side', shots(38 + change)],
          ['Soft shoulders', shots(38 + 0.02 * i)],
        ]),
      ),
    )
    const { row, found } = speedOf(report, 'Firm lead side')
    expect(found.verdict).toBe('came-with')
    expect(found.againstOthers!.k).toBe(changes.length)
    expect(worksText(row, found, { units: 'mps-m' }, report.lookedAt).howSure).not.toContain(
      'any later block',
    )
  })

  test('holds swings with a cue against baseline swings without it', () => {
    const report = works(
      changes.map((change, i) =>
        student(`Robin ${i}`, [
          ['Baseline', [...shots(38), ...shots(50, ['firm']).slice(0, 2)]],
          ['', shots(38 + change, ['firm'])],
        ]),
      ),
    )
    expect(report.rows.map((r) => [r.kind, r.label])).toEqual([['cue', 'Bracing: firm']])
    const { found } = speedOf(report, 'Bracing: firm')
    expect(found.students.at(-1)!.change).toBeCloseTo(1.6, 9)
    expect(found.students.at(-1)!.n).toEqual([6, 6])
  })

  test('one budget for all that is listed: more focuses make each harder to be sure of', () => {
    const alone = works(named('A', changes))
    const p = speedOf(alone, 'A').found.pAdjusted!
    const many = works(
      ['A', 'B', 'C', 'D', 'E'].flatMap((label, k) =>
        named(label, k === 0 ? changes : changes.map((_, i) => (i % 2 ? 0.4 : -0.4)), 10 * k),
      ),
    )
    expect(many.lookedAt).toBe(5)
    expect(speedOf(many, 'A').found.pAdjusted!).toBeCloseTo(Math.min(1, 5 * p), 9)
  })

  test('without names has none in it anywhere', () => {
    const text = JSON.stringify(withoutNames(works(named('Firm lead side', changes))))
    expect(text).not.toContain('Robin')
    expect(text).toContain('Student 8')
  })
})
