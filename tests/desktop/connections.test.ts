import fs from 'node:fs'
import http from 'node:http'
import type { AddressInfo } from 'node:net'
import path from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { tally } from '../../scripts/tally.mjs'
import { makeClip } from '../library/support/make-clip.ts'
import { takeIn, temporaryFolder } from '../library/support/temporary-library.ts'
import { launchApp } from './launch.ts'
import { addressesIn } from './net-log.ts'

let folder: string
let server: http.Server
let address: string
const asked: string[] = []

beforeAll(async () => {
  folder = temporaryFolder()
  server = http.createServer((request, response) => {
    asked.push(request.url ?? '')
    response.end()
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
})
afterAll(() => {
  server.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

it('a window at work talks to nobody, even when its page is asked to', async () => {
  const inside = path.join(folder, 'library')
  const library = new Library({ folder: inside, printPdf: null })
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-01' })
  const clip = path.join(folder, 'clip.mp4')
  makeClip(clip, { seconds: 0.5 })
  await takeIn(library, lessonId, [clip])
  await library.close()

  const netLog = path.join(folder, 'net-log.json')
  const launched = await launchApp({ library: inside, args: [`--log-net-log=${netLog}`] })
  const { app, page } = launched
  // The coach says no to whatever is asked.
  const offered = await app.evaluate(({ dialog, shell }) => {
    const kept = globalThis as unknown as { offered: string[] }
    kept.offered = []
    dialog.showMessageBox = (async (_window: unknown, options: { detail: string }) => {
      kept.offered.push(options.detail)
      return { response: 1, checkboxChecked: false }
    }) as never
    shell.openExternal = ((url: string) => {
      kept.offered.push(`opened ${url}`)
      return Promise.resolve()
    }) as never
    return kept.offered
  })
  expect(offered).toEqual([])
  await page.getByText('Robin Testing').first().waitFor()
  // Words that a spell checker would look up, on the page of a lesson.
  await page.evaluate((id) => {
    location.hash = `#/lesson/${id}`
  }, lessonId)
  await page.locator('canvas.picture-canvas').first().waitFor()
  const typed = await page.evaluate(async (web) => {
    const field = document.createElement('textarea')
    field.spellcheck = true
    document.body.append(field)
    field.focus()
    field.value = 'teh quik brwon fox'
    const tried = async (work: () => Promise<unknown>) =>
      work().then(
        () => 'went out',
        () => 'held back',
      )
    const results = [
      await tried(() => fetch(`${web}/fetch`, { mode: 'no-cors' })),
      await tried(() => fetch('https://dictionary.example/en.bdic', { mode: 'no-cors' })),
      await tried(
        () =>
          new Promise((resolve, reject) => {
            const image = new Image()
            image.onload = resolve
            image.onerror = reject
            image.src = `${web}/picture.png`
          }),
      ),
      await tried(
        () =>
          new Promise((resolve, reject) => {
            const socket = new WebSocket(web.replace('http', 'ws'))
            socket.onopen = resolve
            socket.onerror = reject
          }),
      ),
    ]
    navigator.sendBeacon(`${web}/beacon`, 'x')
    const peer = new RTCPeerConnection({ iceServers: [{ urls: 'stun:stun.example:3478' }] })
    peer.createDataChannel('x')
    const candidates: string[] = []
    peer.onicecandidate = ({ candidate }) => {
      if (candidate?.candidate) candidates.push(candidate.candidate)
    }
    await peer.setLocalDescription(await peer.createOffer())
    await new Promise<void>((resolve) => {
      if (peer.iceGatheringState === 'complete') resolve()
      peer.onicegatheringstatechange = () => peer.iceGatheringState === 'complete' && resolve()
    })
    peer.close()
    window.open(`${web}/opened`)
    return { results, candidates }
  }, address)
  expect(typed.results).toEqual(['held back', 'held back', 'held back', 'held back'])
  expect(typed.candidates).toEqual([])
  await expect
    .poll(() => app.evaluate(() => (globalThis as unknown as { offered: string[] }).offered))
    .toEqual([expect.stringContaining(`${address}/opened`) as string])
  // The page can't name a program to be run, nor have anything written but a recording.
  const refused = await page.evaluate(async () => {
    const bridge = (
      window as unknown as { leadside: Record<string, (...args: unknown[]) => Promise<unknown>> }
    ).leadside
    const named = await bridge.ask!('settings.set', { ffmpegPath: '/bin/sh' })
    const script = await bridge.keepRecording!(new ArrayBuffer(4), 'sh').then(
      () => 'written',
      () => 'refused',
    )
    return { named, script }
  })
  expect(refused).toMatchObject({ named: { ok: false, problem: { code: 'refused' } }, script: 'refused' })
  await launched.close()

  const log = fs.readFileSync(netLog, 'utf8')
  // The log is whole: Chromium wrote down what happened in its network, to the end.
  expect((JSON.parse(log) as { events: unknown[] }).events.length).toBeGreaterThan(10)
  const others = addressesIn(log)
  expect(others).toEqual([])
  expect(asked).toEqual([])
  tally('connections seen', others.length + asked.length)
  console.log(
    `connections: ${others.length + asked.length} seen (net log of ${log.length.toLocaleString('en')} bytes)`,
  )
})
