import fs from 'node:fs'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import type { CallInput, CallName, CallOutput } from '../../shared-core/contract/index.ts'
import { makeClip, runFfmpegNow } from '../library/support/make-clip.ts'
import { temporaryFolder } from '../library/support/temporary-library.ts'
import { atRest } from './at-rest.ts'
import { launchApp, type LaunchedApp } from './launch.ts'

/** The demo lesson's hand-over put together in the real window, in the order a coach does it. */
let folder: string
let launched: LaunchedApp
let page: Page
let lessonId: string
let laterLessonId: string
let studentId: string

const ask = async <N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>> => {
  const answer = await page.evaluate(
    ([call, body]) => window.leadside.ask(call as 'roster.list', body as never),
    [name, input] as const,
  )
  if (!answer.ok) throw new Error(answer.problem.what)
  return answer.output as CallOutput<N>
}

const until = async <T>(what: string, read: () => Promise<T>, isSo: (now: T) => boolean, seconds = 30) => {
  const end = Date.now() + seconds * 1000
  for (;;) {
    const now = await read()
    if (isSo(now)) return now
    if (Date.now() > end) throw new Error(`it never came to be: ${what}; now ${JSON.stringify(now)}`)
    await page.waitForTimeout(100)
  }
}
const draft = () => ask('handOver.draft', { lessonId })
const plan = async () => (await ask('plan.get', { lessonId })).plan

const goTo = (hash: string) => page.evaluate((to) => void (location.hash = to), hash)
const openComposer = async (id: string) => {
  await goTo(`#/hand-over/${id}`)
  await page.getByRole('heading', { name: 'Message' }).waitFor()
}
const showPart = (name: RegExp) =>
  page.getByRole('navigation', { name: 'Parts of the hand-over' }).getByRole('button', { name }).click()

/** Axe finds nothing serious on the screen as it stands. The student's page in its frame has tests of its own. */
const expectAccessible = async (screen: string) => {
  // A colour on its way from one theme or state to the next is neither.
  await page.waitForFunction(
    () => !document.getAnimations().some((a) => a instanceof CSSTransition && a.playState === 'running'),
  )
  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).exclude('iframe').analyze()
  const serious = violations.filter((v) => v.impact === 'serious' || v.impact === 'critical')
  expect(
    serious.map((v) => `${screen}: ${v.id} at ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`),
  ).toEqual([])
}

const resize = (width: number, height: number, zoom: number) =>
  launched.app.evaluate(
    ({ BrowserWindow }, [w, h, z]) => {
      const [window] = BrowserWindow.getAllWindows()
      window!.setContentSize(w!, h!)
      window!.webContents.setZoomFactor(z!)
    },
    [width, height, zoom],
  )

beforeAll(async () => {
  folder = temporaryFolder()
  const library = new Library({ folder: path.join(folder, 'library') })
  const { jobId } = await library.ask('demo.load', {})
  const job = await library.context.jobs.ended(jobId)
  expect(job.problem).toBeNull()
  const [student] = await library.ask('roster.list', {})
  studentId = student!.id
  lessonId = student!.lessons[0]!.id
  laterLessonId = (await library.ask('lesson.create', { studentId, date: '2026-06-13' })).id
  await library.close()
  launched = await launchApp({ library: path.join(folder, 'library') })
  page = launched.page
  await page.getByText('Teo Quillby').first().waitFor()
  // Six lessons are loaded; on a machine at work that takes its time.
}, 600_000)

afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('the composer', () => {
  test('what was typed last is kept, though the coach leaves at once', async () => {
    await openComposer(lessonId)
    await page
      .getByLabel('Message to Teo Quillby')
      .fill('Well done, Teo. <b>Soft shoulders</b> & a firm side.')
    await page.getByRole('button', { name: 'Back to the Desk' }).click()
    await page.getByRole('grid', { name: 'Swings' }).waitFor()
    await until(
      'the message',
      draft,
      (d) => d.message === 'Well done, Teo. <b>Soft shoulders</b> & a firm side.',
    )
    await page.getByRole('button', { name: 'Hand-over', exact: true }).click()
    expect(await page.getByLabel('Message to Teo Quillby').inputValue()).toContain('Well done, Teo.')
  })

  test('what was typed last is kept, though the window goes away in the same moment', async () => {
    const field = page.getByLabel('Message to Teo Quillby')
    const before = await field.inputValue()
    await field.fill(`${before} Bye.`)
    await page.reload()
    await page.getByRole('heading', { name: 'Message' }).waitFor()
    await until('the message', draft, (d) => d.message === `${before} Bye.`, 5)
    expect(await field.inputValue()).toBe(`${before} Bye.`)
    await field.fill(before)
  })

  test('the page beside it is the student’s, made of what was typed, and can run nothing', async () => {
    const frame = page.locator('iframe[title="The student’s page"]')
    await frame.waitFor({ timeout: 120_000 })
    expect(await frame.getAttribute('sandbox')).toBe('allow-same-origin')
    const inFrame = page.frameLocator('iframe[title="The student’s page"]')
    await inFrame.getByText('<b>Soft shoulders</b> & a firm side.').waitFor({ timeout: 60_000 })
    const width = (await frame.boundingBox())!.width
    expect(width).toBeGreaterThan(340)
    expect(width).toBeLessThan(430)
    // The page is set anew when its pictures are made, too: what is read just then is read again.
    const paper = () =>
      inFrame
        .locator('body')
        .evaluate((body) => getComputedStyle(body).backgroundColor)
        .catch(() => '')
    const light = await until('a page', paper, (colour) => colour !== '')
    await page.getByRole('radio', { name: 'Dark' }).click()
    await until('a dark page', paper, (colour) => colour !== '' && colour !== light)
    await page.getByRole('radio', { name: 'Light' }).click()
    await until('a light page', paper, (colour) => colour === light)
  })

  test('a finding is left out, another put in the coach’s words, and given back to the tool', async () => {
    await showPart(/^Findings/)
    const first = page.getByRole('textbox', { name: 'Sentence of finding 1' })
    const second = page.getByRole('textbox', { name: 'Sentence of finding 2' })
    const [leftOut, tools] = [await first.inputValue(), await second.inputValue()]
    expect(leftOut.length).toBeGreaterThan(20)
    await page.getByRole('checkbox', { name: `In the hand-over: ${leftOut}` }).focus()
    await page.keyboard.press('Space')
    await second.fill('You swing faster with soft shoulders.')
    const kept = await until('both findings', draft, (d) => d.findings.length === 2)
    expect(kept.findings.map((f) => [f.isShown, f.sentence])).toEqual([
      [false, ''],
      [true, 'You swing faster with soft shoulders.'],
    ])
    const inFrame = page.frameLocator('iframe[title="The student’s page"]')
    await inFrame.getByText('You swing faster with soft shoulders.').waitFor({ timeout: 60_000 })
    expect(await inFrame.getByText(leftOut).count()).toBe(0)

    await page.getByText(`The tool says: ${tools}`).waitFor()
    await page.getByRole('button', { name: 'Back to the tool’s words' }).click()
    expect(await second.inputValue()).toBe(tools)
    await until('the tool’s words', draft, (d) => d.findings[1]!.sentence === '')
    await second.fill('You swing faster with soft shoulders.')
    await until('the coach’s words', draft, (d) => d.findings[1]!.sentence !== '')
  })

  test('swings are captioned, shown on other moments, put in another order by key and by dragging, taken out', async () => {
    await showPart(/^Swings/)
    const before = await draft()
    const list = page.getByRole('list', { name: 'Swings in the hand-over' })
    const rows = list.getByRole('listitem')
    await rows.nth(0).getByRole('textbox').fill('See the lead knee.')
    const momentCount = before.swings[0]!.momentIds.length
    await rows.nth(0).getByRole('button', { name: 'Top', exact: true }).click()
    await rows
      .nth(0)
      .getByRole('checkbox', { name: /Slow-motion clip/ })
      .focus()
    await page.keyboard.press('Space')
    const changed = await until('the first swing', draft, (d) => !d.swings[0]!.withClip)
    expect(changed.swings[0]).toMatchObject({ caption: 'See the lead knee.', withClip: false })
    expect(changed.swings[0]!.momentIds).toHaveLength(momentCount + 1)

    const order = async () => (await draft()).swings.map((s) => s.viewId)
    const ids = before.swings.map((s) => s.viewId)
    await rows
      .nth(0)
      .getByRole('button', { name: /^Move .* down$/ })
      .focus()
    await page.keyboard.press('Enter')
    await until('moved down', order, (now) => now[0] === ids[1] && now[1] === ids[0])
    await rows.nth(1).locator('.grip').dragTo(rows.nth(0))
    await until('dragged up', order, (now) => now.join() === ids.join())
    // The same without a mouse: Enter takes the row, Tab goes to the others, Enter puts it there, Escape leaves it.
    const handle = rows
      .nth(0)
      .locator('.grip')
      .getByRole('button', { name: /^Move / })
    await handle.focus()
    await page.keyboard.press('Enter')
    await page.locator('.swing-card[data-drop=after]').waitFor()
    expect(await rows.nth(1).getAttribute('data-drop')).toBe('after')
    await page.keyboard.press('Enter')
    await until('put down a row below', order, (now) => now[0] === ids[1] && now[1] === ids[0])
    await rows.nth(1).locator('.grip').getByRole('button').focus()
    await page.keyboard.press('Enter')
    await page.locator('.swing-card[data-drop]').waitFor()
    await page.keyboard.press('Escape')
    await page.locator('.swing-card[data-drop]').waitFor({ state: 'detached' })
    expect((await order())[1]).toBe(ids[0])
    await rows.nth(1).locator('.grip').dragTo(rows.nth(0))
    await until('as before', order, (now) => now.join() === ids.join())

    await rows
      .last()
      .getByRole('button', { name: /^Take .* out$/ })
      .click()
    await until('one fewer', order, (now) => now.length === ids.length - 1)
    await page.getByText(/starred swings? .* not in yet/).waitFor()
    await page.getByRole('button', { name: 'Take it in' }).click()
    await until('back in', order, (now) => now.length === ids.length)
  })

  test('choosing a drill that loads the body raises the limits on the student’s card', async () => {
    await showPart(/^Practice/)
    const before = (await plan()).items.length
    const choose = async () => {
      await page.getByRole('button', { name: 'Choose a drill…' }).click()
      await page.getByRole('button', { name: 'Take in Brace against a pull' }).click()
    }
    await choose()
    const alert = page.getByRole('alertdialog', { name: 'Is this right for Teo Quillby?' })
    const { limits } = await ask('student.get', { id: studentId })
    expect(limits).not.toBe('')
    await alert.getByText(limits).waitFor()
    await alert.getByText(/not with a sore back/).waitFor()
    await expectAccessible('limits raised')
    await alert.getByRole('button', { name: 'Leave it out' }).click()
    await alert.waitFor({ state: 'detached' })
    expect((await plan()).items).toHaveLength(before)

    await choose()
    await alert.getByRole('button', { name: 'Take it in all the same' }).click()
    const after = await until('one more', plan, (p) => p.items.length === before + 1)
    expect(after.items.at(-1)).toMatchObject({ name: 'Brace against a pull', isLoading: true })
    expect(after.items.at(-1)!.caution).not.toBe('')
    expect(after.items.at(-1)!.despite, 'what was known when it was taken in').toMatchObject({ limits })
    await page.getByText(/You took it in on .* knowing of the card/).waitFor()
  })

  test('a drill that does not load the body is taken in at once, and its dose edited for this student', async () => {
    await page.getByRole('button', { name: 'Choose a drill…' }).click()
    await page.getByRole('searchbox').fill('ladder')
    await page.getByRole('button', { name: 'Take in Centre-strike ladder' }).click()
    await page.getByRole('button', { name: 'Edit Centre-strike ladder' }).click()
    await page.getByRole('textbox', { name: 'Dose' }).fill('10 balls, twice a week')
    await until('the dose', plan, (p) => p.items.at(-1)!.dose === '10 balls, twice a week')
    const [drill] = (await ask('drill.list', {})).filter((d) => d.name === 'Centre-strike ladder')
    expect(drill!.dose, 'the library’s own dose').not.toBe('10 balls, twice a week')
  })

  test('a template keeps the message and how the clips run; applied over a message, it asks first', async () => {
    await page.getByRole('button', { name: 'Templates' }).click()
    await page.getByRole('menuitem', { name: 'Save as a template…' }).click()
    await page.getByRole('textbox', { name: 'Name of the template' }).fill('Usual lesson')
    await page.getByRole('textbox', { name: /^Its message/ }).fill('Thank you for today.')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByRole('button', { name: 'Templates' }).click()
    await page.getByRole('menuitem', { name: 'Usual lesson' }).click()
    await page.getByRole('button', { name: 'Put it below mine' }).click()
    await until('both messages', draft, (d) =>
      /^Well done, Teo[^]*\n\nThank you for today\.$/.test(d.message),
    )
  })

  test('templates are renamed, never to a name that is taken, and deleted after a second yes', async () => {
    const names = async () => (await ask('handOver.templates', {})).map((t) => t.name)
    const [usual] = await ask('handOver.templates', {})
    await ask('handOver.saveTemplate', { ...usual!, id: null, name: 'Short game' })
    // Names are read when the composer opens.
    await page.getByRole('button', { name: 'Back to the Desk' }).click()
    await openComposer(lessonId)
    await page.getByRole('button', { name: 'Templates' }).click()
    // The list that was read before may still stand when the composer does.
    await page.getByRole('menuitem', { name: 'Short game' }).waitFor()
    await page.getByRole('menuitem', { name: 'Rename or delete…' }).click()
    const dialog = page.getByRole('dialog', { name: 'Your templates' })
    const name = dialog.getByLabel('Name of the template Usual lesson')
    await name.fill('short game')
    await dialog.getByText(/Another template is called/).waitFor()
    await expectAccessible('templates')
    await name.fill('Long game')
    await until('renamed', names, (now) => now.join() === 'Long game,Short game')
    await dialog.getByRole('button', { name: 'Delete Short game' }).click()
    expect(await names(), 'not before the second yes').toContain('Short game')
    await dialog.getByRole('button', { name: 'Yes, delete it' }).click()
    await until('one fewer', names, (now) => now.join() === 'Long game')
    await dialog.getByRole('button', { name: 'Done' }).click()
  })

  test('a logo and a drill’s clip are chosen from files; a faint colour is shown as the page makes it', async () => {
    const choose = (file: string) =>
      launched.app.evaluate(({ dialog }, target) => {
        dialog.showOpenDialog = async () => ({ canceled: false, filePaths: [target] })
      }, file)
    const [logo, clip] = [path.join(folder, 'logo.png'), path.join(folder, 'drill.mp4')]
    const red = ['-f', 'lavfi', '-i', 'color=c=0xa03020:size=400x120,format=rgba', '-frames:v', '1', logo]
    runFfmpegNow(...red)
    makeClip(clip, { seconds: 2 })
    await showPart(/^Look/)
    await choose(logo)
    await page.getByRole('button', { name: 'Choose a logo…' }).click()
    await until('a logo', draft, (d) => d.logoId !== null)
    await page.getByLabel('A colour of your own').fill('#ffee00')
    await page.getByText(/Too faint on a light screen/).waitFor()
    await expectAccessible('look')
    const inFrame = page.frameLocator('iframe[title="The student’s page"]')
    await inFrame.locator('img.logo').waitFor({ timeout: 60_000 })
    await page.getByRole('button', { name: 'Name, colour and logo for new hand-overs, too' }).click()
    await until(
      'the usual logo',
      () => ask('settings.get', {}),
      (s) => s.coachLogoId !== null && s.coachAccent === '#ffee00',
    )

    await showPart(/^Practice/)
    await page.getByRole('button', { name: 'Choose a drill…' }).click()
    await page.getByRole('searchbox').fill('Full speed and back')
    await page.getByRole('button', { name: 'Edit Full speed and back' }).click()
    await choose(clip)
    await page.getByRole('button', { name: 'Choose a picture or clip…' }).click()
    const video = page.locator('video.coach-clip')
    await video.waitFor({ timeout: 60_000 })
    await until(
      'the clip can be played',
      () => video.evaluate((v: HTMLVideoElement) => v.readyState),
      (state) => state >= 1,
    )
    await expectAccessible('drill with a clip')
    await page.getByRole('button', { name: 'Keep the drill' }).click()
    await page.getByRole('button', { name: 'Take in Full speed and back' }).click()
    await page.getByRole('button', { name: 'Take it in all the same' }).click()
    await until('in the plan', plan, (p) => p.items.at(-1)!.pictureId !== null)
  })

  for (const theme of ['light', 'dark'] as const) {
    test(`axe finds nothing serious, ${theme}`, async () => {
      await ask('settings.set', { theme })
      await page.waitForFunction((name) => document.documentElement.dataset['theme'] === name, theme)
      await expectAccessible('composer')
      await page.getByRole('button', { name: 'Choose a drill…' }).click()
      await expectAccessible('drills')
      await page
        .getByRole('button', { name: /^Edit Brace/ })
        .last()
        .click()
      await expectAccessible('drill editor')
      await page.getByRole('button', { name: 'Cancel' }).click()
      await page.getByRole('button', { name: 'Close', exact: true }).click()
      await page.getByRole('button', { name: 'Add or remove swings…' }).click()
      await expectAccessible('add swings')
      await page.getByRole('button', { name: 'Done' }).click()
    })
  }

  test.each([
    [1024, 700, 1],
    [1440, 900, 1.5],
    [1024, 700, 1.5],
  ])('nothing is cut off at %i × %i, zoom %f', async (width, height, zoom) => {
    await resize(width, height, zoom)
    await atRest(page)
    const cut = await page.evaluate(() => {
      const isSeen = (e: Element) => e.getClientRects().length > 0
      const over = [...document.querySelectorAll('.composer-bar button, .composer-column *, .phone-head *')]
        .filter(isSeen)
        .filter((e) => !e.closest('.unseen') && e.getBoundingClientRect().right > innerWidth + 1)
      const squeezed = [...document.querySelectorAll('.composer button, .composer-bar button')]
        .filter(isSeen)
        .filter((e) => e.scrollWidth > e.clientWidth + 1)
      return [...over, ...squeezed].map((e) => `${e.tagName} ${e.className} "${e.textContent?.slice(0, 40)}"`)
    })
    expect(cut).toEqual([])
    await resize(1440, 900, 1)
  })

  test('without recorded consent it takes the name of who says yes; then the package is written and listed', async () => {
    const { consent } = await ask('student.get', { id: studentId })
    const { recordedAt: _recordedAt, ...said } = consent
    await ask('student.consent', { id: studentId, consent: { ...said, sharing: false } })
    await launched.app.evaluate(({ dialog }, target) => {
      dialog.showOpenDialog = async () => ({ canceled: false, filePaths: [target] })
    }, folder)
    await page.getByRole('button', { name: 'Write the hand-over' }).click()
    const dialog = page.getByRole('dialog', { name: 'Write the hand-over' })
    await dialog.getByText(/^About [\d.]+ MB/).waitFor({ timeout: 60_000 })
    await dialog.getByRole('button', { name: 'Another folder…' }).click()
    await dialog.getByText(folder).waitFor()
    const write = dialog.getByRole('button', { name: 'Write', exact: true })
    expect(await write.isDisabled()).toBe(true)
    await expectAccessible('write')
    await dialog.getByLabel(/Name of who said yes/).fill('Teo Quillby, on the range')
    expect(await write.isDisabled(), 'a name alone is not a yes').toBe(true)
    await dialog.getByRole('checkbox', { name: /said yes to this hand-over/ }).focus()
    await page.keyboard.press('Space')
    // Fewer clips, smaller package; what was taken out can be taken in again.
    const choices = dialog.getByRole('list', { name: 'Clips in the hand-over' }).getByRole('checkbox')
    const megabytes = async () =>
      Number(/About ([\d.]+) MB/.exec(await dialog.getByRole('status').first().innerText())![1])
    const whole = await megabytes()
    await choices.last().focus()
    await page.keyboard.press('Space')
    await until('a smaller package', megabytes, (now) => now < whole)
    await page.keyboard.press('Space')
    await until('the whole package', megabytes, (now) => now === whole)
    await write.click()

    await showPart(/^Written/)
    const [record] = await until(
      'a record',
      () => ask('handOver.list', { lessonId }),
      (l) => l.length > 0,
      200,
    )
    expect(record!.consentSaidBy).toBe('Teo Quillby, on the range')
    await page.getByText(record!.folder).waitFor()
    await page.getByRole('button', { name: 'Show in its folder' }).waitFor()
    expect(path.dirname(record!.folder)).toBe(folder)
    const html = fs.readFileSync(path.join(record!.folder, 'index.html'), 'utf8')
    expect(html).toContain('You swing faster with soft shoulders.')
    expect(html).toContain('See the lead knee.')
    expect(html).toContain('10 balls, twice a week')
    expect(html).toContain('Thank you for today.')
    expect(fs.statSync(record!.zip).size).toBe(record!.byteLength)
    const clips = fs.readdirSync(path.join(record!.folder, 'clips'))
    const { swings, comparisonIds } = await draft()
    const drills = clips.filter((name) => name.startsWith('drill-'))
    expect(drills).toHaveLength(1)
    expect(html).toContain(`src="clips/${drills[0]!}"`)
    expect(clips).toHaveLength(swings.filter((s) => s.withClip).length + comparisonIds.length + 1)
  })

  test('the next lesson begins with the last plan and keeps how it went with that plan', async () => {
    // The Desk asks first, and the question can wait.
    await goTo(`#/lesson/${laterLessonId}`)
    const asked = page.getByRole('region', { name: 'The last plan' })
    await asked.getByText(/Brace against a pull/).waitFor()
    await expectAccessible('the last plan on the Desk')
    await asked.getByLabel(/How did it go/).fill('Three times a week.')
    await until('the outcome, from the Desk', plan, (p) => p.outcome === 'Three times a week.')
    await asked.getByRole('button', { name: 'Done' }).click()
    await asked.waitFor({ state: 'detached' })
    await openComposer(laterLessonId)
    const last = page.getByRole('region', { name: /^The last plan/ })
    await last.getByText('Brace against a pull').waitFor()
    await page.getByText(/^Findings come from shot records/).waitFor()
    await last.getByLabel(/How did it go/).fill('Three times a week; the back was fine.')
    await until('the outcome', plan, (p) => p.outcome === 'Three times a week; the back was fine.')
    expect((await plan()).items.at(-1)!.name, 'the old plan is otherwise as it was').toBe(
      'Full speed and back',
    )
    await last.getByRole('button', { name: /Carry these over/ }).click()
    const alert = page.getByRole('alertdialog')
    await alert.getByRole('button', { name: /Leave .* out, take the rest/ }).click()
    const carried = await until(
      'the plan carried over',
      () => ask('plan.get', { lessonId: laterLessonId }),
      (p) => p.plan.items.length > 0,
    )
    expect(carried.plan.items.some((i) => i.isLoading)).toBe(false)
  })

  test('one press writes to where the last one went; the size is said while it is written', async () => {
    const { consent } = await ask('student.get', { id: studentId })
    const { recordedAt: _recordedAt, ...said } = consent
    await ask('student.consent', { id: studentId, consent: { ...said, sharing: true } })
    await openComposer(laterLessonId)
    const steps = page.evaluateHandle(() => {
      const seen: string[] = []
      window.leadside.on('job.changed', (job) => {
        if (job.kind === 'hand-over') seen.push(job.step)
      })
      return seen
    })
    await steps
    await page.getByRole('button', { name: 'Write the hand-over', exact: true }).click()
    const [record] = await until(
      'a record',
      () => ask('handOver.list', { lessonId: laterLessonId }),
      (l) => l.length > 0,
      200,
    )
    expect(await page.getByRole('dialog').count()).toBe(0)
    expect(path.dirname(record!.folder)).toBe(folder)
    expect(record!.consentSaidBy).toBeNull()
    expect((await (await steps).jsonValue()).join('; ')).toMatch(/\d [kM]B so far/)
    expect(launched.complaints).toEqual([])
  })
})
