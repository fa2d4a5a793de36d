import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { findMoments } from '../../../electron/library/moments/find-moments.ts'
import type { FindMomentsOptions } from '../../../electron/library/moments/find-moments.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { evenTimes, sceneFrames, usualScene } from '../../shared-core/moments/synthetic-scene.ts'
import { addHiss, addStrike, chanceFrom } from '../../shared-core/moments/synthetic-sound.ts'
import { ffmpegPath, ffprobePath, runFfmpeg, writeClip, writeWav } from './write-clip.ts'

const rate = 30
const scene = usualScene({ width: 160, height: 214, ballRadius: 2.2, impactSeconds: 2.01 })
const times = evenTimes(rate, 3.6)
const impactFrame = 60

let folder = ''
let whole = ''
let wav = ''

const find = (file: string, more: Partial<FindMomentsOptions> = {}) =>
  findMoments(file, { ffmpegPath, ffprobePath, ...more })

const problemOf = async (file: string, more: Partial<FindMomentsOptions> = {}): Promise<Problem> => {
  try {
    await find(file, more)
  } catch (error) {
    if (error instanceof Problem) return error
    throw error
  }
  throw new Error(`${file} was read without a problem`)
}

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-damaged-'))
  const chance = chanceFrom(11)
  const pcm = new Float32Array(48_000 * 3.6)
  addHiss(pcm, 0.001, chance)
  addStrike(pcm, 48_000, 2.01 + 3 / 343.2, 0.3, chance)
  wav = path.join(folder, 'sound.wav')
  writeWav(wav, pcm, 48_000)
  whole = path.join(folder, 'whole.mp4')
  await writeClip(whole, sceneFrames(scene, times), scene, rate, { wav })
})
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

describe('a clip that cannot be read is reported by name, with the reason', () => {
  test('a file that is not there, and an empty one', async () => {
    expect(await problemOf(path.join(folder, 'gone.mp4'))).toMatchObject({
      code: 'clip-missing',
      where: 'gone.mp4',
    })
    const empty = path.join(folder, 'empty.mp4')
    fs.writeFileSync(empty, '')
    expect(await problemOf(empty)).toMatchObject({ code: 'clip-empty', where: 'empty.mp4' })
    expect(await problemOf(folder)).toMatchObject({ code: 'clip-missing' })
  })

  test('text under a clip’s name, and a clip cut off before its index', async () => {
    const text = path.join(folder, 'text.mp4')
    fs.writeFileSync(text, 'These are notes, not a clip.\n'.repeat(50))
    const reported = await problemOf(text)
    expect(reported).toMatchObject({ code: 'clip-unreadable', where: 'text.mp4' })
    expect(reported.what).toContain('a list or a text, not a film')
    expect(reported.what).not.toContain(folder)

    const cut = path.join(folder, 'cut.mp4')
    fs.writeFileSync(cut, fs.readFileSync(whole).subarray(0, Math.floor(fs.statSync(whole).size * 0.6)))
    const cutReported = await problemOf(cut)
    expect(cutReported).toMatchObject({ code: 'clip-unreadable', where: 'cut.mp4' })
    expect(cutReported.message).toMatch(/its end is missing: recording or copying was broken off/)
    expect(cutReported.toDo).toContain('camera')
  })

  test('a file whose clock starts at a day’s time keeps its sound, and no silence is made up before it', async () => {
    const late = path.join(folder, 'late.ts')
    await runFfmpeg(['-i', whole, '-c', 'copy', '-output_ts_offset', '80000', late])
    const before = process.memoryUsage().arrayBuffers
    const [impact] = (await find(late)).moments.filter((m) => m.name === 'impact')
    expect(impact).toMatchObject({ how: 'sound+motion' })
    expect(Math.abs(impact!.frame - impactFrame)).toBeLessThanOrEqual(1)
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(200e6)
  })

  test('sound without a picture', async () => {
    expect(await problemOf(wav)).toMatchObject({ code: 'clip-no-picture', where: 'sound.wav' })
  })

  test('a missing ffmpeg', async () => {
    expect(await problemOf(whole, { ffprobePath: path.join(folder, 'no-such-program') })).toMatchObject({
      code: 'no-ffmpeg',
    })
    expect(await problemOf(whole, { ffmpegPath: path.join(folder, 'no-such-program') })).toMatchObject({
      code: 'no-ffmpeg',
    })
  })

  test('settings that cannot be', async () => {
    for (const more of [
      { micDistanceM: -1 },
      { micDistanceM: NaN },
      { temperatureC: 400 },
      { captureRate: 0 },
      { audioOffsetSeconds: 99 },
    ]) {
      expect(await problemOf(whole, more)).toMatchObject({ code: 'bad-option' })
    }
  })
})

describe('a clip that can be read in part', () => {
  test('gives what is in the part', async () => {
    const long = path.join(folder, 'long.mkv')
    await runFfmpeg(['-i', whole, '-c', 'copy', long])
    const part = path.join(folder, 'part.mkv')
    fs.writeFileSync(part, fs.readFileSync(long).subarray(0, Math.floor(fs.statSync(long).size * 0.8)))
    const result = await find(part)
    expect(result.frames).toBeGreaterThan(40)
    expect(result.frames).toBeLessThan(times.length)
  })

  test('one frame, a still picture and a clip without a swing have no moments', async () => {
    const one = path.join(folder, 'one.mp4')
    await writeClip(one, sceneFrames(scene, [0]), scene, rate)
    expect(await find(one)).toMatchObject({ frames: 1, moments: [], swings: [] })
    const still = path.join(folder, 'still.mp4')
    await writeClip(still, sceneFrames(scene, evenTimes(rate, 1)), scene, rate)
    expect(await find(still)).toMatchObject({ frames: 30, moments: [], captureRateHow: 'assumed' })
  })
})

describe('sound and picture apart', () => {
  test('a sound track that starts late in the file is heard at its own time', async () => {
    const late = path.join(folder, 'late.mp4')
    await runFfmpeg([
      '-i',
      whole,
      '-ss',
      '0.7',
      '-i',
      whole,
      '-map',
      '0:v',
      '-map',
      '1:a',
      '-c:v',
      'copy',
      '-af',
      'adelay=0',
      '-c:a',
      'aac',
      path.join(folder, 'shifted.mp4'),
    ])
    await runFfmpeg([
      '-i',
      path.join(folder, 'shifted.mp4'),
      '-itsoffset',
      '0.7',
      '-i',
      path.join(folder, 'shifted.mp4'),
      '-map',
      '0:v',
      '-map',
      '1:a',
      '-c',
      'copy',
      late,
    ])
    const impact = (await find(late)).moments.find((m) => m.name === 'impact')!
    expect(impact.how).toBe('sound+motion')
    expect(Math.abs(impact.frame - impactFrame)).toBeLessThanOrEqual(1)
  })

  test('a sound track known to run late is put right by the offset', async () => {
    const cropped = path.join(folder, 'cropped.mp4')
    // Without the ball in the picture only the sound can tell.
    await runFfmpeg([
      '-i',
      whole,
      '-itsoffset',
      '0.2',
      '-i',
      whole,
      '-map',
      '0:v',
      '-map',
      '1:a',
      '-vf',
      'crop=iw:ih*0.6:0:0',
      '-c:a',
      'copy',
      cropped,
    ])
    const plain = (await find(cropped)).moments.find((m) => m.name === 'impact')!
    const right = (await find(cropped, { audioOffsetSeconds: 0.2 })).moments.find((m) => m.name === 'impact')!
    expect(right).toMatchObject({ frame: impactFrame, how: 'sound' })
    expect(plain.frame - right.frame).toBe(6)
    expect(plain.confidence).toBeLessThan(right.confidence)
  })

  test('a name with spaces, a colon and a leading dash is only a name', async () => {
    const odd = path.join(folder, '-second: try %d [1].mp4')
    fs.copyFileSync(whole, odd)
    expect((await find(odd)).moments.find((m) => m.name === 'impact')).toMatchObject({ frame: impactFrame })
  })
})

describe('the work', () => {
  test('tells how far it is, never backwards, and ends at 1', async () => {
    const shares: number[] = []
    await find(whole, { onProgress: (share) => shares.push(share) })
    expect(shares).toEqual([...shares].sort((a, b) => a - b))
    expect(shares.at(-1)).toBe(1)
    expect(shares.length).toBeGreaterThan(5)
  })

  test('stops when told to, before and in the middle, with the reason it was given', async () => {
    await expect(
      find(whole, { signal: AbortSignal.abort(new Error('the coach said stop')) }),
    ).rejects.toThrow('the coach said stop')
    const control = new AbortController()
    const work = find(whole, {
      signal: control.signal,
      onProgress: (share) => {
        if (share > 0.2) control.abort(new Error('enough'))
      },
    })
    await expect(work).rejects.toThrow('enough')
  })

  test('gives the same answer twice', async () => {
    expect(await find(whole)).toEqual(await find(whole))
  })
})
