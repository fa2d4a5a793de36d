import fs from 'node:fs'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { ballOutOfSight, struckFrame } from '../library/support/ball-out-of-sight.ts'
import { openWithLesson, takeIn, temporaryFolder } from '../library/support/temporary-library.ts'
import { atRest } from './at-rest.ts'
import { launchAtLesson, type LaunchedApp } from './launch.ts'
import { untilLesson } from './library-in-window.ts'

/** A clip without sound whose ball is out of sight. LEADSIDE_SCREENS names a folder for pictures. */
let folder: string
let launched: LaunchedApp
let page: Page

beforeAll(async () => {
  folder = temporaryFolder()
  const { library, lessonId } = await openWithLesson(path.join(folder, 'library'))
  for (const job of await takeIn(library, lessonId, [ballOutOfSight(folder)])) expect(job.problem).toBeNull()
  await library.close()
  launched = await launchAtLesson(path.join(folder, 'library'), 1)
  page = launched.page
}, 240_000)
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const picture = async (name: string) => {
  const shots = process.env['LEADSIDE_SCREENS']
  if (!shots) return
  for (const [width, height] of [
    [1440, 900],
    [1024, 700],
  ] as const) {
    await page.setViewportSize({ width, height })
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme })
      await atRest(page)
      await page.screenshot({ path: path.join(shots, `${name}-${width}-${colorScheme}.png`) })
    }
  }
  await page.emulateMedia({ colorScheme: 'light' })
}

test('an unsure impact says in one line that the body may tell it; read, the flag stands where the hands came back', async () => {
  const line = page.getByText('The impact is unsure here. Reading the body may tell it')
  await line.waitFor()
  await line.scrollIntoViewIfNeeded()
  await picture('impact-unsure')
  await page.getByRole('button', { name: 'Read this swing' }).click()
  const { swings } = await untilLesson(
    page,
    'impact told by the body',
    (lesson) => lesson.swings[0]!.views[0]!.moments.some((m) => m.name === 'impact' && m.how === 'body'),
    120,
  )
  const impact = swings[0]!.views[0]!.moments.find((m) => m.name === 'impact')!
  expect(Math.abs(impact.frame - struckFrame)).toBeLessThanOrEqual(1)
  await page
    .getByRole('button', {
      name: new RegExp(`^Impact .*told by when the hands come back to the ball, frame ${impact.frame}`, 'i'),
    })
    .first()
    .waitFor()
  await line.waitFor({ state: 'detached' })
  await picture('impact-by-hands')
  expect(launched.complaints).toEqual([])
}, 240_000)
