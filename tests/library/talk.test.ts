import { execFileSync, spawnSync } from 'node:child_process'
import fs from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { talkFile, talkRate } from '../../electron/library/hand-over/talk.ts'
import { toYuv, withRing } from '../../electron/library/hand-over/talk-video.ts'
import { talkSize } from '../../electron/library/hand-over/talk-pictures.ts'
import { Library } from '../../electron/library/library.ts'
import type { TalkEvent, TalkTimeline } from '../../shared-core/hand-over/talk-timeline.ts'
import { shapes } from '../../shared-core/drawing/shapes.ts'
import { ffmpegFile, ffprobeFile, probed, runFfmpegNow } from './support/make-clip.ts'
import { filesBelow, openWithLesson, takeIn } from './support/temporary-library.ts'

/** A voice is stood in for by beeps; the clip's frames are dark or light by turns, so that a change can be seen. */
const size = { width: 320, height: 180 }
const soundRate = 48_000
let library: Library
let folder: string
let lessonId: string
let viewId: string
let secondViewId: string

const makeBlinking = (file: string, light: number) => {
  const frames = Buffer.concat(
    Array.from({ length: 40 }, (_, n) => Buffer.alloc(size.width * size.height, n % 2 === 0 ? 30 : light)),
  )
  const raw = `${file}.gray`
  fs.writeFileSync(raw, frames)
  runFfmpegNow(
    ...['-f', 'rawvideo', '-pix_fmt', 'gray', '-s', `${size.width}x${size.height}`, '-r', '30', '-i', raw],
    ...['-pix_fmt', 'yuv420p', '-crf', '4', file],
  )
}

/** A WAV of beeps: 1 kHz for a tenth of a second from each of these times on. */
const writeBeeps = (file: string, seconds: number, beeps: readonly number[], level: number) => {
  const samples = new Int16Array(Math.round(seconds * soundRate))
  for (const at of beeps) {
    const from = Math.round(at * soundRate)
    for (let i = 0; i < 0.1 * soundRate && from + i < samples.length; i++) {
      samples[from + i] = Math.round(level * 32767 * Math.sin((2 * Math.PI * 1000 * i) / soundRate))
    }
  }
  const raw = `${file}.s16`
  fs.writeFileSync(raw, Buffer.from(samples.buffer))
  runFfmpegNow('-f', 's16le', '-ar', String(soundRate), '-ac', '1', '-i', raw, file)
  fs.rmSync(raw)
}

const save = async (soundFile: string, timeline: TalkTimeline, name = 'What I saw') => {
  const { jobId } = await library.ask('talk.save', { lessonId, name, soundFile, timeline })
  return library.context.jobs.ended(jobId)
}
const timelineOf = (events: Omit<TalkEvent, 'viewId'>[]): TalkTimeline => ({
  version: 1,
  events: events.map((event) => ({ viewId, ...event })),
})

/** Every frame of what was written, grey, with the times that a player gives them (edit lists kept). */
const decode = (file: string, width: number, height: number) => {
  const { stdout } = spawnSync(
    ffmpegFile,
    ['-v', 'error', '-i', file, '-map', '0:v', '-f', 'rawvideo', '-pix_fmt', 'gray', '-'],
    { maxBuffer: 2 ** 30 },
  )
  const times = execFileSync(
    ffprobeFile,
    ['-v', 'error', '-select_streams', 'v', '-show_entries', 'packet=pts_time', '-of', 'csv=p=0', file],
    { maxBuffer: 2 ** 26 },
  )
    .toString()
    .split(/\s+/)
    .filter(Boolean)
    .map((line) => Number.parseFloat(line))
    .toSorted((a, b) => a - b)
  const count = stdout.length / (width * height)
  return {
    count,
    times,
    at: (frame: number, x: number, y: number) => stdout[(frame * height + y) * width + x]!,
  }
}

/** When each beep begins, as heard: the first sample above a quarter of the loudest, after quiet. */
const beepsIn = (file: string): number[] => {
  const { stdout } = spawnSync(
    ffmpegFile,
    ['-v', 'error', '-i', file, '-map', '0:a', '-ac', '1', '-ar', '48000', '-f', 's16le', '-'],
    { maxBuffer: 2 ** 30 },
  )
  const samples = new Int16Array(stdout.buffer, stdout.byteOffset, stdout.length >> 1)
  const peak = samples.reduce((most, s) => Math.max(most, Math.abs(s)), 0)
  const found: number[] = []
  let last = -Infinity
  samples.forEach((s, i) => {
    if (Math.abs(s) < peak / 4) return
    if (i - last > soundRate / 4) found.push(i / soundRate)
    last = i
  })
  return found
}

/** Integrated loudness by ffmpeg's EBU R 128 meter (ITU-R BS.1770), LUFS. */
const loudness = (file: string): number => {
  const { stderr } = spawnSync(
    ffmpegFile,
    ['-hide_banner', '-nostats', '-i', file, '-map', '0:a', '-af', 'ebur128', '-f', 'null', '-'],
    { encoding: 'utf8' },
  )
  return Number(/I:\s+(-?[\d.]+) LUFS\s+Threshold/.exec(stderr)?.[1])
}

beforeAll(async () => {
  ;({ library, folder, lessonId } = await openWithLesson())
  const files = ['dark-light.mp4', 'dark-grey.mp4'].map((name) => path.join(folder, name))
  makeBlinking(files[0]!, 220)
  makeBlinking(files[1]!, 120)
  await takeIn(library, lessonId, files)
  const lesson = await library.ask('lesson.open', { lessonId })
  const viewOf = (name: string) => {
    const clip = lesson.clips.find((c) => c.fileName === name)!
    return lesson.swings.flatMap((s) => s.views).find((v) => v.clipId === clip.id)!.id
  }
  viewId = viewOf('dark-light.mp4')
  secondViewId = viewOf('dark-grey.mp4')
})
afterAll(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('a talk-through of five minutes', () => {
  const seconds = 300
  // Off the grid on purpose, the last one just before the end.
  const beeps = [0.5, 1.513, 33.377, 77.7, 123.456, 200.019, 271.31, 298.881]
  let file: string

  beforeAll(async () => {
    const sound = path.join(folder, 'beeps.wav')
    writeBeeps(sound, seconds, beeps, 0.05)
    const job = await save(
      sound,
      timelineOf([
        { atSeconds: 0, frame: 10 },
        ...beeps.map((atSeconds, i) => ({ atSeconds, frame: 11 + i })),
      ]),
    )
    expect(job.problem).toBeNull()
    file = talkFile(library.context, job.result!)!
  })

  test('has sound and picture in step, within 40 ms from the first beep to the last', () => {
    const frames = decode(file, size.width, size.height)
    const changes: number[] = []
    for (let i = 1; i < frames.count; i++) {
      if (Math.abs(frames.at(i, 160, 90) - frames.at(i - 1, 160, 90)) > 60) changes.push(frames.times[i]!)
    }
    const heard = beepsIn(file)
    expect(heard).toHaveLength(beeps.length)
    expect(changes).toHaveLength(beeps.length)
    const apart = heard.map((at, i) => Math.abs(at - changes[i]!) * 1000)
    console.log(`sound against picture, ms: ${apart.map((ms) => ms.toFixed(1)).join(' ')}`)
    expect(Math.max(...apart)).toBeLessThan(40)
    heard.forEach((at, i) => expect(Math.abs(at - beeps[i]!)).toBeLessThan(0.04))
  })

  test('is as loud as a voice on a phone should be', () => {
    const lufs = loudness(file)
    console.log(`loudness: ${lufs} LUFS`)
    expect(Math.abs(lufs - -16)).toBeLessThanOrEqual(1)
  })

  test('plays everywhere', () => {
    const { streams, format } = probed<{ streams: Record<string, unknown>[]; format: { duration: string } }>(
      file,
    )
    expect(streams.map((s) => s['codec_name'])).toEqual(['h264', 'aac'])
    expect(streams[0]).toMatchObject({
      profile: 'High',
      pix_fmt: 'yuv420p',
      r_frame_rate: `${talkRate}/1`,
      nb_frames: String(seconds * talkRate),
    })
    expect(streams[0]!['level']).toBeLessThanOrEqual(41)
    expect(Math.abs(Number(format.duration) - seconds)).toBeLessThan(0.05)
    const bytes = fs.readFileSync(file).toString('latin1')
    expect(bytes.indexOf('moov')).toBeLessThan(bytes.indexOf('mdat'))
  })

  test('stands in the list with its length', async () => {
    const [talk] = await library.ask('talk.list', { lessonId })
    expect(talk).toMatchObject({ name: 'What I saw' })
    expect(talk!.durationSeconds).toBeCloseTo(seconds, 2)
  })
})

describe('what a talk-through shows', () => {
  const made = async (events: Omit<TalkEvent, 'viewId'>[], seconds = 2) => {
    const sound = path.join(folder, 'short.wav')
    writeBeeps(sound, seconds, [0.2, 0.7, 1.2], 0.5)
    const job = await save(sound, timelineOf(events))
    expect(job.problem).toBeNull()
    return talkFile(library.context, job.result!)!
  }
  const box = shapes.box.create(
    [
      { x: 40, y: 40 },
      { x: 120, y: 120 },
    ],
    { tone: 'apricot', widthPx: 8, isDashed: false },
  ) as unknown as Record<string, unknown> & { kind: string }

  test('are the drawings as they appeared, even if they are gone from the lesson', async () => {
    const file = await made([
      { atSeconds: 0, frame: 10, drawings: [] },
      { atSeconds: 1, frame: 10, drawings: [box] },
    ])
    const frames = decode(file, size.width, size.height)
    expect(frames.at(28, 40, 80)).toBeLessThan(60)
    expect(frames.at(32, 40, 80)).toBeGreaterThan(100)
    expect(frames.at(32, 80, 80)).toBeLessThan(60)
  })

  test('is a ring where the coach pointed, on the mirrored place if the picture is mirrored', async () => {
    const pointer = { x: 80, y: 90 }
    const file = await made([
      { atSeconds: 0, frame: 10, pointer },
      { atSeconds: 0.7, frame: 10, pointer, isMirrored: true },
      { atSeconds: 1.4, frame: 10, pointer: null },
    ])
    const frames = decode(file, size.width, size.height)
    const isRound = (frame: number, x: number) =>
      [-6, 6].every((r) => frames.at(frame, x + r, 90) > 90) && frames.at(frame, x, 90) < 80
    expect([isRound(10, 80), isRound(10, 240)]).toEqual([true, false])
    expect([isRound(30, 80), isRound(30, 240)]).toEqual([false, true])
    expect([isRound(55, 80), isRound(55, 240)]).toEqual([false, false])
  })

  test('is the part that was looked at, and the ring where the coach pointed in it', async () => {
    const pointer = { x: 80, y: 60 }
    // A quarter of the picture, twice as large: the box from (40, 40) to (120, 120) lies from (40, 40) to (200, 200).
    const look = { x: 20, y: 20, width: 160, height: 90 }
    const file = await made([
      { atSeconds: 0, frame: 10, drawings: [box], pointer: null },
      { atSeconds: 0.7, frame: 10, drawings: [box], pointer, look },
      { atSeconds: 1.4, frame: 11, drawings: [], look: { x: 160, y: 0, width: 320, height: 180 } },
    ])
    const frames = decode(file, size.width, size.height)
    expect(frames.at(10, 40, 80)).toBeGreaterThan(100)
    expect(frames.at(10, 200, 120)).toBeLessThan(60)
    expect(frames.at(30, 200, 120)).toBeGreaterThan(100)
    expect(frames.at(30, 40, 120)).toBeGreaterThan(100)
    expect([-6, 6].every((r) => frames.at(30, 120 + r, 80) > 90) && frames.at(30, 120, 80) < 80).toBe(true)
    // Moved half out of sight: light on the left, the ground on the right.
    expect(frames.at(55, 80, 90)).toBeGreaterThan(150)
    expect(frames.at(55, 280, 90)).toBeLessThan(60)
  })

  test('are two swings beside each other, or one over the other', async () => {
    const second = { viewId: '', frame: 11, isMirrored: false, opacity: 0.5 }
    const file = await made([
      { atSeconds: 0, frame: 10, second: { ...second, viewId: secondViewId, arrangement: 'beside' } },
      { atSeconds: 1, frame: 11, second: { ...second, viewId: secondViewId, arrangement: 'over' } },
    ])
    const frames = decode(file, 640, 180)
    expect(frames.at(10, 160, 90)).toBeLessThan(60)
    expect(frames.at(10, 480, 90)).toBeGreaterThan(90)
    expect(frames.at(10, 480, 90)).toBeLessThan(150)
    const over = frames.at(40, 320, 90)
    expect(over).toBeGreaterThan(140)
    expect(over).toBeLessThan(200)
  })

  test('are the right frames when a long clip is stepped through', async () => {
    const events = Array.from({ length: 20 }, (_, i) => ({ atSeconds: i / 10, frame: 39 - i }))
    const frames = decode(await made(events), size.width, size.height)
    events.forEach(({ frame }, i) => {
      const shown = frames.at(Math.round((i / 10) * talkRate) + 1, 160, 90)
      expect(shown > 125).toBe(frame % 2 === 1)
    })
  })
})

describe('a talk-through that can’t be made', () => {
  const left = () => [
    ...filesBelow(library.context.paths.incoming),
    ...filesBelow(library.context.paths.talks),
  ]
  const events = timelineOf([{ atSeconds: 0, frame: 10 }])

  test('says that the recording is gone, or holds no sound, and leaves nothing', async () => {
    const before = left()
    const gone = await save(path.join(folder, 'nowhere.wav'), {
      ...events,
      events: [{ ...events.events[0]!, viewId }],
    })
    expect(gone.problem?.what).toMatch(/no longer there/)
    const empty = path.join(folder, 'empty.wav')
    writeBeeps(empty, 0.05, [], 0)
    const silent = await save(empty, timelineOf([{ atSeconds: 0, frame: 10 }]))
    expect(silent.state).toBe('failed')
    expect(silent.problem?.what).toMatch(/no sound|failed/)
    expect(left()).toEqual(before)
  })

  test('says that a swing is gone', async () => {
    const before = left()
    const sound = path.join(folder, 'gone.wav')
    writeBeeps(sound, 1, [0.2], 0.5)
    const job = await save(sound, { version: 1, events: [{ atSeconds: 0, viewId: 'nothing', frame: 0 }] })
    expect(job.problem?.what).toMatch(/a swing that the talk shows is no longer there/)
    expect(fs.existsSync(sound)).toBe(true)
    expect(left()).toEqual(before)
  })

  test('leaves nothing when it is cancelled half way', async () => {
    const before = left()
    const sound = path.join(folder, 'cancelled.wav')
    writeBeeps(sound, 60, [0.2], 0.5)
    const many = Array.from({ length: 600 }, (_, i) => ({
      atSeconds: i / 10,
      frame: i % 40,
      pointer: { x: i % 300, y: 50 },
    }))
    const { jobId } = await library.ask('talk.save', {
      lessonId,
      name: 'x',
      soundFile: sound,
      timeline: timelineOf(many),
    })
    while (!/putting/.test(library.context.jobs.get(jobId).step)) await new Promise((go) => setTimeout(go, 5))
    library.context.jobs.cancel(jobId)
    expect((await library.context.jobs.ended(jobId)).state).toBe('cancelled')
    expect(left()).toEqual(before)
  })

  const minute = path.join(tmpdir(), `leadside-talk-${process.pid}.wav`)
  afterAll(() => fs.rmSync(minute, { force: true }))

  test.for([
    ['while the voice is evened out', 1],
    ['while pictures and video are made', 6],
  ] as const)('says that the disk is full %s, and leaves nothing', async ([, megabytes], { skip }) => {
    writeBeeps(minute, 60, [0.2], 0.5)
    const { incoming } = library.context.paths
    try {
      execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', incoming], {
        stdio: 'ignore',
      })
    } catch {
      console.warn('skipped: a full disk: this user may not mount a small one')
      skip()
    }
    try {
      const before = left()
      // Every second another picture; the ring that runs about makes the video as large as it must be to fill the disk.
      const many = Array.from({ length: 1800 }, (_, i) => ({
        atSeconds: i / 30,
        frame: i % 40,
        pointer: { x: (i * 37) % 300, y: (i * 61) % 170 },
      }))
      const job = await save(minute, timelineOf(many))
      expect(job.problem).toMatchObject({
        what: 'there is no room left on the disk',
        toDo: expect.stringMatching(/the recording is kept/) as string,
      })
      expect(left()).toEqual(before)
      expect(fs.existsSync(minute)).toBe(true)
    } finally {
      execFileSync('umount', [incoming])
    }
  })

  test('says that the video could not be written when ffmpeg is killed half way, and keeps the recording', async () => {
    const wrapper = path.join(folder, 'ffmpeg')
    fs.writeFileSync(
      wrapper,
      `#!/bin/sh
case "$*" in
  *rawvideo*pipe:0*) "${ffmpegFile}" "$@" <&0 & child=$!; sleep 0.3; kill -9 $child; kill -9 $$;;
  *) exec "${ffmpegFile}" "$@";;
esac
`,
      { mode: 0o755 },
    )
    fs.symlinkSync(ffprobeFile, path.join(folder, 'ffprobe'))
    const before = left()
    const list = await library.ask('talk.list', { lessonId })
    await library.ask('settings.set', { ffmpegPath: wrapper })
    await library.close()
    library = new Library({ folder })
    try {
      writeBeeps(minute, 60, [0.2], 0.5)
      const job = await save(minute, timelineOf([{ atSeconds: 0, frame: 10 }]), 'Killed')
      expect(job.problem).toMatchObject({ where: 'Killed' })
      expect(job.problem!.what).toMatch(/^writing the talk-through failed/)
      expect(job.problem!.toDo).toBeTruthy()
      expect(left()).toEqual(before)
      expect(fs.existsSync(minute)).toBe(true)
      expect(await library.ask('talk.list', { lessonId })).toEqual(list)
    } finally {
      await library.ask('settings.set', { ffmpegPath: null })
      await library.close()
      library = new Library({ folder })
    }
  })

  test('keeps silence silent instead of failing', async () => {
    const sound = path.join(folder, 'silence.wav')
    writeBeeps(sound, 1, [], 0)
    const job = await save(sound, timelineOf([{ atSeconds: 0, frame: 10 }]))
    expect(job.problem).toBeNull()
    await library.ask('talk.remove', { id: job.result! })
    expect(talkFile(library.context, job.result!)).toBeNull()
  })
})

describe('the size of a talk-through', () => {
  test('holds every picture and stays within level 4.1', () => {
    const wide = { width: 3840, height: 2160 }
    const tall = { width: 1080, height: 1920 }
    expect(talkSize([[wide]])).toEqual({ width: 1920, height: 1080 })
    expect(talkSize([[tall]])).toEqual({ width: 1080, height: 1920 })
    expect(talkSize([[tall, tall, 'beside']])).toEqual({ width: 1214, height: 1080 })
    expect(talkSize([[tall, tall, 'over']])).toEqual(tall)
    expect(talkSize([[{ width: 321, height: 181 }]])).toEqual({ width: 320, height: 180 })
  })
})

describe('a picture for the video', () => {
  test('has the levels of ITU-R BT.709 in limited range', () => {
    const plain = (r: number, g: number, b: number) => {
      const rgba = new Uint8Array(16).map((_, i) => [r, g, b, 255][i % 4]!)
      return [...toYuv({ width: 2, height: 2, rgba }).bytes].slice(3)
    }
    // BT.709-6 table 3 item 3.4: black 16, white 235, and colour bars as published in SMPTE RP 219 (100 %), from memory.
    expect(plain(0, 0, 0)).toEqual([16, 128, 128])
    expect(plain(255, 255, 255)).toEqual([235, 128, 128])
    expect(plain(255, 0, 0)).toEqual([63, 102, 240])
    expect(plain(0, 255, 0)).toEqual([173, 42, 26])
    expect(plain(0, 0, 255)).toEqual([32, 240, 118])
  })

  test('keeps its own pixels when a ring is laid over a copy, even at the very edge', () => {
    const plain = toYuv({ width: 64, height: 64, rgba: new Uint8Array(64 * 64 * 4) })
    const before = Buffer.from(plain.bytes)
    for (const at of [
      { x: 0, y: 0 },
      { x: 63.9, y: 63.9 },
      { x: -5, y: 70 },
      { x: 32, y: 32 },
    ]) {
      expect(withRing(plain, at).bytes.length).toBe(before.length)
    }
    expect(plain.bytes.equals(before)).toBe(true)
  })
})
