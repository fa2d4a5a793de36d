import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import type { Consent } from '../../shared-core/model/entities.ts'
import type { WhatWorks } from '../../shared-core/students/what-works.ts'
import { temporaryFolder } from './support/temporary-library.ts'
import { agreed } from './support/agreed.ts'

let folder: string
let library: Library
let studentIds: string[]

const saidYes: Consent = { ...agreed('a test'), coversFace: false, recordedAt: null }
const consent = (id: string, patch: Partial<Omit<Consent, 'recordedAt'>>) => {
  const { recordedAt: _recordedAt, ...asked } = { ...saidYes, ...patch }
  return library.ask('student.consent', { id, consent: asked })
}
const works = async () => (await library.ask('works.report', {})) as WhatWorks
const changes = [1, 2, 3, 2.5, 1.5]

beforeEach(async () => {
  folder = temporaryFolder()
  library = new Library({ folder: path.join(folder, 'library') })
  studentIds = []
  for (const [i, change] of changes.entries()) {
    const student = { name: `Robin ${i}`, side: 'right' as const, isMinor: i === 0, units: 'mph-yd' as const }
    const { id: studentId } = await library.ask('student.create', student)
    studentIds.push(studentId)
    await consent(studentId, { isGuardian: true })
    const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-02' })
    const rows = ['Baseline', 'Firm lead side'].flatMap((block, b) =>
      [0, 0.4, -0.4, 0.2].map((off) => `${block},Driver,${(88 + i + off + b * change).toFixed(1)},130`),
    )
    const file = path.join(folder, `${i}.csv`)
    fs.writeFileSync(file, ['Block,Club,Club Speed (mph),Ball Speed (mph)', ...rows, ''].join('\n'))
    await library.ask('shots.add', { lessonId, file })
  }
})
afterEach(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const speeds = (report: WhatWorks) =>
  report.rows
    .find((row) => row.label === 'Firm lead side')!
    .metrics.find((m) => m.metric === 'clubSpeedMps')!
    .students.map((s) => Number((s.change / 0.44704).toFixed(1)))

describe('what works with my students, in a library', () => {
  test('takes each student’s blocks from the records, in the order hit', async () => {
    const report = await works()
    expect(report).toMatchObject({ students: 5, withoutConsent: 0, club: 'driver', units: 'mph-yd' })
    expect(speeds(report)).toEqual([1, 1.5, 2, 2.5, 3])
  })

  test('leaves out who has not agreed to keeping, whose agreement ran out, and a minor without a guardian’s', async () => {
    await consent(studentIds[0]!, { isGuardian: false })
    await consent(studentIds[1]!, { storing: false })
    await consent(studentIds[2]!, { until: '2020-01-01' })
    const report = await works()
    expect(report).toMatchObject({ students: 2, withoutConsent: 3 })
    expect(speeds(report)).toEqual([1.5, 2.5])
    expect(JSON.stringify(report)).not.toContain('Robin 0')
  })

  test('a student deleted for good is gone from it at once', async () => {
    expect((await works()).students).toBe(5)
    await library.ask('student.deleteForGood', { id: studentIds[2]!, typedName: 'Robin 2' })
    const report = await works()
    expect(speeds(report)).toEqual([1, 1.5, 2, 2.5])
    expect(JSON.stringify(report)).not.toContain('Robin 2')
  })

  test('the command line says the same, without names', () => {
    const text = execFileSync(
      process.execPath,
      ['electron/cli/index.ts', 'works', '--library', library.context.folder],
      { encoding: 'utf8' },
    )
    expect(text).toMatch(/club speed: 5 of 5 students, \+2\.0? mph \(\+\d\.\d+ to \+\d\.\d+ mph\)/)
    expect(text).toContain('regression to the mean')
    expect(text).not.toContain('Robin')
  })
})
