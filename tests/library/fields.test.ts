import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { findMediaPrograms, type MediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { factsAsKept, fieldFacts, hasFields } from '../../electron/library/media/fields.ts'
import { probeClip } from '../../electron/library/media/probe.ts'
import type { Library } from '../../electron/library/library.ts'
import { openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'
import { runFfmpegNow } from './support/make-clip.ts'

/**
 * Interlaced films made by ffmpeg's tinterlace from pictures, 59.94 a second, in which a bar moves by four pixels each: frame i holds
 * the upper lines of picture 2i and the lower ones of picture 2i + 1, as a camera at 29.97i films. Taken in, picture k must show the
 * bar where picture k had it.
 */
let folder: string
let library: Library
let lessonId: string
let programs: MediaPrograms
const pictures = 120
const size = { width: 560, height: 240 }
const bar = { first: 20, step: 4, width: 24 }

const make = (name: string, interlace: string, args: string[]) => {
  const file = path.join(folder, name)
  const made = `[0:v][1:v]overlay=x='${bar.first}+${bar.step}*n':y=0${interlace}[v]`
  const seconds = ((pictures - 0.5) * 1001) / 60_000
  const grey = `color=0x606060:s=${size.width}x${size.height}:r=60000/1001:d=${seconds}`
  const moved = `color=white:s=${bar.width}x${size.height}:r=60000/1001`
  const sources = [grey, moved, 'sine=800:r=48000:d=2'].flatMap((source) => ['-f', 'lavfi', '-i', source])
  runFfmpegNow(...sources, '-filter_complex', made, '-map', '[v]', '-map', '2:a', ...args, file)
  return file
}
const interlaced = (name: string, args: string[]) =>
  make(name, ',tinterlace=mode=interleave_top,fieldorder=tff', ['-frames:v', String(pictures / 2), ...args])
const h264 = [
  '-c:v',
  'libx264',
  '-preset',
  'veryfast',
  '-crf',
  '14',
  '-flags',
  '+ilme+ildct',
  '-pix_fmt',
  'yuv420p',
]

beforeAll(async () => {
  folder = temporaryFolder()
  programs = await findMediaPrograms(null)
  ;({ library, lessonId } = await openWithLesson(path.join(folder, 'library')))
})
afterAll(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

/** Of each picture of a file: the bar's left edge in its even and in its odd lines, away from its ends, pixels. */
const barsIn = (file: string): { even: number; odd: number }[] => {
  const { width, height } = size
  const raw = execFileSync(
    programs.ffmpeg.file,
    ['-v', 'error', '-i', file, '-fps_mode', 'passthrough', '-f', 'rawvideo', '-pix_fmt', 'gray', '-'],
    { maxBuffer: 1 << 28 },
  )
  const middle = (picture: number, line: number) => {
    let [sum, weights] = [0, 0]
    for (let x = 0; x < width; x++) {
      const weight = Math.max(0, raw[(picture * height + line) * width + x]! - 120)
      sum += weight * x
      weights += weight
    }
    return sum / weights - (bar.width - 1) / 2
  }
  const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / values.length
  return Array.from({ length: raw.length / (width * height) }, (_, k) => ({
    even: mean([40, 80, 120, 160].map((y) => middle(k, y))),
    odd: mean([41, 81, 121, 161].map((y) => middle(k, y))),
  }))
}

describe('an interlaced film', () => {
  test.each([
    ['fields.mp4', [...h264, '-c:a', 'aac']],
    ['fields.mts', [...h264, '-c:a', 'ac3', '-f', 'mpegts']],
    ['fields.mpg', ['-c:v', 'mpeg2video', '-q:v', '2', '-flags', '+ilme+ildct', '-c:a', 'mp2', '-f', 'mpeg']],
  ])(
    '%s gives both pictures of every frame, each at its own time, the bar where it was',
    async (name, args) => {
      const [job] = await takeIn(library, lessonId, [interlaced(name, args)])
      expect(job!.problem).toBeNull()
      const clip = (await library.ask('lesson.open', { lessonId })).clips.find((c) => c.fileName === name)!
      expect(clip.frameCount).toBe(pictures)
      expect(clip.playbackRate).toBeCloseTo(60_000 / 1001, 2)
      expect(clip.hasSound).toBe(true)
      const { atSeconds } = await library.ask('clip.timestamps', { id: clip.id })
      atSeconds.forEach((at, k) => expect(Math.abs(at - (k * 1001) / 60_000)).toBeLessThan(0.001))
      const shown = library.context.paths.proxy(clip.hash)
      const taken = make('whole.mkv', '', ['-frames:v', String(pictures), '-c:v', 'ffv1', '-an'])
      const where = barsIn(taken).map(({ even }) => even)
      expect(where[10]! - where[0]!).toBeCloseTo(10 * bar.step, 5)
      const bars = barsIn(shown)
      expect(bars).toHaveLength(pictures)
      bars.forEach(({ even, odd }, k) => {
        const off = Math.max(Math.abs(even - where[k]!), Math.abs(odd - where[k]!))
        expect(off, `picture ${k}`).toBeLessThan(1)
      })
      const inCopy = await probeClip(shown, { programs, clipName: name })
      inCopy.atSeconds.forEach((at, k) => expect(Math.abs(at - atSeconds[k]!)).toBeLessThan(0.001))
    },
  )

  test('a swing filmed so, in a stream whose clock stands at 95,000 s: impact is on its picture, by sound and ball', async () => {
    const demo = path.resolve(import.meta.dirname, '../../demo-media')
    const file = path.join(folder, 'swing.mts')
    const made = 'fps=60,scale=640:360,tinterlace=mode=interleave_top,fieldorder=tff'
    const sound = ['-c:a', 'ac3', '-output_ts_offset', '95000', '-f', 'mpegts']
    runFfmpegNow('-i', path.join(demo, 'swing-01.mp4'), '-vf', made, ...h264, ...sound, file)
    const truth = JSON.parse(fs.readFileSync(path.join(demo, 'swing-01.truth.json'), 'utf8')) as {
      swings: { moments: { impact: { frame: number } } }[]
    }
    const [job] = await takeIn(library, lessonId, [file])
    expect(job!.problem).toBeNull()
    const lesson = await library.ask('lesson.open', { lessonId })
    const clip = lesson.clips.find((c) => c.fileName === 'swing.mts')!
    expect(clip.playbackRate).toBeCloseTo(60, 1)
    const { moments } = lesson.swings.flatMap((s) => s.views).find((v) => v.clipId === clip.id)!
    const impact = moments.find((m) => m.name === 'impact')!
    expect(impact.how).toBe('sound+motion')
    expect(Math.abs(impact.frame - truth.swings[0]!.moments.impact.frame)).toBeLessThanOrEqual(1)
  })

  test('that only says it is one, with whole pictures in its frames, stays as it is', async () => {
    const file = path.join(folder, 'whole.mp4')
    const demo = path.resolve(import.meta.dirname, '../../demo-media/swing-04.mp4')
    runFfmpegNow('-i', demo, '-an', '-vf', 'setfield=tff', ...h264, file)
    const options = { programs, clipName: 'whole.mp4' }
    const facts = await probeClip(file, options)
    expect(facts.isInterlaced).toBe(true)
    expect(await hasFields(file, facts, options)).toBe(false)
    await takeIn(library, lessonId, [file])
    const clip = (await library.ask('lesson.open', { lessonId })).clips.find(
      (c) => c.fileName === 'whole.mp4',
    )!
    expect(clip.frameCount).toBe(facts.frameCount)
  })

  test('is read again as it was when its marks were made', async () => {
    const facts = await probeClip(path.join(folder, 'fields.mp4'), { programs, clipName: 'fields.mp4' })
    expect(factsAsKept(facts, facts.frameCount).showsFields).toBe(false)
    expect(factsAsKept(facts, 2 * facts.frameCount)).toEqual(fieldFacts(facts))
  })
})
