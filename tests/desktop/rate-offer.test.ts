import fs from 'node:fs'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { runFfmpegNow } from '../library/support/make-clip.ts'
import { openWithLesson, takeIn, temporaryFolder } from '../library/support/temporary-library.ts'
import { atRest } from './at-rest.ts'
import { launchAtLesson, type LaunchedApp } from './launch.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'

/**
 * The one line that asks how fast a clip was filmed, on films taken in: slow motion stored at 30 frames/s without a word of it in the
 * file, and two films in which no swing tells, and one that is slow in a part only. LEADSIDE_SCREENS names a folder for pictures of it.
 */
const demo = path.resolve(import.meta.dirname, '../../demo-media')
let folder: string
let launched: LaunchedApp
let page: Page
let slowId: string

beforeAll(async () => {
  folder = temporaryFolder()
  const { library, lessonId } = await openWithLesson(path.join(folder, 'library'))
  const coded = ['-c:v', 'libx264', '-preset', 'ultrafast', '-crf', '24', '-pix_fmt', 'yuv420p']
  const slow = path.join(folder, 'slow.mp4')
  const still = path.join(folder, 'address.mp4')
  const slowed = ['-vf', 'setpts=8*PTS,fps=30', '-af', 'asetrate=6000,aresample=48000']
  const from = ['-i', path.join(demo, 'swing-18.mp4'), ...slowed, '-map_metadata', '-1']
  runFfmpegNow(...from, ...coded, '-c:a', 'aac', '-b:a', '96k', slow)
  const again = path.join(folder, 'again.mp4')
  const ramp = path.join(folder, 'ramp.mp4')
  for (const [at, file] of [
    ['0', still],
    ['0.1', again],
  ] as const) {
    runFfmpegNow(
      ...['-ss', at, '-t', '0.5', '-i', path.join(demo, 'swing-11.mp4')],
      ...['-vf', 'fps=30', ...coded, '-an', file],
    )
  }
  runFfmpegNow(
    ...['-i', path.join(demo, 'swing-18.mp4'), '-filter_complex'],
    '[0:v]split[a][b];[a]trim=0:1,setpts=PTS-STARTPTS,fps=30[v0];[b]trim=1:9,setpts=8*(PTS-STARTPTS),fps=30[v1];' +
      '[0:a]asplit[c][d];[c]atrim=0:1,asetpts=PTS-STARTPTS[a0];' +
      '[d]atrim=1:9,asetpts=PTS-STARTPTS,asetrate=6000,aresample=48000[a1];[v0][a0][v1][a1]concat=n=2:v=1:a=1[v][s]',
    ...['-map', '[v]', '-map', '[s]', '-map_metadata', '-1', ...coded, '-c:a', 'aac', '-b:a', '96k', ramp],
  )
  for (const job of await takeIn(library, lessonId, [slow, still, again, ramp])) {
    expect(job.problem).toBeNull()
  }
  const { clips } = await library.ask('lesson.open', { lessonId })
  slowId = clips.find((c) => c.fileName === 'slow.mp4')!.id
  expect(clips.map((c) => [c.fileName, c.captureRateHow, c.captureRate]).sort()).toEqual([
    ['address.mp4', 'assumed', 30],
    ['again.mp4', 'assumed', 30],
    ['ramp.mp4', 'motion', 240],
    ['slow.mp4', 'motion', 240],
  ])
  await library.close()
  launched = await launchAtLesson(path.join(folder, 'library'), 2)
  page = launched.page
}, 240_000)
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const offer = () => page.getByRole('group', { name: 'How fast it was filmed' })
const rateOf = async () => {
  const clip = (await lessonOf(page)).clips.find((c) => c.id === slowId)!
  return { captureRate: clip.captureRate, how: clip.captureRateHow }
}
const untilRate = (captureRate: number, how: string) =>
  untilLesson(page, `filmed at ${captureRate}, ${how}`, (lesson) => {
    const clip = lesson.clips.find((c) => c.id === slowId)!
    return clip.captureRate === captureRate && clip.captureRateHow === how
  })
/** Opens the swing whose clip has that name. */
const open = async (name: RegExp) => {
  const lesson = await lessonOf(page)
  const clip = lesson.clips.find((c) => name.test(c.fileName))!
  const order = [...lesson.swings].sort((a, b) => a.order - b.order)
  const number = order.findIndex((s) => s.views.some((v) => v.clipId === clip.id)) + 1
  await page.getByRole('row', { name: new RegExp(`^Swing ${number}\\b`) }).click()
  await page.waitForSelector(`canvas[data-clip="${clip.id}"][data-place="first"][data-frame]`)
}
const toPicture = () => page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())

const sizes = [
  [1440, 900],
  [1024, 700],
] as const
/** Looks at the line at both sizes, light and dark: axe finds nothing serious, all of it is inside the Stage, and a picture is left. */
const look = async (name: string) => {
  for (const [width, height] of sizes) {
    await launched.app.evaluate(
      ({ BrowserWindow }, [w, h]) => BrowserWindow.getAllWindows()[0]!.setContentSize(w!, h!),
      [width, height],
    )
    for (const theme of ['light', 'dark'] as const) {
      await page.evaluate((t) => window.leadside.ask('settings.set', { theme: t }), theme)
      await page.waitForSelector(`html[data-theme="${theme}"]`)
      await atRest(page)
      const shots = process.env['LEADSIDE_SCREENS']
      if (shots) await page.screenshot({ path: path.join(shots, `${name}-${width}-${theme}.png`) })
      const line = (await offer().boundingBox())!
      const stage = (await page.getByRole('main', { name: 'Stage' }).boundingBox())!
      expect(line.x).toBeGreaterThanOrEqual(stage.x)
      expect(line.x + line.width).toBeLessThanOrEqual(stage.x + stage.width + 0.5)
      expect(line.height).toBeLessThan(90)
      expect((await page.locator('.picture-first').boundingBox())!.height).toBeGreaterThan(height / 3)
      const { violations } = await new AxeBuilder({ page })
        .setLegacyMode(true)
        .include('.rate-offer')
        .analyze()
      expect(violations.filter((v) => v.impact === 'serious' || v.impact === 'critical')).toEqual([])
    }
  }
}

describe('how fast a clip was filmed is asked in one line, never settled unasked', () => {
  test('slow motion that only its swing tells of: the rate is offered, and every time is “about” until answered', async () => {
    await open(/slow/)
    await expect.poll(() => offer().innerText()).toContain('240 frames a second')
    await page.keyboard.press('Alt+2')
    await expect.poll(() => page.locator('.stage-ms').innerText()).toMatch(/^≈ −\d+ ms/)
    await look('guessed')
  })

  test('a press uses it, an undo asks again, and the other answer takes the file’s own', async () => {
    await page.getByRole('button', { name: 'Use 240' }).click()
    await untilRate(240, 'coach')
    await expect.poll(() => offer().count()).toBe(0)
    const about = await page.locator('.stage-ms').innerText()
    expect(about).toMatch(/^−\d+ ms/)
    await toPicture()
    await page.keyboard.press('Control+z')
    await untilRate(240, 'motion')
    await expect.poll(() => page.locator('.stage-ms').innerText()).toBe(`≈ ${about}`)
    await page.getByRole('button', { name: 'No, 30' }).click()
    await untilRate(30, 'coach')
    await expect.poll(() => offer().count()).toBe(0)
    // The same frame is eight times as far from impact.
    const ms = (text: string) => Number(text.replace('−', '-').replace(/[^-\d]/g, ''))
    await expect
      .poll(async () => ms(await page.locator('.stage-ms').innerText()) / ms(about))
      .toBeCloseTo(8, 0)
    await toPicture()
    await page.keyboard.press('Control+z')
    await untilRate(240, 'motion')
    await offer().waitFor()
  })

  test('where nothing tells, that is said, and one press confirms the file’s own rate', async () => {
    await open(/address/)
    await expect.poll(() => offer().innerText()).toContain('can’t be told')
    await look('not told')
    await page.getByRole('button', { name: 'It was 30' }).click()
    await expect.poll(() => offer().count()).toBe(0)
    expect(await rateOf()).toEqual({ captureRate: 240, how: 'motion' })
  })

  test('the answer is told for the camera’s other clip as well, which is said before and after; one undo asks both again', async () => {
    const asked = async () =>
      (await lessonOf(page)).clips
        .filter((c) => /^a/.test(c.fileName) && c.captureRateHow === 'assumed')
        .map((c) => c.fileName)
    expect(await asked()).toEqual([])
    await page.getByText('Told for 1 more clip of this camera').waitFor()
    await toPicture()
    await page.keyboard.press('Control+z')
    await expect.poll(asked).toEqual(['address.mp4', 'again.mp4'])
    await expect.poll(() => offer().innerText()).toContain('holds for 1 more clip of this camera')
  })

  test('a film that is slow in a part only says from when to when', async () => {
    await open(/ramp/)
    await expect
      .poll(() => offer().innerText())
      .toMatch(/slow motion from 1\.\d to 1\d\.\d s, filmed at about 240/)
    await look('slow in a part')
  })

  test('the window complained of nothing', () => {
    expect(launched.complaints).toEqual([])
  })
})
