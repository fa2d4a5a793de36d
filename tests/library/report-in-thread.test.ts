import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { Reporter } from '../../electron/library/reporter.ts'
import { reportInputOf, reportOfLesson } from '../../electron/library/queries/report-lesson.ts'
import { minimalStandardGenerator } from '../../shared-core/statistics/generator.ts'
import type { SeasonView } from '../../shared-core/report/season-view.ts'
import { openWithLesson } from './support/temporary-library.ts'

/** The lesson's report is computed beside the library's own work. */
let made: Awaited<ReturnType<typeof openWithLesson>>

beforeAll(async () => {
  made = await openWithLesson()
  const { library, folder, lessonId } = made
  const next = minimalStandardGenerator(7)
  const rows = Array.from({ length: 60 }, () => {
    const club = 88 + 8 * next()
    return `Driver,${club.toFixed(1)},${(club * (1.36 + 0.1 * next())).toFixed(1)}`
  })
  const file = path.join(folder, 'shots.csv')
  fs.writeFileSync(file, ['Club,Club Speed (mph),Ball Speed (mph)', ...rows, ''].join('\n'))
  await library.ask('shots.add', { lessonId, file })
})
afterAll(() => made.library.close())

test('is the one that is computed directly', async () => {
  const { library, lessonId } = made
  const report = await library.ask('lesson.report', { lessonId, units: 'kmh-m' })
  expect(report).toEqual(reportOfLesson(library.context, lessonId, { units: 'kmh-m' }))
})

test('leaves the library free to answer what is asked after it', async () => {
  const { library, lessonId } = made
  const order: string[] = []
  await Promise.all([
    library.ask('lesson.report', { lessonId, units: 'mps-m' }).then(() => order.push('report')),
    library.ask('lesson.open', { lessonId }).then(() => order.push('lesson')),
  ])
  expect(order).toEqual(['lesson', 'report'])
})

test('comes all the same when the thread has gone', async () => {
  const { library, lessonId } = made
  const input = reportInputOf(library.context, lessonId, {})
  const reporter = new Reporter()
  const asked = reporter.report('lesson', input)
  await reporter.close()
  expect(await asked).toEqual(reportOfLesson(library.context, lessonId))
  expect(await reporter.report('lesson', input)).toEqual(reportOfLesson(library.context, lessonId))
})

test('fails with its own reason', async () => {
  const { library } = made
  await expect(library.ask('lesson.report', { lessonId: 'gone' })).rejects.toThrow(/no such lesson/)
})

test('is computed once for the window, the composer and the hand-over, and anew after an edit', async () => {
  const { library, lessonId } = made
  const { reports } = library.context
  const first = await reports.lesson(lessonId)
  // A draft is saved as the coach types: nothing of the report rests on it.
  const draft = await library.ask('handOver.draft', { lessonId })
  await library.ask('handOver.saveDraft', { ...draft, message: 'See you on Tuesday.' })
  expect(await reports.lesson(lessonId)).toBe(first)
  const { shots } = await library.ask('lesson.open', { lessonId })
  await library.ask('shot.update', { id: shots[0]!.id, patch: { isLeftOut: true } })
  const later = await reports.lesson(lessonId)
  expect(later.blocks[0]!.leftOut).toBe(first.blocks[0]!.leftOut + 1)
})

test('of a season takes in a plan’s outcome at once', async () => {
  const { library, lessonId } = made
  const { student } = await library.ask('lesson.open', { lessonId })
  const before = await library.ask('season.report', { studentId: student.id })
  const { plan } = await library.ask('plan.get', { lessonId })
  await library.ask('plan.save', { ...plan, note: 'Half swings', outcome: 'Did well' })
  const after = await library.ask('season.report', { studentId: student.id })
  const planIn = (season: unknown) => (season as SeasonView).lessons[0]!.plan
  expect(planIn(before)).toBeNull()
  expect(planIn(after)).toMatchObject({ note: 'Half swings', outcome: 'Did well' })
})
