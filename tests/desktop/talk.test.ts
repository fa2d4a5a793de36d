import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { lessonWithDrawing } from '../library/support/lesson-with-drawing.ts'
import { ffmpegFile, probed } from '../library/support/make-clip.ts'
import { launchApp, type LaunchedApp } from './launch.ts'

/** A talk recorded in the real window. The microphone is Chromium's own made-up one, or an oscillator of the test. */
let folder: string
let launched: LaunchedApp
let page: Page
let lessonId: string
const size = { width: 320, height: 180 }

const talks = () =>
  page.evaluate(async (id) => {
    const answer = await window.leadside.ask('talk.list', { lessonId: id })
    if (!answer.ok) throw new Error(answer.problem.what)
    return answer.output
  }, lessonId)

const savedTalk = async (count: number) => {
  const end = Date.now() + 120_000
  for (;;) {
    const list = await talks()
    if (list.length === count) {
      return {
        talk: list.at(-1)!,
        file: path.join(folder, 'library/talk-throughs', `${list.at(-1)!.id}.mp4`),
      }
    }
    const jobs = await page.evaluate(async () => window.leadside.ask('jobs.list', {}))
    const failed = jobs.ok ? jobs.output.filter((j) => j.kind === 'talk-through' && j.state === 'failed') : []
    if (failed.length > 0 || Date.now() > end) throw new Error(`no talk: ${JSON.stringify(failed)}`)
    await page.waitForTimeout(200)
  }
}

const press = (name: string | RegExp) => page.getByRole('button', { name, exact: true }).click()
const expectAccessible = async (screen: string) => {
  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).include('.talk-bar').analyze()
  const serious = violations.filter((v) => v.impact === 'serious' || v.impact === 'critical')
  expect(
    serious.map((v) => `${screen}: ${v.id} at ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`),
  ).toEqual([])
}

const decode = (file: string, map: string, args: string[]) =>
  spawnSync(ffmpegFile, ['-v', 'error', '-i', file, '-map', map, ...args, '-'], { maxBuffer: 2 ** 30 }).stdout

/** Seconds at which the picture becomes another one, by the written frames. */
const changesIn = (file: string): number[] => {
  const bytes = decode(file, '0:v', ['-f', 'rawvideo', '-pix_fmt', 'gray'])
  const length = size.width * size.height
  const changes: number[] = []
  for (let i = 1; i < bytes.length / length; i++) {
    let moved = 0
    for (let k = 0; k < length; k++) {
      if (Math.abs(bytes[i * length + k]! - bytes[(i - 1) * length + k]!) > 40) moved++
    }
    if (moved > 40) changes.push(i / 30)
  }
  return changes
}
const beepsIn = (file: string): number[] => {
  const bytes = decode(file, '0:a', ['-ac', '1', '-ar', '48000', '-f', 's16le'])
  const samples = new Int16Array(bytes.buffer, bytes.byteOffset, bytes.length >> 1)
  const peak = samples.reduce((most, s) => Math.max(most, Math.abs(s)), 0)
  const found: number[] = []
  let last = -Infinity
  samples.forEach((s, i) => {
    if (Math.abs(s) < peak / 4) return
    if (i - last > 48_000 / 5) found.push(i / 48_000)
    last = i
  })
  return found
}

beforeAll(async () => {
  const made = await lessonWithDrawing()
  ;({ folder, lessonId } = made)
  await made.library.close()
  launched = await launchApp({
    library: path.join(folder, 'library'),
    args: ['--use-fake-device-for-media-stream', '--autoplay-policy=no-user-gesture-required'],
  })
  page = launched.page
  await page.evaluate((id) => void (location.hash = `#/lesson/${id}`), lessonId)
  await page.waitForSelector('canvas[data-frame="30"]')
})
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('what the page may use of the machine', () => {
  test('is the microphone, never the camera, the place or notifications', async () => {
    const tried = await page.evaluate(async () => {
      const ask = (wish: MediaStreamConstraints) =>
        navigator.mediaDevices.getUserMedia(wish).then(
          (stream) => {
            for (const track of stream.getTracks()) track.stop()
            return 'given'
          },
          (error: unknown) => (error as Error).name,
        )
      return {
        sound: await ask({ audio: true }),
        picture: await ask({ video: true }),
        both: await ask({ audio: true, video: true }),
        place: await new Promise((resolve) =>
          navigator.geolocation.getCurrentPosition(
            () => resolve('given'),
            (error) => resolve(error.code),
          ),
        ),
        notes: await Notification.requestPermission(),
      }
    })
    // GeolocationPositionError.PERMISSION_DENIED is 1 (W3C Geolocation).
    expect(tried).toEqual({
      sound: 'given',
      picture: 'NotAllowedError',
      both: 'NotAllowedError',
      place: 1,
      notes: 'denied',
    })
  })
})

describe('a talk in the window', () => {
  test('without a microphone says so, and what to do', async () => {
    await page.evaluate(() => {
      const { mediaDevices } = navigator
      const real = mediaDevices.getUserMedia.bind(mediaDevices)
      Object.assign(window, { realMicrophone: real })
      mediaDevices.getUserMedia = () => Promise.reject(new DOMException('none', 'NotFoundError'))
    })
    await press('More')
    await page.getByRole('menuitem', { name: /Talk through/ }).click()
    await page.getByRole('alert').getByText('there is no microphone').waitFor()
    await expectAccessible('no microphone')
    await page.evaluate(() => {
      const { realMicrophone } = window as unknown as { realMicrophone: MediaDevices['getUserMedia'] }
      navigator.mediaDevices.getUserMedia = realMicrophone
    })
    await press('Try again')
    await page.getByRole('status').getByText('Ready').waitFor()
    await press('Close without saving')
  })

  test('is recorded by keys with the made-up microphone while stepping, and becomes an MP4', async () => {
    await page.keyboard.press('F8')
    await page.getByRole('status').getByText('Ready').waitFor()
    await expectAccessible('ready')
    await page.keyboard.press('F9')
    await page.getByRole('status').getByText('Recording').waitFor()
    for (let i = 1; i <= 3; i++) {
      await page.waitForTimeout(700)
      await page.keyboard.press('ArrowRight')
      await page.waitForSelector(`canvas[data-frame="${30 + i}"]`)
    }
    await page.waitForTimeout(500)
    await page.keyboard.press('F9')
    await page.getByRole('status').getByText('Paused').waitFor()
    await expectAccessible('paused')
    await page.getByLabel('Name of the talk-through').fill('Hands first')
    await press('Stop and save')
    const { talk, file } = await savedTalk(1)
    expect(talk.name).toBe('Hands first')
    const { streams } = probed<{ streams: { codec_name: string; duration: string }[] }>(file)
    expect(streams.map((s) => s.codec_name)).toEqual(['h264', 'aac'])
    const [video, sound] = streams.map((s) => Number(s.duration)) as [number, number]
    expect(video).toBeGreaterThan(2.5)
    expect(Math.abs(video - sound)).toBeLessThan(0.06)
    expect(Math.abs(video - talk.durationSeconds)).toBeLessThan(0.04)
    expect(changesIn(file)).toHaveLength(3)
    // Chromium's made-up microphone beeps.
    expect(beepsIn(file).length).toBeGreaterThan(0)
    expect(fs.existsSync(file)).toBe(true)
  })

  test('keeps sound and picture in step over pauses, and is recorded again from a point', async () => {
    // Every new picture on the Stage beeps at once.
    await page.evaluate(() => {
      const context = new AudioContext()
      const [tone, gain] = [context.createOscillator(), context.createGain()]
      gain.gain.value = 0
      const out = context.createMediaStreamDestination()
      tone.connect(gain).connect(out)
      tone.start()
      navigator.mediaDevices.getUserMedia = () => Promise.resolve(out.stream)
      const canvas = document.querySelector<HTMLElement>('canvas[data-place="first"]')!
      let before = canvas.dataset['frame']
      new MutationObserver(() => {
        // The same picture painted anew (the bar makes room for itself) is not a new one.
        if (canvas.dataset['frame'] === before) return
        before = canvas.dataset['frame']
        gain.gain.setValueAtTime(0.5, context.currentTime)
        gain.gain.setValueAtTime(0, context.currentTime + 0.1)
      }).observe(canvas, { attributeFilter: ['data-frame'] })
    })
    await page.keyboard.press('F8')
    await page.getByRole('status').getByText('Ready').waitFor()
    const steps = async (count: number) => {
      for (let i = 0; i < count; i++) {
        await page.waitForTimeout(450)
        await page.keyboard.press('ArrowLeft')
      }
      await page.waitForTimeout(400)
    }
    await press('Record')
    await steps(3)
    await press('Pause')
    await page.waitForTimeout(1300)
    // A step that nobody is told of.
    await page.keyboard.press('ArrowLeft')
    await page.waitForTimeout(300)
    await press('Go on recording')
    await steps(3)
    await press('Pause')
    const whole = Number(await page.locator('.talk-point').getByRole('slider').getAttribute('max'))
    await page.locator('.talk-point').getByRole('slider').focus()
    for (let i = 0; i < 10; i++) await page.keyboard.press('ArrowLeft')
    await press('Record again from here')
    await steps(2)
    await press('Stop and save')
    const { talk, file } = await savedTalk(2)
    const [heard, changes] = [beepsIn(file), changesIn(file)]
    console.log(
      'beeps',
      heard.map((s) => s.toFixed(3)).join(' '),
      'pictures',
      changes.map((s) => s.toFixed(3)).join(' '),
    )
    expect(talk.durationSeconds).toBeGreaterThan(whole - 1.1 + 1)
    expect(talk.durationSeconds).toBeLessThan(whole - 0.9 + 2.5)
    // Each beep has its picture; the step in the pause and the point of recording again have a picture, but no beep.
    expect(heard.length).toBeGreaterThanOrEqual(6)
    const apart = heard.map((at) => Math.min(...changes.map((c) => Math.abs(c - at))) * 1000)
    console.log(`sound against picture in the window, ms: ${apart.map((ms) => ms.toFixed(0)).join(' ')}`)
    // The oscillator's way through two audio clocks comes on top of what is measured; it varies with the machine's load.
    const sorted = apart.toSorted((a, b) => a - b)
    expect(sorted[sorted.length >> 1]).toBeLessThan(40)
    expect(sorted.at(-1)).toBeLessThan(80)
  })

  test('shows a picture zoomed in as it was seen', async () => {
    await page.keyboard.press('F8')
    await page.getByRole('status').getByText('Ready').waitFor()
    await press('Record')
    await page.waitForTimeout(800)
    await page.keyboard.press('+')
    await page.waitForTimeout(800)
    await press('Stop and save')
    const { file } = await savedTalk(3)
    expect(changesIn(file)).toHaveLength(1)
    const bytes = decode(file, '0:v', ['-f', 'rawvideo', '-pix_fmt', 'gray'])
    const length = size.width * size.height
    const [first, last] = [bytes.subarray(0, length), bytes.subarray(bytes.length - length)]
    // The middle stays in the middle: the last picture is the first one, spread by the zoom's step of 1.25.
    let apart = 0
    let asBefore = 0
    for (let y = 40; y < 140; y += 4) {
      for (let x = 60; x < 260; x += 4) {
        const from = Math.round(90 + (y - 90) / 1.25) * size.width + Math.round(160 + (x - 160) / 1.25)
        apart += Math.abs(last[y * size.width + x]! - first[from]!)
        asBefore += Math.abs(last[y * size.width + x]! - first[y * size.width + x]!)
      }
    }
    expect(apart).toBeLessThan(asBefore / 2)
  })

  test('complains of nothing', () => {
    expect(launched.complaints).toEqual([])
  })
})
