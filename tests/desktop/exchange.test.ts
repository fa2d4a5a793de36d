import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import type { ElectronApplication, Page } from 'playwright-core'
import { afterAll, expect, test } from 'vitest'
import { lessonsToGive } from '../library/support/lesson-to-give.ts'
import { temporaryFolder } from '../library/support/temporary-library.ts'
import { launchApp } from './launch.ts'

const root = temporaryFolder()
afterAll(() => fs.rmSync(root, { recursive: true, force: true }))
const shots = process.env.LEADSIDE_SCREENSHOTS

/** Of the window as it is, and of a small one in the dark. */
const pictures = async (page: Page, name: string) => {
  if (!shots) return
  await page.setViewportSize({ width: 1440, height: 900 })
  await page.screenshot({ path: path.join(shots, `${name}.png`) })
  await page.setViewportSize({ width: 1024, height: 700 })
  await page.emulateMedia({ colorScheme: 'dark' })
  await page.screenshot({ path: path.join(shots, `${name}-small-dark.png`) })
  await page.emulateMedia({ colorScheme: 'light' })
  await page.setViewportSize({ width: 1440, height: 900 })
}
const chooses = (app: ElectronApplication, chosen: string) =>
  app.evaluate(({ dialog }, file) => {
    dialog.showOpenDialog = () => Promise.resolve({ canceled: false, filePaths: [file] })
  }, chosen)

test('a lesson goes to a colleague as a file and comes out of it on the colleague’s Roster, once', async () => {
  const { library, folder, studentId } = await lessonsToGive()
  await library.ask('settings.set', { coachName: 'Alex Giving' })
  await library.close()
  const out = path.join(root, 'out')
  fs.mkdirSync(out)
  const mine = await launchApp({ library: path.join(folder, 'library') })
  const { page } = mine
  await chooses(mine.app, out)
  await page.getByRole('button', { name: /^More for .*A lesson/ }).click()
  await page.getByRole('menuitem', { name: 'Give to a colleague…' }).click()
  await page.getByText(/One file with 1 lesson and 2 clips/).waitFor()
  await pictures(page, 'give-lesson')
  await page.getByRole('button', { name: 'Write the file…' }).click()
  await page.getByText('The lesson file is written, and was read back').waitFor()
  await page.getByRole('region', { name: 'Robin Testing' }).getByRole('button', { name: 'Card' }).click()
  await pictures(page, 'student-card')
  await page.getByRole('button', { name: 'Give to a colleague…' }).click()
  await page.getByText(/One file with 2 lessons and 2 clips/).waitFor()
  await page.getByRole('button', { name: 'Write the file…' }).click()
  await expect.poll(() => fs.readdirSync(out).filter((name) => !name.startsWith('.')).length).toBe(2)
  await page.getByRole('region', { name: 'Robin Testing' }).getByRole('button', { name: 'Card' }).click()
  await page.getByRole('button', { name: 'Delete the student…' }).click()
  await page.getByText('Also delete 2 lesson files for colleagues on this computer').waitFor()
  await pictures(page, 'delete-student')
  await page.getByRole('button', { name: 'Keep' }).click()
  // A consent that was taken back is seen before a folder is asked for.
  await page.evaluate(async (id) => {
    await window.leadside.ask('student.consent', {
      id,
      consent: {
        filming: true,
        storing: true,
        sharing: false,
        until: null,
        givenBy: '',
        isGuardian: false,
        coversFace: false,
      },
    })
  }, studentId)
  await page.getByRole('button', { name: /^More for .*A lesson/ }).click()
  await page.getByRole('menuitem', { name: 'Give to a colleague…' }).click()
  await page.getByText(/This may not be given away/).waitFor()
  await pictures(page, 'give-refused')
  expect(mine.complaints).toEqual([])
  await mine.close()

  const [one, both] = fs
    .readdirSync(out)
    .map((name) => ({ name, size: fs.statSync(path.join(out, name)).size }))
    .toSorted((a, b) => a.size - b.size)
  const theirs = await launchApp({ library: path.join(root, 'theirs') })
  const there = theirs.page
  await chooses(theirs.app, path.join(out, one!.name))
  await there.getByRole('button', { name: 'From a colleague…' }).click()
  await there.getByRole('heading', { name: 'From a colleague: Robin Testing' }).waitFor()
  await pictures(there, 'take-lesson')
  await there.getByRole('button', { name: 'Take in 1 lesson' }).click()
  await there.getByText('from Alex Giving').waitFor()
  await there.getByText('3 swings · 2 clips · 3 shots').waitFor()
  await chooses(theirs.app, path.join(out, both!.name))
  await there.getByRole('button', { name: 'From a colleague…' }).click()
  await there.getByText('here already').waitFor()
  // By the earlier file it is the same student; the coach sees it before it is done.
  await there.getByText('Robin Testing, already on your Roster').first().waitFor()
  await pictures(there, 'take-lesson-known')
  await there.getByRole('button', { name: 'Take in 1 lesson' }).click()
  await there.getByText('After a week').waitFor()
  await pictures(there, 'roster-with-taken')
  expect(await there.getByRole('region', { name: 'Robin Testing' }).count()).toBe(1)
  fs.writeFileSync(path.join(out, 'letter.leadside-lesson'), 'dear coach')
  await chooses(theirs.app, path.join(out, 'letter.leadside-lesson'))
  await there.getByRole('button', { name: 'From a colleague…' }).click()
  await there.getByText(/this is not a lesson file of Leadside/i).waitFor()
  expect(theirs.complaints).toEqual([])
  await theirs.close()
  fs.rmSync(folder, { recursive: true, force: true })
}, 180_000)

test('a lesson file that is opened with the program, also while it runs, is asked about, one after the other', async () => {
  const { library, folder, studentId, lessonId, secondId } = await lessonsToGive()
  const files: string[] = []
  for (const [n, id] of [lessonId, secondId].entries()) {
    const { jobId } = await library.ask('lessonFile.give', {
      studentId,
      lessonIds: [id],
      folder: path.join(root, `${n}`),
    })
    const { result } = await library.context.jobs.ended(jobId)
    files.push(result!)
  }
  await library.close()
  const theirs = path.join(root, 'opened with')
  const profile = path.join(root, 'profile')
  const launched = await launchApp({ library: theirs, profile, args: [files[0]!] })
  const { app, page } = launched
  const dialog = page.getByRole('heading', { name: 'From a colleague: Robin Testing' })
  await dialog.waitFor()
  // A second start with another file: it ends, and the first one asks, once the coach has answered.
  const { path: program, args } = await app.evaluate(({ app: electron }) => ({
    path: process.execPath,
    args: [...(process.getuid?.() === 0 ? ['--no-sandbox'] : []), electron.getAppPath()],
  }))
  const second = spawnSync(program, [...args, `--user-data-dir=${profile}`, path.relative(root, files[1]!)], {
    cwd: root,
    env: { ...process.env, LEADSIDE_LIBRARY: theirs, LEADSIDE_USER_DATA: profile },
    timeout: 60_000,
  })
  expect(second.status).toBe(0)
  const titles = page.getByRole('dialog').getByRole('listitem')
  expect(await titles.allTextContents()).toEqual([expect.stringContaining('A lesson')])
  await page.getByRole('button', { name: 'Leave it' }).click()
  await expect.poll(() => titles.allTextContents()).toEqual([expect.stringContaining('After a week')])
  expect(app.windows()).toHaveLength(1)
  await page.getByRole('button', { name: 'Take in 1 lesson' }).click()
  await page.getByRole('region', { name: 'Robin Testing' }).getByText('After a week').waitFor()
  // As macOS tells of it.
  const prevented = await app.evaluate(({ app: electron }, file) => {
    let was = false
    electron.emit('open-file', { preventDefault: () => (was = true) }, file)
    return was
  }, files[0]!)
  expect(prevented).toBe(true)
  await dialog.waitFor()
  expect(await titles.allTextContents()).toEqual([expect.stringContaining('A lesson')])
  expect(launched.complaints).toEqual([])
  await launched.close()
  fs.rmSync(folder, { recursive: true, force: true })
}, 180_000)
