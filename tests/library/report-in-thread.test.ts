import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { Reporter } from '../../electron/library/reporter.ts'
import { reportInputOf, reportOfLesson } from '../../electron/library/queries/report-lesson.ts'
import { minimalStandardGenerator } from '../../shared-core/statistics/generator.ts'
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
  const asked = reporter.report(input)
  await reporter.close()
  expect(await asked).toEqual(reportOfLesson(library.context, lessonId))
  expect(await reporter.report(input)).toEqual(reportOfLesson(library.context, lessonId))
})

test('fails with its own reason', async () => {
  const { library } = made
  await expect(library.ask('lesson.report', { lessonId: 'gone' })).rejects.toThrow(/no such lesson/)
})
