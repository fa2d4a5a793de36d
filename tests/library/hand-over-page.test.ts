import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { buffer } from 'node:stream/consumers'
import { pathToFileURL } from 'node:url'
import { AxeBuilder } from '@axe-core/playwright'
import { chromium, type Browser, type Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import yauzl from 'yauzl'
import { browserPrinter, findBrowser } from '../../electron/library/hand-over/print-pdf.ts'
import { readPicture } from '../../electron/library/hand-over/talk-pictures.ts'
import { Library } from '../../electron/library/library.ts'
import { shapes } from '../../shared-core/drawing/shapes.ts'
import { en, type MessageKey } from '../../shared-core/wording/en.ts'
import { catalogues, sayIn } from '../../shared-core/wording/say.ts'
import { hasPoppler } from './support/has-poppler.ts'
import { indexFrom, phoneSecrets, writeIndexedClip } from './support/indexed-clip.ts'
import { writePackage } from './support/lesson-with-drawing.ts'
import { probed, runFfmpegNow } from './support/make-clip.ts'
import { filesBelow, takeIn, temporaryFolder } from './support/temporary-library.ts'
import { agreed } from './support/agreed.ts'

/** The student's package as the student meets it: opened from the disk, in a browser, on a phone, without a network. */
const browserFile = findBrowser()
const canTest = browserFile !== null && hasPoppler()
if (!canTest) console.warn('skipped: the package in a real browser: needs chromium and poppler-utils')

const phone = { width: 390, height: 844 }
const clips = {
  // Both run eight times slower than real; the second plays stretched already in its own file.
  'plain.mp4': { width: 1920, height: 1080, rate: 240, captureRate: 240, frames: 60, top: 20, impact: 40 },
  'stretched.mp4': { width: 320, height: 180, rate: 30, captureRate: 240, frames: 50, top: 12, impact: 31 },
  // Sixty a second, eight times slower, would be a slide show: it is shown as slow as it allows.
  'upright.mp4': { width: 180, height: 320, rate: 60, captureRate: 60, frames: 40, top: 9, impact: 23 },
}
type ClipName = keyof typeof clips
const names = Object.keys(clips) as ClipName[]

const message = [
  'Your left side held through the strike today, and the ball told us.',
  ...Array.from(
    { length: 6 },
    (_, i) =>
      `Paragraph ${i + 1}: keep the width, brace early, and let the club swing past you without help.`,
  ),
  'Unbroken: ' + 'w'.repeat(120),
].join('\n\n')

let folder: string
let library: Library
let made: string
let zip: string
let browser: Browser
let page: Page
const requests: string[] = []

beforeAll(async () => {
  if (!canTest) return
  folder = temporaryFolder()
  library = new Library({ folder: path.join(folder, 'library'), printPdf: browserPrinter(browserFile) })
  ;({ made, zip } = await writeLesson())
  // The flag lets this test read the pixels of a clip from the disk; what the page itself may do stays the same.
  browser = await chromium.launch({
    executablePath: browserFile,
    args: [...(process.getuid?.() === 0 ? ['--no-sandbox'] : []), '--allow-file-access-from-files'],
  })
  const context = await browser.newContext({
    viewport: phone,
    isMobile: true,
    hasTouch: true,
    deviceScaleFactor: 2,
    offline: true,
  })
  context.on('request', (request) => requests.push(request.url()))
  page = await context.newPage()
  await page.goto(pathToFileURL(path.join(made, 'index.html')).href)
}, 600_000)
afterAll(async () => {
  await browser?.close()
  await library?.close()
  if (folder) fs.rmSync(folder, { recursive: true, force: true })
})

const writeLesson = async () => {
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  await library.ask('student.consent', {
    id: studentId,
    consent: agreed(),
  })
  const { id: lessonId } = await library.ask('lesson.create', {
    studentId,
    date: '2026-05-01',
    title: 'A lesson',
  })
  const files = names.map((name) => path.join(folder, name))
  names.forEach((name, i) => writeIndexedClip(files[i]!, clips[name]))
  for (const job of await takeIn(library, lessonId, files)) expect(job.problem).toBeNull()
  const shots = path.join(folder, 'shots.csv')
  const rows = Array.from({ length: 12 }, (_, i) => `Driver,${90 + (i % 4)},${130 + ((i * 7) % 5)}`)
  fs.writeFileSync(shots, ['Club,Club Speed (mph),Ball Speed (mph)', ...rows].join('\n'))
  await library.ask('shots.add', { lessonId, file: shots })

  const lesson = await library.ask('lesson.open', { lessonId })
  const views = new Map<ClipName, string>()
  const swings = []
  for (const name of names) {
    const clip = lesson.clips.find((c) => c.fileName === name)!
    await library.ask('clip.update', { id: clip.id, patch: { captureRate: clips[name].captureRate } })
    const viewId = lesson.swings.flatMap((s) => s.views).find((v) => v.clipId === clip.id)!.id
    views.set(name, viewId)
    const { width, height } = clips[name]
    const momentIds = []
    for (const moment of ['top', 'impact'] as const) {
      const frame = clips[name][moment]
      const { id: momentId } = await library.ask('moment.place', { viewId, name: moment, frame })
      momentIds.push(momentId)
      await library.ask('drawing.add', {
        viewId,
        momentId,
        fromFrame: frame,
        toFrame: frame,
        shape: {
          ...shapes.line.create(
            [
              { x: 0.2 * width, y: drawnAt.y * height },
              { x: 0.8 * width, y: drawnAt.y * height },
            ],
            { tone: 'apricot', widthPx: 0.06 * width, isDashed: false },
          ),
          label: 'Hips',
        },
      })
    }
    swings.push({ viewId, caption: `What I saw in ${name}`, momentIds, withClip: true })
  }
  // Two cameras of one swing: one title, and yet two clips.
  const swingOf = (name: ClipName) =>
    lesson.swings.find((s) => s.views.some((v) => v.id === views.get(name)))!.id
  await library.ask('pair.set', { swingId: swingOf('upright.mp4'), shotId: null, refit: false })
  await library.ask('swing.join', { swingId: swingOf('stretched.mp4'), fromSwingId: swingOf('upright.mp4') })
  await library.ask('comparison.save', {
    id: null,
    lessonId,
    name: 'Then and now',
    firstViewId: views.get('stretched.mp4')!,
    secondViewId: views.get('upright.mp4')!,
    lockedOn: 'impact',
    arrangement: 'beside',
    opacity: 0.5,
    isStretched: false,
    mirrorSecond: false,
  })
  const [drill] = (await library.ask('drill.list', {})).filter((d) => d.caution !== '')
  const { id: drillId, name, how, dose, watchFor, caution, isLoading } = drill!
  await library.ask('plan.save', {
    lessonId,
    items: [{ drillId, name, how, dose, watchFor, caution, isLoading }],
    note: 'Twice a week is plenty.',
    outcome: '',
  })
  await library.ask('lesson.update', { id: lessonId, patch: { nextFocus: 'The brace, a little earlier.' } })
  const sound = path.join(folder, 'voice.wav')
  runFfmpegNow('-f', 'lavfi', '-i', 'sine=frequency=300:duration=1.5', '-ac', '1', sound)
  const { jobId } = await library.ask('talk.save', {
    lessonId,
    name: 'In my words',
    soundFile: sound,
    timeline: { version: 1, events: [{ atSeconds: 0, viewId: views.get('stretched.mp4')!, frame: 31 }] },
  })
  const talk = await library.context.jobs.ended(jobId)
  const draft = await library.ask('handOver.draft', { lessonId })
  const comparisonIds = (await library.ask('lesson.open', { lessonId })).comparisons.map((c) => c.id)
  const talkThroughIds = [talk.result!]
  await library.ask('handOver.saveDraft', {
    ...draft,
    message,
    swings,
    comparisonIds,
    talkThroughIds,
    slowBy: 8,
  })
  const job = await writePackage({ library, lessonId }, path.join(folder, 'out'))
  expect(job.problem).toBeNull()
  const [record] = await library.ask('handOver.list', { lessonId })
  return { made: record!.folder, zip: record!.zip }
}

/** In the grey part, where every drawing of this lesson goes through; shares of the picture. */
const drawnAt = { x: 0.5, y: 0.6 }

interface Shown {
  duration: number
  label: string
  holds: { atSeconds: number; untilSeconds: number; text: string }[]
}

/** The clip whose words below say so, on the page. */
const clipOf = (words: string) =>
  page.locator('figure', { hasText: words }).filter({ has: page.locator('video') })
const figureOf = (name: ClipName) =>
  page
    .locator('section', { hasText: `What I saw in ${name}` })
    .locator('figure')
    .filter({ has: page.locator('video') })

const shownOf = async (figure: ReturnType<typeof clipOf>): Promise<Shown> => ({
  label: await figure.locator('.speed').innerText(),
  ...(await figure.locator('video').evaluate(async (element) => {
    const video = element as HTMLVideoElement
    const until = (ready: () => boolean, name: string, of: EventTarget) =>
      ready() ? undefined : new Promise((resolve) => of.addEventListener(name, resolve, { once: true }))
    await until(() => video.readyState >= 1, 'loadedmetadata', video)
    const track = video.querySelector('track')
    if (track) {
      const loaded = new Promise((resolve) => track.addEventListener('load', resolve, { once: true }))
      track.track.mode = 'hidden'
      if (track.readyState !== 2) await loaded
    }
    const holds = [...(track?.track.cues ?? [])].map((cue) => ({
      atSeconds: cue.startTime,
      untilSeconds: cue.endTime,
      text: (cue as VTTCue).text,
    }))
    return { duration: video.duration, holds }
  })),
})

/** What is seen at an instant: red, green and blue of a point, by shares of the picture. */
const pictureAt = async (figure: ReturnType<typeof clipOf>, seconds: number) => {
  const { width, height, data } = await figure.locator('video').evaluate(async (element, at) => {
    const video = element as HTMLVideoElement
    const seeked = new Promise((resolve) => video.addEventListener('seeked', resolve, { once: true }))
    // "seeked" may come before the new picture stands; where the same picture stays, no new one ever comes.
    const painted = new Promise((resolve) => video.requestVideoFrameCallback(resolve))
    video.currentTime = at
    await seeked
    await Promise.race([painted, new Promise((resolve) => setTimeout(resolve, 1000))])
    // Small enough to be handed over, and every block of the pattern still many pixels wide.
    const canvas = document.createElement('canvas')
    canvas.width = 128
    canvas.height = Math.round((128 * video.videoHeight) / video.videoWidth)
    const pen = canvas.getContext('2d')!
    pen.drawImage(video, 0, 0, canvas.width, canvas.height)
    const pixels = pen.getImageData(0, 0, canvas.width, canvas.height)
    return { width: pixels.width, height: pixels.height, data: [...pixels.data] }
  }, seconds)
  return (x: number, y: number): [number, number, number] => {
    const at = (Math.floor(y * height) * width + Math.floor(x * width)) * 4
    return [data[at]!, data[at + 1]!, data[at + 2]!]
  }
}
type Seen = Awaited<ReturnType<typeof pictureAt>>
const indexOn = (seen: Seen, place = {}) => indexFrom((x, y) => seen(x, y)[0], place)
const isDrawn = ([r, , b]: [number, number, number]) => r - b > 40

/** One output frame of the package's clips; all of this lesson are small or slow enough for 30 a second. */
const frameSeconds = 1 / 30

describe.skipIf(!canTest && !process.env.CI)(
  'the package in a browser, on a phone, without a network',
  () => {
    it.each(names)(
      'holds the marked moments of %s for two seconds, drawn on, at the speed it says',
      async (name) => {
        const { captureRate, frames, top, impact } = clips[name]
        const figure = figureOf(name)
        const { label, duration, holds } = await shownOf(figure)
        const slowBy = name === 'upright.mp4' ? 6 : 8
        expect(label).toBe(`1/${slowBy} of real speed`)
        const msBefore = Math.round(((impact - top) / captureRate) * 1000)
        expect(holds.map((h) => h.text)).toEqual([`Top, ${msBefore} ms before impact`, 'Impact'])
        expect(await figure.locator('.holds li').allInnerTexts()).toEqual(
          holds.map((h) => expect.stringMatching(new RegExp(`^0:0${h.atSeconds.toFixed(1)}\\s*${h.text}$`))),
        )
        // By hand: real seconds from the first frame, times the slowness; a held frame lasts two seconds instead of its own.
        const slow = (n: number) => (n / captureRate) * slowBy
        const stay = 2 - slow(1)
        expect(holds[0]!.atSeconds).toBeCloseTo(slow(top), 2)
        expect(holds[1]!.atSeconds).toBeCloseTo(slow(impact) + stay, 2)
        // The very last frame is seen at least once; how long it would last nobody knows.
        expect(Math.abs(duration - (slow(frames - 1) + 2 * stay + frameSeconds))).toBeLessThan(0.01)
        for (const [i, held] of [top, impact].entries()) {
          const { atSeconds, untilSeconds } = holds[i]!
          expect(untilSeconds - atSeconds).toBeCloseTo(2, 2)
          for (const at of [atSeconds + frameSeconds / 2, atSeconds + 1, untilSeconds - frameSeconds / 2]) {
            const seen = await pictureAt(figure, at)
            expect(indexOn(seen)).toBe(held)
            expect(isDrawn(seen(drawnAt.x, drawnAt.y)), `${seen(drawnAt.x, drawnAt.y)} at ${at}`).toBe(true)
          }
          const [before, after] = [
            await pictureAt(figure, atSeconds - frameSeconds / 2),
            await pictureAt(figure, untilSeconds + frameSeconds / 2),
          ]
          expect([indexOn(before), indexOn(after)]).toEqual([held - 1, held + 1])
          expect([before, after].map((seen) => isDrawn(seen(drawnAt.x, drawnAt.y)))).toEqual([false, false])
        }
        // The speed by the pictures alone, between two frames with no hold between them.
        const [a, b] = [top + 2, impact - 2]
        const from = slow(a) + stay + frameSeconds / 2
        expect(indexOn(await pictureAt(figure, from))).toBe(a)
        expect(indexOn(await pictureAt(figure, from + ((b - a) / captureRate) * slowBy))).toBe(b)
      },
    )

    it('shows before and after in one clip, both on their impact while it holds', async () => {
      const figure = clipOf('together at impact')
      const { label, holds } = await shownOf(figure)
      expect(label).toBe('1/6 of real speed')
      expect(holds.map((h) => h.text)).toEqual(['Both at impact'])
      const [{ atSeconds, untilSeconds }] = holds as [Shown['holds'][number]]
      expect(untilSeconds - atSeconds).toBeCloseTo(2, 2)
      // 320 × 180 beside 180 × 320, both as tall as the lower of the two: 180.
      const { width, height } = await figure.locator('video').evaluate((v) => ({
        width: (v as HTMLVideoElement).videoWidth,
        height: (v as HTMLVideoElement).videoHeight,
      }))
      expect(height).toBe(180)
      const left = { left: 0, span: 320 / width }
      const right = { left: 320 / width, span: (width - 320) / width }
      for (const at of [atSeconds + frameSeconds / 2, untilSeconds - frameSeconds / 2]) {
        const seen = await pictureAt(figure, at)
        expect([indexOn(seen, left), indexOn(seen, right)]).toEqual([31, 23])
        for (const side of [left, right]) {
          expect(isDrawn(seen(side.left + side.span * drawnAt.x, drawnAt.y))).toBe(true)
        }
      }
      const before = await pictureAt(figure, atSeconds - frameSeconds / 2)
      expect([indexOn(before, left), indexOn(before, right)]).toEqual([30, 22])
      // Real time runs on alike: 20 ms before, five frames of 240 a second, one of 60 a second and a bit.
      const earlier = await pictureAt(figure, atSeconds - 6 * 0.02 - frameSeconds / 2)
      expect(31 - indexOn(earlier, left)).toBeGreaterThanOrEqual(5)
      expect(31 - indexOn(earlier, left)).toBeLessThanOrEqual(7)
      expect(23 - indexOn(earlier, right)).toBe(2)
    })

    it('plays every clip to its end', async () => {
      const figures = page.locator('figure').filter({ has: page.locator('video') })
      expect(await figures.count()).toBe(names.length + 2)
      for (const figure of await figures.all()) {
        const { ended, error, at, duration } = await figure.locator('video').evaluate(async (element) => {
          const video = element as HTMLVideoElement
          video.muted = true
          video.currentTime = 0
          video.playbackRate = 4
          const over = new Promise((resolve) => {
            video.addEventListener('ended', resolve, { once: true })
            video.addEventListener('error', resolve, { once: true })
          })
          await video.play()
          await over
          return {
            ended: video.ended,
            error: video.error?.message,
            at: video.currentTime,
            duration: video.duration,
          }
        })
        expect({ ended, error }).toEqual({ ended: true, error: undefined })
        expect(at).toBeCloseTo(duration, 1)
      }
    })

    it('looks the same as the clip in its stills: the moment’s own frame with its drawing', async () => {
      for (const name of names) {
        const images = page.locator('section', { hasText: `What I saw in ${name}` }).locator('.stills img')
        expect(await images.count()).toBe(2)
        for (const [i, moment] of (['top', 'impact'] as const).entries()) {
          const image = images.nth(i)
          const file = path.join(folder, 'still.jpg')
          const source = (await image.getAttribute('src'))!
          fs.writeFileSync(file, Buffer.from(source.split(',')[1]!, 'base64'))
          const { width, height, rgba } = await readPicture(file)
          const at = (x: number, y: number) => {
            const o = (Math.floor(y * height) * width + Math.floor(x * width)) * 4
            return [rgba[o]!, rgba[o + 1]!, rgba[o + 2]!] as [number, number, number]
          }
          expect(indexFrom((x, y) => at(x, y)[0])).toBe(clips[name][moment])
          expect(isDrawn(at(drawnAt.x, drawnAt.y))).toBe(true)
          expect(await image.getAttribute('alt')).toMatch(/drawn on it: Hips/)
        }
      }
    })

    it.each(['light', 'dark'] as const)(
      'fits the phone and is readable for everyone, %s',
      async (colorScheme) => {
        await page.emulateMedia({ colorScheme })
        const ground = await page.evaluate(() => getComputedStyle(document.body).backgroundColor)
        const [r = 0, g = 0, b = 0] = ground.match(/\d+/g)!.map(Number)
        if (colorScheme === 'light') expect(Math.min(r, g, b)).toBeGreaterThan(200)
        else expect(Math.max(r, g, b)).toBeLessThan(60)
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
          phone.width,
        )
        const lacking = await page.evaluate(() => ({
          alt: [...document.querySelectorAll('img')].filter((i) => !i.alt.trim()).length,
          pictures: [...document.querySelectorAll('img')].filter((i) => i.naturalWidth === 0).length,
          labels: [...document.querySelectorAll('video, [role=img]')].filter(
            (v) => !v.getAttribute('aria-label'),
          ).length,
        }))
        expect(lacking).toEqual({ alt: 0, pictures: 0, labels: 0 })
        const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze()
        expect(
          violations
            .filter((v) => v.impact === 'serious' || v.impact === 'critical')
            .map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`),
        ).toEqual([])
      },
    )

    it.each([
      ['A4', 595, 842],
      ['Letter', 612, 792],
    ] as const)(
      'prints on %s with every word, and nothing beyond the edges',
      async (format, width, height) => {
        const file = path.join(folder, `${format}.pdf`)
        fs.writeFileSync(file, await page.pdf({ format, printBackground: true }))
        await page.emulateMedia({ media: 'print' })
        const words = (await page.evaluate(() => document.body.innerText)).split(/\s+/).filter(Boolean)
        await page.emulateMedia({ media: null })
        await expectWholePages(file, words, { width, height })
      },
    )

    it('has a contents in reach all the way down, and nothing to press that is too small for a finger', async () => {
      await page.setViewportSize(phone)
      const links = page.getByRole('navigation', { name: 'On this page' }).getByRole('link')
      const names = await links.allInnerTexts()
      expect(names).toEqual(['In short', 'Before', 'Shots', 'Talk', 'Swings', 'Practice', 'Next', '↑ Top'])
      await links.nth(names.indexOf('Swings')).tap()
      const places = await page.evaluate(() => ({
        scrolled: scrollY,
        nav: document.querySelector('nav')!.getBoundingClientRect().top,
        heading: document.querySelector('#swings h2')!.getBoundingClientRect().top,
      }))
      expect(places.scrolled).toBeGreaterThan(500)
      expect(places.nav).toBe(0)
      expect(places.heading).toBeGreaterThan(40)
      expect(places.heading).toBeLessThan(150)
      const small = await page.evaluate(() =>
        [...document.querySelectorAll('a, summary, label, video, button')]
          .map((e) => ({ e, box: e.getBoundingClientRect() }))
          .filter(({ box }) => box.width > 0 && (box.height < 44 || box.width < 44))
          .map(({ e, box }) => `${e.tagName} ${e.textContent} ${box.width}×${box.height}`),
      )
      expect(small).toEqual([])
      await links.last().tap()
      expect(await page.evaluate(() => scrollY)).toBe(0)
    })

    it('is read aloud in the order it stands: who, what for, chapter by chapter, each swing’s words after its title', async () => {
      const read = await page.locator('body').ariaSnapshot()
      const titles = [...read.matchAll(/heading "([^"]+)" \[level=(\d)\]/g)].map(
        ([, title, level]) => `${level} ${title}`,
      )
      expect(titles[0]).toMatch(/^1 /)
      expect(titles.filter((t) => t.startsWith('2 '))).toEqual([
        '2 In short',
        '2 Before and after',
        '2 Your lesson, shot by shot',
        '2 Talked through',
        '2 Moments that matter',
        '2 Until next time',
        '2 Next lesson',
      ])
      // No level is left out on the way down.
      const levels = titles.map((t) => Number(t[0]))
      levels.forEach((level, i) => i > 0 && expect(level - levels[i - 1]!).toBeLessThanOrEqual(1))
      const at = (text: string) => {
        const place = read.indexOf(text)
        expect(place, text).toBeGreaterThan(-1)
        return place
      }
      const order = [
        at('navigation "On this page"'),
        at('main'),
        at('Your left side held'),
        at('heading "In short"'),
      ]
      expect(order).toEqual(order.toSorted((a, b) => a - b))
      for (const name of names) {
        expect(at(`What I saw in ${name}`)).toBeGreaterThan(at('heading "Moments that matter"'))
      }
    })

    it('asked nobody for anything, all the time', () => {
      expect(requests.length).toBeGreaterThan(names.length)
      const inside = pathToFileURL(made).href
      expect(requests.filter((url) => !url.startsWith('data:') && !url.startsWith(inside))).toEqual([])
    })
  },
)

/** Pages of that size, as many as there should be, every word on them and white margins all around. */
const expectWholePages = async (
  file: string,
  words: readonly string[],
  size: { width: number; height: number },
) => {
  const info = execFileSync('pdfinfo', [file], { encoding: 'utf8' })
  const pages = Number(/Pages:\s+(\d+)/.exec(info)![1])
  const [, width, height] = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(info)!.map(Number)
  expect(Math.abs(width! - size.width)).toBeLessThan(1)
  expect(Math.abs(height! - size.height)).toBeLessThan(1)
  // Three swings of two stills each, a comparison, a talk, charts, a plan: a handful of pages, none of them empty.
  expect(pages).toBeGreaterThanOrEqual(3)
  expect(pages).toBeLessThanOrEqual(7)

  const letters = (text: string) => text.normalize('NFKC').replace(/\s+/g, '')
  const printed = letters(execFileSync('pdftotext', [file, '-'], { encoding: 'utf8' }))
  expect(words.length).toBeGreaterThan(150)
  expect(words.filter((word) => !printed.includes(letters(word)))).toEqual([])

  // A swing's words, numbers and stills stay together.
  const texts = execFileSync('pdftotext', [file, '-'], { encoding: 'utf8' }).split('\f')
  for (const name of names) {
    const own = texts.filter((text) => text.includes(`What I saw in ${name}`))
    expect(own).toHaveLength(1)
    const ms = Math.round(((clips[name].impact - clips[name].top) / clips[name].captureRate) * 1000)
    expect(own[0]).toMatch(new RegExp(`Top, ${ms} ms before\\s+impact`))
  }

  const prefix = file.replace(/\.pdf$/, '')
  execFileSync('pdftoppm', ['-r', '50', '-png', file, prefix])
  for (let n = 1; n <= pages; n++) {
    const { width: w, height: h, rgba } = await readPicture(`${prefix}-${n}.png`)
    const inked = (x: number, y: number) => rgba[(y * w + x) * 4 + 1]! < 245
    // 10 mm at 50 dots an inch, less than the page's own margins.
    const edge = Math.floor((10 / 25.4) * 50)
    let [inside, beyond] = [0, 0]
    for (let y = 0; y < h; y++) {
      for (let x = 0; x < w; x++) {
        if (!inked(x, y)) continue
        if (x < edge || y < edge || x >= w - edge || y >= h - edge) beyond += 1
        else inside += 1
      }
    }
    expect(beyond, `page ${n} runs over its edge`).toBe(0)
    expect(inside, `page ${n} is empty`).toBeGreaterThan(200)
  }
}

describe.skipIf(!canTest && !process.env.CI)('the files of the package', () => {
  it('are clips that play everywhere and tell nothing of the phone', () => {
    const written = fs.readdirSync(path.join(made, 'clips'))
    expect(written).toHaveLength(names.length + 2)
    const withSound: string[] = []
    for (const name of written) {
      const file = path.join(made, 'clips', name)
      const { streams, format } = probed<{
        streams: Record<string, unknown>[]
        format: { tags?: Record<string, string> }
      }>(file)
      const [video, sound, ...more] = streams.toSorted((a) => (a['codec_type'] === 'video' ? -1 : 1))
      expect(more).toEqual([])
      expect(video).toMatchObject({ codec_name: 'h264', profile: 'High', pix_fmt: 'yuv420p' })
      expect(video!['level']).toBeLessThanOrEqual(41)
      const sides = [video!['width'], video!['height']] as number[]
      expect(Math.min(...sides)).toBeLessThanOrEqual(1080)
      expect(Math.max(...sides)).toBeLessThanOrEqual(1920)
      if (sound) {
        expect(sound['codec_name']).toBe('aac')
        withSound.push(name)
      }
      const head = fs.readFileSync(file).toString('latin1')
      expect(head.indexOf('moov')).toBeGreaterThan(0)
      expect(head.indexOf('moov')).toBeLessThan(head.indexOf('mdat'))
      const kept = [format, ...streams].flatMap((part) =>
        Object.keys((part as { tags?: Record<string, string> }).tags ?? {}),
      )
      const harmless =
        /^(major_brand|minor_version|compatible_brands|language|handler_name|vendor_id|encoder)$/
      expect(kept.filter((key) => !harmless.test(key))).toEqual([])
    }
    expect(withSound).toEqual(['talk-through-1.mp4'])
  })

  it('hold nothing of the phone anywhere, which the clips taken in do', () => {
    const secrets = [...phoneSecrets, folder, 'Exif']
    const taken = fs.readFileSync(path.join(folder, 'plain.mp4')).toString('latin1')
    expect(phoneSecrets.slice(0, 3).filter((secret) => !taken.includes(secret))).toEqual([])
    const files = filesBelow(made).filter((name) => fs.statSync(path.join(made, name)).isFile())
    expect(files.filter((name) => !name.startsWith('clips'))).toEqual([
      'index.html',
      'lesson.json',
      'lesson.pdf',
      'shots.csv',
    ])
    for (const name of files) {
      const bytes = fs.readFileSync(path.join(made, name)).toString('latin1')
      expect(
        secrets.filter((secret) => bytes.includes(secret)),
        name,
      ).toEqual([])
    }
    const page = fs.readFileSync(path.join(made, 'index.html'), 'utf8')
    const pictures = [...page.matchAll(/data:image\/jpeg;base64,([A-Za-z0-9+/=]+)/g)]
    expect(pictures.length).toBeGreaterThanOrEqual(2 * names.length)
    for (const [, base64] of pictures) {
      expect(Buffer.from(base64!, 'base64').toString('latin1')).not.toContain('Exif')
    }
  })

  it('are a lesson.pdf with every word of the printed page', async () => {
    await page.emulateMedia({ media: 'print' })
    const words = (await page.evaluate(() => document.body.innerText)).split(/\s+/).filter(Boolean)
    await page.emulateMedia({ media: null })
    const copy = path.join(folder, 'lesson-copy.pdf')
    fs.copyFileSync(path.join(made, 'lesson.pdf'), copy)
    await expectWholePages(copy, words, { width: 595, height: 842 })
  })

  it('are the same in the zip, under one folder with the package’s name', async () => {
    expect(zip).toBe(`${made}.zip`)
    const zipped = await unzip(zip)
    const files = filesBelow(made).filter((name) => fs.statSync(path.join(made, name)).isFile())
    expect([...zipped.keys()].toSorted()).toEqual(files.map((name) => `${path.basename(made)}/${name}`))
    for (const [name, bytes] of zipped) {
      expect(bytes.equals(fs.readFileSync(path.join(path.dirname(made), name))), name).toBe(true)
    }
  })
})

const unzip = (file: string): Promise<Map<string, Buffer>> =>
  new Promise((resolve, reject) => {
    const found = new Map<string, Buffer>()
    yauzl.open(file, { lazyEntries: true }, (problem, opened) => {
      if (problem) {
        reject(problem)
        return
      }
      opened.on('error', reject)
      opened.on('end', () => resolve(found))
      opened.on('entry', (entry: yauzl.Entry) => {
        opened.openReadStream(entry, (error, stream) => {
          if (error) reject(error)
          else {
            void buffer(stream).then((bytes) => {
              found.set(entry.fileName, bytes)
              opened.readEntry()
            }, reject)
          }
        })
      })
      opened.readEntry()
    })
  })

describe('in another language', () => {
  /** What only English has, and no place to fill: none of it may stand in a page of another language. */
  const onlyEnglish = (language: 'de' | 'es') =>
    (Object.keys(en) as MessageKey[]).filter(
      (key) => !en[key].includes('{') && /^[A-Z]/.test(en[key]) && catalogues[language][key] !== en[key],
    )

  it.each(['de', 'es'] as const)(
    'the page speaks %s; what the coach wrote stays as it is',
    async (language) => {
      const [student] = await library.ask('roster.list', {})
      const lessonId = student!.lessons[0]!.id
      await library.ask('student.update', { id: student!.id, patch: { language } })
      const { html } = await library.ask('handOver.preview', { lessonId, isQuick: true })
      await library.ask('student.update', { id: student!.id, patch: { language: 'en' } })
      const text = html.replace(/<style>.*?<\/style>/s, '').replace(/base64,[A-Za-z0-9+/=]+/g, '')
      expect(text).toContain(`<html lang="${language}">`)
      const say = sayIn(language)
      for (const key of [
        'page.inShort',
        'page.plan',
        'page.footer',
        'caution.stop',
        'page.heldBack',
        'block.baseline',
      ] as const) {
        expect(text).toContain(say(key))
      }
      const left = onlyEnglish(language).filter((key) => new RegExp(`\\b${en[key]}\\b`).test(text))
      expect(left).toEqual([])
      expect(text).toContain('What I saw in')
      expect(text).toContain('Hips')
      // Numbers of a swing: decimal commas.
      expect(text).toMatch(/<dd>1,\d\d<\/dd>/)
      expect(text).not.toMatch(/<dd>[\d]+\.\d/)
    },
  )
})
