import fs from 'node:fs'
import path from 'node:path'
import Papa from 'papaparse'
import { afterAll, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { shotsCsv } from '../../electron/library/hand-over/student-data.ts'
import { probeClip } from '../../electron/library/media/probe.ts'
import type { MediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { isoDateSchema } from '../../shared-core/model/entities.ts'
import { makeClip } from './support/make-clip.ts'
import { filesBelow, openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

const folder = temporaryFolder()
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

describe('a library', () => {
  it.skipIf(process.platform === 'win32')('can be read by its owner only, also one from before', async () => {
    const inside = path.join(folder, 'mine')
    fs.mkdirSync(inside, { mode: 0o755 })
    const clip = path.join(folder, 'clip.mp4')
    makeClip(clip, { seconds: 0.5 })
    fs.chmodSync(clip, 0o644)
    const { library, lessonId } = await openWithLesson(inside)
    expect((await takeIn(library, lessonId, [clip])).map((job) => job.state)).toEqual(['done'])
    const open = ['', ...filesBelow(inside)].filter((name) => {
      const { mode } = fs.statSync(path.join(inside, name))
      return (mode & 0o077) !== 0
    })
    expect(open).toEqual([])
    await library.close()
    // One that an older Leadside left open to others.
    fs.chmodSync(inside, 0o755)
    fs.chmodSync(path.join(inside, 'library.sqlite'), 0o644)
    const again = new Library({ folder: inside, printPdf: null })
    expect(fs.statSync(inside).mode & 0o777).toBe(0o700)
    expect(fs.statSync(path.join(inside, 'library.sqlite')).mode & 0o777).toBe(0o600)
    await again.close()
  })

  it('takes only days that there are', async () => {
    for (const day of ['2026-99-99', '2026-02-30', '2026-00-10', '2025-02-29', '2026-13-01']) {
      expect(isoDateSchema.safeParse(day).success, day).toBe(false)
    }
    for (const day of ['2024-02-29', '2026-12-31', '1999-01-01']) {
      expect(isoDateSchema.safeParse(day).success, day).toBe(true)
    }
    const { library, studentId } = await openWithLesson(path.join(folder, 'days'))
    await expect(library.ask('lesson.create', { studentId, date: '2026-99-99' })).rejects.toMatchObject({
      code: 'bad-input',
      what: 'there is no such day',
    })
    await library.close()
  })

  it('writes shots.csv so that no cell is taken for a formula', async () => {
    const { library, lessonId } = await openWithLesson(path.join(folder, 'csv'))
    const file = path.join(folder, 'shots.csv')
    const clubs = ['=HYPERLINK("http://a","b")', '+1+cmd', '-2+3', '@SUM(A1)', '7-iron', '\t=1']
    const rows = clubs.map((club, i) => `"${club.replaceAll('"', '""')}",${70 + i},${100 + i},-${i}.5`)
    fs.writeFileSync(file, `Club,Club Speed (mph),Ball Speed (mph),Attack Angle (deg)\n${rows.join('\n')}\n`)
    await library.ask('shots.add', { lessonId, file })
    const lesson = await library.ask('lesson.open', { lessonId })
    expect(lesson.shots.length).toBe(clubs.length)
    const written = Papa.parse<Record<string, string>>(shotsCsv(lesson, { shots: [] } as never), {
      header: true,
    })
    const cells = written.data.flatMap((row) => Object.values(row))
    const formulas = cells.filter((cell) => /^[=+\-@\t\r\n]/.test(cell) && !/^-\d+(\.\d+)?$/.test(cell))
    expect(formulas).toEqual([])
    expect(cells.filter((cell) => cell.startsWith("'=")).length).toBeGreaterThan(0)
    // A number with a minus stays a number.
    expect(cells).toContain('-1.5')
    await library.close()
  })
})

describe('a clip', () => {
  it('of 160,000 frames that are all key frames is read', async () => {
    // A stand-in for ffprobe that says what such a file's ffprobe says: the reading is what ran out of stack.
    const fake = path.join(folder, 'ffprobe')
    const frames = 160_000
    fs.writeFileSync(
      fake,
      `#!${process.execPath}
const streams = [{ index: 0, codec_type: 'video', codec_name: 'mjpeg', pix_fmt: 'yuvj420p', width: 320, height: 180 }]
const packets = Array.from({ length: ${frames} }, (_, i) => ({ stream_index: 0, pts_time: (i / 240).toFixed(6), flags: 'K__' }))
console.log(JSON.stringify({ packets, streams, format: { format_name: 'mov' } }))
`,
      { mode: 0o755 },
    )
    const clip = path.join(folder, 'keys.mov')
    fs.writeFileSync(clip, Buffer.from([0, 0, 0, 20]))
    const programs = { ffmpeg: { file: fake }, ffprobe: { file: fake } } as unknown as MediaPrograms
    // Node reserves more address space than a media program may have.
    const limits = { memoryBytes: 2 ** 42 }
    const facts = await probeClip(clip, { programs, clipName: 'keys.mov', limits })
    expect(facts.frameCount).toBe(frames)
    expect(facts.longestKeyDistance).toBe(1)
  })
})
