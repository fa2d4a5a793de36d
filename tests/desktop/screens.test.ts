import fs from 'node:fs'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { swingsInOrder } from '../../renderer/store/desk-store.ts'
import { lessonWithDrawing } from '../library/support/lesson-with-drawing.ts'
import { runFfmpegNow } from '../library/support/make-clip.ts'
import { atRest } from './at-rest.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { lessonOf } from './library-in-window.ts'

/** Every screen and dialog: nothing serious for axe, light and dark; no text cut off in a small window or enlarged. */
let folder: string
let launched: LaunchedApp
let page: Page
let lessonId: string
let studentId: string

beforeAll(async () => {
  const made = await lessonWithDrawing()
  ;({ folder, lessonId, studentId } = made)
  const file = path.join(folder, 'shots.csv')
  const rows = Array.from({ length: 8 }, (_, i) => `Driver,${90 + i * 0.4},${130 + i * 0.7}`)
  fs.writeFileSync(file, ['Club,Club Speed (mph),Ball Speed (mph)', ...rows, ''].join('\n'))
  await made.library.ask('shots.add', { lessonId, file })
  const photo = path.join(folder, 'face.jpg')
  runFfmpegNow('-f', 'lavfi', '-i', 'color=c=gray:size=800x400', '-frames:v', '1', photo)
  const { jobIds } = await made.library.ask('clips.add', { lessonId, files: [photo], stillKind: 'face' })
  await made.library.context.jobs.ended(jobIds[0]!)
  const face = (await made.library.ask('lesson.open', { lessonId })).clips.find(
    (c) => c.stillKind === 'face',
  )!
  await made.library.ask('facePhoto.save', {
    ...{
      id: null,
      lessonId,
      club: 'driver',
      clipId: face.id,
      pictureId: null,
      width: face.width,
      height: face.height,
    },
    ...{ toeX: 200, toeY: 200, heelX: 600, heelY: 200, lengthMm: 100 },
  })
  await made.library.close()
  launched = await launchApp({ library: path.join(folder, 'library') })
  page = launched.page
  page.setDefaultTimeout(15_000)
})
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const open = async (hash: string, ready: () => Promise<unknown>) => {
  await page.evaluate((to) => (location.hash = to), hash)
  await ready()
  await atRest(page)
}
const heading = (name: RegExp | string) => () => page.getByRole('heading', { name }).first().waitFor()
const button = (name: RegExp | string) => page.getByRole('button', { name, exact: typeof name === 'string' })
const roster = () => open('#/', heading('Robin Testing'))
/** The Desk with a marked clip on the Stage. */
const desk = async () => {
  await open(`#/lesson/${lessonId}`, () => page.getByRole('complementary', { name: 'Ledger' }).waitFor())
  const number = swingsInOrder(await lessonOf(page)).findIndex((s) => s.views.length > 0) + 1
  await page.getByRole('row', { name: new RegExp(`^Swing ${number}$`) }).click()
  await page.locator('.flag').first().waitFor()
}
const inMenu = async (menu: RegExp | string, item: RegExp | string) => {
  await button(menu).first().click()
  await page.getByRole('menuitem', { name: item }).click()
}

/** How each is reached from what stands before it; what a dialog is called. */
const places: { name: string; go: () => Promise<unknown>; dialog?: RegExp }[] = [
  { name: 'Roster', go: roster },
  { name: 'new student', go: () => button('Student').click(), dialog: /New student/ },
  {
    name: 'new lesson',
    go: () =>
      button(/Lesson$/)
        .first()
        .click(),
    dialog: /New lesson/,
  },
  { name: 'student’s card', go: () => button('Card').first().click(), dialog: /Robin Testing/ },
  {
    name: 'delete the student',
    go: async () => {
      await button('Card').first().click()
      await button('Delete the student…').click()
    },
    dialog: /Delete Robin Testing/,
  },
  { name: 'delete a lesson', go: () => inMenu(/^More for/, /Delete/), dialog: /Delete this lesson/ },
  { name: 'Desk', go: desk },
  {
    name: 'cue',
    go: async () => {
      await page.locator('.flag').first().click()
      await page.keyboard.press('c')
    },
    dialog: /Add a cue/,
  },
  {
    name: 'strike on the face',
    go: async () => {
      await page
        .getByRole('row', { name: /^Swing \d+$/ })
        .filter({ hasText: 'driver' })
        .first()
        .click()
      const part = page.getByRole('region', { name: 'Strike on the face' })
      await part.getByRole('button', { name: 'Mark', exact: true }).click()
      await part.getByRole('img').first().waitFor()
    },
  },
  { name: 'compare', go: () => page.keyboard.press('k'), dialog: /Compare two swings/ },
  { name: 'live lesson', go: () => page.keyboard.press('Control+l'), dialog: /Live lesson/ },
  { name: 'swish meter', go: () => page.keyboard.press('Control+j'), dialog: /Swish meter/ },
  { name: 'keys', go: () => page.keyboard.press('?'), dialog: /Keys/ },
  { name: 'settings', go: () => page.keyboard.press('Control+,'), dialog: /Settings/ },
  { name: 'filter of the Tray', go: () => button('Filter').click(), dialog: /Filter/ },
  {
    name: 'block',
    go: () =>
      button(/^Edit (Block|Base)/)
        .first()
        .click(),
    dialog: /^Edit /,
  },
  {
    name: 'bay view',
    go: () => open(`#/bay/${lessonId}`, () => page.locator('.bay canvas[data-frame]').waitFor()),
  },
  { name: 'new block', go: () => page.keyboard.press('b'), dialog: /New block/ },
  { name: 'Season', go: () => open(`#/season/${studentId}`, heading('Season')) },
  { name: 'Hand-over', go: () => open(`#/hand-over/${lessonId}`, heading('Hand-over')) },
  { name: 'swings of the hand-over', go: () => button('Add or remove swings…').click(), dialog: /Swings in/ },
  { name: 'drills', go: () => button('Choose a drill…').first().click(), dialog: /Choose a drill/ },
  {
    name: 'drill editor',
    go: async () => {
      await button('Choose a drill…').first().click()
      await button('New drill…').click()
    },
    dialog: /New drill/,
  },
  {
    name: 'write the hand-over',
    go: () => button('Where to, which clips…').first().click(),
    dialog: /Write the hand-over/,
  },
  { name: 'What works', go: () => open('#/works', heading('What works')) },
]

/** Looks at every place; what is found at all of them. One that can't be reached is a fault, too, and the next is looked at. */
const walk = async (look: (name: string) => Promise<string[]>): Promise<string[]> => {
  const faults: string[] = []
  for (const { name, go, dialog } of places) {
    try {
      await go()
      if (dialog) {
        await page.getByRole(/^delete/.test(name) ? 'alertdialog' : 'dialog', { name: dialog }).waitFor()
        await atRest(page)
      }
      faults.push(...(await look(name)))
    } catch (error) {
      faults.push(`${name}: ${String(error)}`)
    }
    for (
      let i = 0;
      dialog && i < 3 && (await page.locator('[role=dialog],[role=alertdialog]').count());
      i++
    ) {
      await page.keyboard.press('Escape')
      await atRest(page)
    }
  }
  return faults
}

const seriousFaults = async (screen: string) => {
  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze()
  return violations
    .filter((v) => v.impact === 'serious' || v.impact === 'critical')
    .map((v) => `${screen}: ${v.id} at ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`)
}

/** Texts that are cut off (how sure a flag is goes out of sight first, and is in its tooltip): wider or higher than a box that hides the rest, or outside the window with nothing to scroll. */
const cutOff = (screen: string) =>
  page.evaluate((name) => {
    const found: string[] = []
    const own = (e: Element) =>
      [...e.childNodes]
        .filter((n) => n.nodeType === Node.TEXT_NODE)
        .map((n) => n.textContent)
        .join('')
        .trim()
    const hides = (value: string) => value === 'hidden' || value === 'clip'
    const scrolls = (value: string) => value === 'auto' || value === 'scroll'
    for (const element of document.querySelectorAll<HTMLElement>('body *')) {
      const text = own(element)
      if (text === '' || element.closest('.unseen, .flag-sure, [data-live-announcer], svg, [inert]')) {
        continue
      }
      const range = document.createRange()
      range.selectNodeContents(element)
      const box = range.getBoundingClientRect()
      if (box.width === 0 || !element.checkVisibility({ visibilityProperty: true })) continue
      let isReachable = false
      for (let e: HTMLElement | null = element; e; e = e.parentElement) {
        const style = getComputedStyle(e)
        const frame = e.getBoundingClientRect()
        if (scrolls(style.overflowX) || scrolls(style.overflowY)) {
          isReachable = true
          break
        }
        // A name cut short with … is whole in its tooltip.
        if (style.textOverflow === 'ellipsis' && element.closest('[title]')) continue
        const isWide =
          hides(style.overflowX) && (box.right > frame.right + 1.5 || box.left < frame.left - 1.5)
        const isHigh = hides(style.overflowY) && (box.bottom > frame.bottom + 3 || box.top < frame.top - 3)
        if (isWide || isHigh) {
          found.push(`${name}: “${text.slice(0, 40)}” in .${String(e.className).slice(0, 40)}`)
          break
        }
      }
      if (!isReachable && (box.right > innerWidth + 1 || box.bottom > innerHeight + 1)) {
        found.push(`${name}: “${text.slice(0, 40)}” outside the window`)
      }
    }
    return [...new Set(found)]
  }, screen)

const view = (width: number, height: number, zoom: number) =>
  launched.app.evaluate(
    ({ BrowserWindow }, [w, h, z]) => {
      const [window] = BrowserWindow.getAllWindows()
      window!.setContentSize(w!, h!)
      window!.webContents.setZoomFactor(z!)
    },
    [width, height, zoom],
  )
const theme = async (name: 'light' | 'dark') => {
  await page.evaluate((t) => window.leadside.ask('settings.set', { theme: t }), name)
  await page.waitForSelector(`html[data-theme="${name}"]`)
  await atRest(page)
}

describe('every screen and dialog', () => {
  test.each(['light', 'dark'] as const)('axe finds nothing serious, %s', async (name) => {
    await view(1440, 900, 1)
    await theme(name)
    expect(await walk(seriousFaults)).toEqual([])
  })

  test.each([
    ['at 1024 × 700', 1024, 700, 1],
    ['at 150 %', 1536, 1050, 1.5],
  ] as const)('no text is cut off %s', async (_name, width, height, zoom) => {
    await theme('light')
    await view(width, height, zoom)
    await atRest(page)
    expect(await walk(cutOff)).toEqual([])
  })

  test('where the keyboard is, is always seen', async () => {
    await view(1440, 900, 1)
    const unseen: string[] = []
    for (const go of [roster, desk]) {
      await go()
      await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())
      for (let i = 0; i < 45; i++) {
        await page.keyboard.press('Tab')
        const lost = await page.evaluate(() => {
          const element = document.activeElement
          if (!element || element === document.body) return null
          const outlined = (e: Element | null) => {
            if (!e) return false
            const { outlineStyle, outlineWidth } = getComputedStyle(e)
            return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 1
          }
          // A hidden input shows it on its label.
          const shows =
            outlined(element) ||
            outlined(element.closest('label')) ||
            [...(element.closest('label')?.children ?? [])].some(outlined) ||
            outlined(element.closest('[data-focus-visible]'))
          return shows
            ? null
            : `${element.tagName}.${String(element.className)} ${element.getAttribute('aria-label') ?? ''}`
        })
        if (lost) unseen.push(lost)
      }
    }
    expect([...new Set(unseen)]).toEqual([])
  })

  test('the window complained of nothing', () => {
    // The student's page in the preview lets no script in, axe's neither.
    expect(launched.complaints.filter((c) => !/about:srcdoc.*sandboxed/.test(c))).toEqual([])
  })
})
