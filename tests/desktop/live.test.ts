import fs from 'node:fs'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { swingsInOrder } from '../../renderer/store/desk-store.ts'
import { cover } from '../../shared-core/drawing/cover.ts'
import { defaultStyle } from '../../shared-core/drawing/shape-base.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { makeClip, runFfmpegNow } from '../library/support/make-clip.ts'
import { openWithLesson } from '../library/support/temporary-library.ts'
import { atRest } from './at-rest.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { untilLesson } from './library-in-window.ts'

/** A live lesson in the window, from the first folder to the bay view; each test goes on from the one before. */
let folder: string
let lessonId: string
let camera: string
let device: string
let clip: string
let launched: LaunchedApp
let page: Page

const start = async () => {
  // A microphone that gives a beep, on any machine.
  const args = ['--use-fake-device-for-media-stream']
  launched = await launchApp({ library: folder, args })
  page = launched.page
  page.setDefaultTimeout(20_000)
}
const open = (part: 'lesson' | 'bay') => page.evaluate((to) => (location.hash = to), `#/${part}/${lessonId}`)

/** The next dialog for a folder or a file gives this. */
const nextChosen = (filePath: string) =>
  launched.app.evaluate(({ dialog }, chosen) => {
    dialog.showOpenDialog = async () => ({ canceled: false, filePaths: [chosen] })
  }, filePath)

/** The camera's clip and the device's line of one swing, a minute after the one before. */
const hit = (number: number, parts: { clip?: boolean; shot?: boolean } = { clip: true, shot: true }) => {
  const at = new Date(Date.UTC(2026, 4, 1, 9, number)).toISOString()
  if (parts.shot) {
    const time = at.slice(0, 19).replace('T', ' ')
    fs.appendFileSync(device, `${time},Driver,${100 + number},${148 + number},${240 + number}\n`)
  }
  if (parts.clip) {
    const made = path.join(folder, `made-${number}.mp4`)
    runFfmpegNow('-i', clip, '-c', 'copy', '-metadata', `creation_time=${at}`, made)
    fs.renameSync(made, path.join(camera, `swing-${number}.mp4`))
  }
}

const paired = (lesson: OpenLesson) => lesson.swings.filter((s) => s.shotId !== null && s.views.length > 0)

const expectAccessible = async (screen: string) => {
  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze()
  const serious = violations.filter((v) => v.impact === 'serious' || v.impact === 'critical')
  expect(
    serious.map((v) => `${screen}: ${v.id} at ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`),
  ).toEqual([])
}

beforeAll(async () => {
  const made = await openWithLesson()
  ;({ folder, lessonId } = made)
  await made.library.close()
  camera = path.join(folder, 'camera')
  device = path.join(folder, 'device.csv')
  clip = path.join(folder, 'base.mp4')
  fs.mkdirSync(camera)
  makeClip(clip, { seconds: 0.6 })
  fs.writeFileSync(device, 'Time,Club,Club Speed (mph),Ball Speed (mph),Carry (yds)\n')
  await start()
})
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('a live lesson in the window', () => {
  test('begins with a folder and a file, and what arrives stands on the Stage, paired', async () => {
    await open('lesson')
    await page.getByRole('heading', { name: 'No swings yet' }).waitFor()
    await page.keyboard.press('Control+l')
    await page.getByRole('dialog', { name: 'Live lesson' }).waitFor()
    await nextChosen(camera)
    await page.getByRole('button', { name: 'Choose the folder…' }).click()
    await page.getByText(camera, { exact: true }).waitFor()
    await nextChosen(device)
    await page.getByRole('button', { name: 'Choose the file…' }).click()
    await page.getByText(device, { exact: true }).waitFor()
    await expectAccessible('live dialog')
    await page.getByRole('button', { name: 'Start', exact: true }).click()
    await page.getByRole('button', { name: 'Stop', exact: true }).waitFor()
    await page.keyboard.press('Escape')
    await page.getByRole('region', { name: 'Live lesson' }).waitFor()
    hit(1)
    await untilLesson(page, 'a pair', (l) => paired(l).length === 1)
    await page.locator('canvas[data-frame]').waitFor()
  })

  test('a shot without its clip waits visibly; a folder that goes is said and taken up when it is back', async () => {
    hit(2, { shot: true })
    const line = page.getByRole('region', { name: 'Live lesson' })
    await line.getByText('1 shot without a clip').waitFor()
    const away = path.join(folder, 'pulled-out')
    fs.renameSync(camera, away)
    await line.getByText(/The folder of clips is not there/).waitFor()
    await expectAccessible('Desk while live')
    fs.renameSync(away, camera)
    hit(2, { clip: true })
    const lesson = await untilLesson(page, 'two pairs', (l) => paired(l).length === 2)
    const newest = swingsInOrder(lesson).at(-1)!.views[0]!.clipId
    // The one that had just come stood on the Stage, so the next takes its place.
    await page.locator(`canvas[data-clip="${newest}"]`).waitFor()
    await line.getByText(/is not there/).waitFor({ state: 'detached' })
  })

  test('killed and started again, it goes on from what is in the folders', async () => {
    const ended = new Promise((resolve) => launched.app.process().once('exit', resolve))
    launched.app.process().kill('SIGKILL')
    await ended
    hit(3)
    await start()
    await open('lesson')
    await untilLesson(page, 'the pair that came meanwhile', (l) => paired(l).length === 3)
    await page.getByRole('region', { name: 'Live lesson' }).waitFor()
  })
})

describe('still pictures', () => {
  const stills = (lesson: OpenLesson) => lesson.clips.filter((c) => c.stillKind !== null)
  const untilStills = (what: string, count: number) =>
    untilLesson(page, what, (l) => stills(l).length === count)

  test('come from the watched folder, from the clipboard and from a frame of the film, and leave the Stage to the swing', async () => {
    await page.locator('canvas[data-frame]').waitFor()
    const shown = await page.locator('canvas[data-clip]').getAttribute('data-clip')
    const made = path.join(folder, 'grip.jpg')
    runFfmpegNow('-i', clip, '-frames:v', '1', made)
    fs.renameSync(made, path.join(camera, 'grip.jpg'))
    expect(stills(await untilStills('a picture in the folder', 1)).map((c) => c.stillKind)).toEqual(['grip'])
    await page.evaluate(async () => {
      const canvas = Object.assign(document.createElement('canvas'), { width: 80, height: 60 })
      canvas.getContext('2d')!.fillRect(0, 0, 80, 60)
      const blob = await new Promise<Blob>((done) => canvas.toBlob((b) => done(b!), 'image/png'))
      const clipboardData = new DataTransfer()
      clipboardData.items.add(new File([blob], 'image.png', { type: 'image/png' }))
      document.body.dispatchEvent(
        new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }),
      )
    })
    expect(stills(await untilStills('a pasted picture', 2)).map((c) => c.fileName)).toContain(
      'pasted picture',
    )
    await page.keyboard.press('Shift+K')
    const lesson = await untilStills('a frame that was kept', 3)
    expect(stills(lesson).some((c) => /^swing-\d+\.mp4, frame \d+$/.test(c.fileName))).toBe(true)
    expect(paired(lesson)).toHaveLength(3)
    expect(await page.locator('canvas[data-clip]').getAttribute('data-clip')).toBe(shown)
    await page
      .getByRole('row', { name: /^Picture/ })
      .first()
      .waitFor()
  })
})

describe('the bay view', () => {
  const shownStanding = () => page.locator('.bay-standing').textContent()
  const untilStanding = (words: string) => page.locator('.bay-standing', { hasText: words }).waitFor()

  test('shows the last swing and its numbers, and nothing private', async () => {
    await page.keyboard.press('Control+b')
    await page.locator('.bay canvas[data-frame]').waitFor()
    await untilStanding('Swing 3')
    const text = await page.locator('.bay').innerText()
    expect(text).toContain('151')
    expect(text).toContain('103')
    expect(text).toContain('1.47')
    expect(text).not.toContain('Robin')
    await expectAccessible('bay view')
  })

  test('what was covered stays covered in the loop', async () => {
    const lesson = await untilLesson(page, 'the newest pair', (l) => paired(l).length === 3)
    const { id: viewId, clipId } = swingsInOrder(lesson).at(-1)!.views[0]!
    const { width, height } = lesson.clips.find((c) => c.id === clipId)!
    const stage = page.locator('.bay-picture')
    /** Share of the middle of the picture that has the colour of a cover. */
    const coveredShare = async () => {
      const png = (await stage.screenshot()).toString('base64')
      return page.evaluate(async (base64) => {
        const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))
        const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }))
        const context = new OffscreenCanvas(image.width, image.height).getContext('2d')!
        context.drawImage(image, 0, 0)
        const side = 20
        const { data } = context.getImageData(image.width / 2 - 10, image.height / 2 - 10, side, side)
        const fill = [0x1a, 0x1d, 0x24]
        let count = 0
        for (let i = 0; i < data.length; i += 4) {
          if (fill.every((v, c) => Math.abs(data[i + c]! - v) <= 2)) count += 1
        }
        return count / side ** 2
      }, png)
    }
    expect(await coveredShare()).toBeLessThan(0.1)
    const shape = cover.create(
      [
        { x: 0.3 * width, y: 0.3 * height },
        { x: 0.7 * width, y: 0.7 * height },
      ],
      defaultStyle,
    )
    await page.evaluate(
      ([view, drawn]) =>
        window.leadside.ask('drawing.add', {
          ...{ viewId: view, momentId: null, fromFrame: 0, toFrame: 0 },
          shape: drawn,
        }),
      [viewId, shape] as const,
    )
    await stage.locator('ellipse').waitFor()
    expect(await coveredShare()).toBe(1)
    await page.keyboard.press('Control+z')
    await stage.locator('ellipse').waitFor({ state: 'detached' })
  })

  test('every key does what it says, without a mouse', async () => {
    await page.keyboard.press('s')
    await untilLesson(page, 'a star', (l) => swingsInOrder(l).at(-1)!.isStarred)
    await page.keyboard.press('d')
    await untilLesson(page, 'did it', (l) => swingsInOrder(l).at(-1)!.didAsked === true)
    await page.locator('.bay-row', { hasText: '1 in a row' }).waitFor()
    await page.keyboard.press('x')
    await untilLesson(page, 'left out', (l) => l.shots.filter((s) => s.isLeftOut).length === 1)
    // What is left out counts for nothing.
    await page.locator('.bay-row').waitFor({ state: 'detached' })
    await page.keyboard.press('Control+z')
    await untilLesson(page, 'back in', (l) => l.shots.every((s) => !s.isLeftOut))
  })

  test('frozen, a swing stays while the next arrives; a new block with a focus takes that one in', async () => {
    await page.keyboard.press('Space')
    await untilStanding('frozen')
    await page.keyboard.press('b')
    await page.getByRole('dialog', { name: 'New block' }).waitFor()
    await atRest(page)
    await expectAccessible('new block')
    await page.keyboard.type('soft shoulders')
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { name: 'soft shoulders' }).waitFor()
    hit(4)
    const lesson = await untilLesson(page, 'four pairs', (l) => paired(l).length === 4)
    expect(lesson.blocks.map((b) => [b.focus, b.isBaseline])).toEqual([
      ['', true],
      ['soft shoulders', false],
    ])
    const inSecond = lesson.swings.filter((s) => s.blockId === lesson.blocks[1]!.id)
    expect(inSecond.map((s) => s.id)).toEqual([swingsInOrder(lesson).at(-1)!.id])
    await untilStanding('frozen, 1 newer')
    expect(await shownStanding()).toContain('Swing 3')
    await page.keyboard.press('Space')
    await untilStanding('Swing 4')
    await page.keyboard.press('Escape')
    await page.getByRole('complementary', { name: 'Tray' }).waitFor()
    expect(launched.complaints).toEqual([])
  })
})

describe('the swish meter', () => {
  test('says what to mind first, hears no swish in a plain tone, and the microphone only while it is open', async () => {
    await page.keyboard.press('Control+j')
    const meter = page.getByRole('dialog', { name: 'Swish meter' })
    await meter.getByText(/room on all sides/).waitFor()
    await meter.getByText('No swish was heard in this clip.').waitFor()
    await expectAccessible('swish meter')
    await page.evaluate(() => {
      const opened: MediaStreamTrack[] = []
      Object.assign(globalThis, { microphones: opened })
      const devices = navigator.mediaDevices
      const ask = devices.getUserMedia.bind(devices)
      devices.getUserMedia = async (wanted) => {
        const stream = await ask(wanted)
        opened.push(...stream.getTracks())
        return stream
      }
    })
    await meter.getByRole('button', { name: 'Listen by the microphone' }).click()
    await meter.getByText('Listening; nothing is recorded.').waitFor()
    const states = () =>
      page.evaluate(() =>
        (globalThis as unknown as { microphones: MediaStreamTrack[] }).microphones.map((t) => t.readyState),
      )
    expect(await states()).toEqual(['live'])
    await page.keyboard.press('Escape')
    await meter.waitFor({ state: 'detached' })
    expect(await states()).toEqual(['ended'])
  })
})
