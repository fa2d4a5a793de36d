import { spawn } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { decodedTimes, makeClip, runFfmpegNow } from './support/make-clip.ts'
import { filesBelow, openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

let media: string
const inMedia = (name: string) => path.join(media, name)
beforeAll(() => {
  media = temporaryFolder()
  makeClip(inMedia('good.mp4'))
  makeClip(inMedia('other.mp4'), { rate: 60 })
})
afterAll(() => fs.rmSync(media, { recursive: true, force: true }))

const withLesson = async (work: (opened: Awaited<ReturnType<typeof openWithLesson>>) => Promise<void>) => {
  const opened = await openWithLesson()
  try {
    await work(opened)
  } finally {
    await opened.library.close()
    fs.rmSync(opened.folder, { recursive: true, force: true })
  }
}

describe('taking a clip in', () => {
  it('keeps the original byte for byte and gives every frame the decoder’s timestamp, in the working copy too', () =>
    withLesson(async ({ library, lessonId }) => {
      const [job] = await takeIn(library, lessonId, [inMedia('good.mp4')])
      expect(job).toMatchObject({ state: 'done', problem: null })
      const { clips } = await library.ask('lesson.open', { lessonId })
      expect(clips).toHaveLength(1)
      const clip = clips[0]!
      const original = await library.ask('media.resolve', { clipId: clip.id, kind: 'original' })
      expect(fs.readFileSync(original.file).equals(fs.readFileSync(inMedia('good.mp4')))).toBe(true)
      const { atSeconds } = await library.ask('clip.timestamps', { id: clip.id })
      const truth = decodedTimes(inMedia('good.mp4'))
      expect(clip.frameCount).toBe(truth.length)
      atSeconds.forEach((t, i) => expect(t).toBeCloseTo(truth[i]! - truth[0]!, 5))
      const play = await library.ask('media.resolve', { clipId: clip.id, kind: 'play' })
      const played = decodedTimes(play.file)
      expect(played).toHaveLength(truth.length)
      played.forEach((t, i) => expect(t - played[0]!).toBeCloseTo(truth[i]! - truth[0]!, 3))
      for (const kind of ['poster', 'strip'] as const) {
        const { file } = await library.ask('media.resolve', { clipId: clip.id, kind })
        expect(fs.statSync(file).size).toBeGreaterThan(500)
      }
      const { min, max } = await library.ask('clip.soundPeaks', { id: clip.id })
      expect(Math.max(...max)).toBeGreaterThan(0.05)
      expect(Math.min(...min)).toBeLessThan(-0.05)
    }))

  it('takes the same file twice as one clip, under any name', () =>
    withLesson(async ({ library, lessonId }) => {
      fs.copyFileSync(inMedia('good.mp4'), inMedia('copy.mp4'))
      await takeIn(library, lessonId, [inMedia('good.mp4')])
      const [again] = await takeIn(library, lessonId, [inMedia('copy.mp4')])
      expect(again).toMatchObject({
        state: 'done',
        result: 'already in this lesson as good.mp4',
        outcome: 'result.already',
      })
      const opened = await library.ask('lesson.open', { lessonId })
      expect(opened.clips).toHaveLength(1)
      expect(opened.swings).toHaveLength(1)
    }))

  it('can be undone and done again', () =>
    withLesson(async ({ library, lessonId }) => {
      await takeIn(library, lessonId, [inMedia('good.mp4')])
      expect(await library.ask('edits.undo', { lessonId })).toEqual({ label: 'add good.mp4' })
      expect((await library.ask('lesson.open', { lessonId })).clips).toHaveLength(0)
      await library.ask('edits.redo', { lessonId })
      const { clips } = await library.ask('lesson.open', { lessonId })
      expect(clips).toHaveLength(1)
      expect((await library.ask('library.check', {})).isSound).toBe(true)
    }))
})

describe('a clip that can’t be taken in', () => {
  const damaged: [string, (file: string) => void, RegExp][] = [
    ['empty.mp4', (file) => fs.writeFileSync(file, ''), /empty/],
    [
      'letter.mp4',
      (file) => fs.writeFileSync(file, 'Dear coach, this is not a clip at all. '.repeat(50)),
      /a list or a text, not a film/,
    ],
    [
      'sound-only.mp4',
      (file) => runFfmpegNow('-f', 'lavfi', '-i', 'sine=duration=1', file),
      /sound but no picture/,
    ],
    [
      'cut-short.mp4',
      (file) => fs.writeFileSync(file, fs.readFileSync(inMedia('good.mp4')).subarray(0, 4000)),
      /its end is missing/,
    ],
    ['not-there.mp4', () => {}, /no longer there/],
  ]
  it.each(damaged)('%s is reported by name with the reason, and the others go on', (name, make, reason) =>
    withLesson(async ({ library, lessonId, folder }) => {
      make(inMedia(name))
      const jobs = await takeIn(library, lessonId, [inMedia(name), inMedia('good.mp4')])
      expect(jobs[0]!.state).toBe('failed')
      expect(jobs[0]!.problem!.where).toBe(name)
      expect(jobs[0]!.problem!.what).toMatch(reason)
      expect(jobs[0]!.problem!.toDo).toBeTruthy()
      expect(jobs[1]!.state).toBe('done')
      const opened = await library.ask('lesson.open', { lessonId })
      expect(opened.clips.map((c) => c.fileName)).toEqual(['good.mp4'])
      expect(filesBelow(path.join(folder, 'incoming'))).toEqual([])
    }),
  )

  it('with its index in front but its end missing keeps the frames that can be read', () =>
    withLesson(async ({ library, lessonId }) => {
      makeClip(inMedia('front.mp4'), { seconds: 4, extra: ['-movflags', '+faststart', '-g', '10'] })
      const whole = fs.readFileSync(inMedia('front.mp4'))
      fs.writeFileSync(inMedia('front-cut.mp4'), whole.subarray(0, Math.floor(whole.length * 0.6)))
      const [job] = await takeIn(library, lessonId, [inMedia('front-cut.mp4')])
      const { clips } = await library.ask('lesson.open', { lessonId })
      if (job!.state === 'done') {
        expect(clips[0]!.frameCount).toBeGreaterThan(20)
        expect(clips[0]!.frameCount).toBeLessThan(120)
      } else {
        expect(job!.problem!.where).toBe('front-cut.mp4')
        expect(clips).toEqual([])
      }
    }))

  it('because it went away while it was copied leaves nothing, and can be tried again once it is back', () =>
    withLesson(async ({ library, lessonId, folder }) => {
      const moving = inMedia('moving.mp4')
      fs.copyFileSync(inMedia('other.mp4'), moving)
      const busy = Array.from({ length: 3 }, (_, i) => {
        const file = inMedia(`busy-${i}.mp4`)
        makeClip(file, { seconds: 2 + i })
        return file
      })
      const { jobIds } = await library.ask('clips.add', { lessonId, files: [...busy, moving] })
      fs.rmSync(moving)
      const last = await library.context.jobs.ended(jobIds.at(-1)!)
      expect(last).toMatchObject({ state: 'failed', problem: { where: 'moving.mp4' } })
      expect(last.problem!.what).toMatch(/no longer there/)
      fs.copyFileSync(inMedia('other.mp4'), moving)
      await library.ask('job.retry', { id: last.id })
      expect((await library.context.jobs.ended(last.id)).state).toBe('done')
      // Their working copies, too.
      await library.context.jobs.idle()
      expect((await library.ask('lesson.open', { lessonId })).clips).toHaveLength(4)
      expect(filesBelow(path.join(folder, 'incoming'))).toEqual([])
    }))

  it('because the coach cancelled leaves nothing half done', () =>
    withLesson(async ({ library, lessonId, folder }) => {
      makeClip(inMedia('long.mp4'), { seconds: 20, rate: 60 })
      const { jobIds } = await library.ask('clips.add', { lessonId, files: [inMedia('long.mp4')] })
      while (!['finding the strike', 'preparing'].includes(library.context.jobs.get(jobIds[0]!).step)) {
        await wait(10)
      }
      await library.ask('job.cancel', { id: jobIds[0]! })
      expect((await library.context.jobs.ended(jobIds[0]!)).state).toBe('cancelled')
      expect((await library.ask('lesson.open', { lessonId })).clips).toEqual([])
      expect(filesBelow(path.join(folder, 'incoming'))).toEqual([])
      expect(filesBelow(path.join(folder, 'clips'))).toEqual([])
    }))
})

describe('a library process that was killed while it took a clip in', () => {
  it('has lost nothing and left nothing half done when the library is opened again', async () => {
    const folder = temporaryFolder()
    const first = await openWithLesson(folder)
    await takeIn(first.library, first.lessonId, [inMedia('good.mp4')])
    await first.library.close()
    makeClip(inMedia('killed.mp4'), { seconds: 25, rate: 60 })
    const child = spawn(
      process.execPath,
      [
        path.resolve('electron/cli/index.ts'),
        'add-clips',
        first.lessonId,
        inMedia('killed.mp4'),
        '--library',
        folder,
      ],
      { stdio: 'ignore' },
    )
    const incoming = path.join(folder, 'incoming')
    while (filesBelow(incoming).every((f) => !f.includes('original'))) await wait(20)
    await wait(200)
    child.kill('SIGKILL')
    await new Promise((resolve) => child.once('exit', resolve))
    expect(filesBelow(incoming).length).toBeGreaterThan(0)

    const library = new Library({ folder })
    const opened = await library.ask('lesson.open', { lessonId: first.lessonId })
    expect(opened.clips.map((c) => c.fileName)).toEqual(['good.mp4'])
    // Its owner is no more: this opening takes the job up again, by itself, from the start.
    const job = (await library.ask('jobs.list', {})).find((j) => j.label === 'killed.mp4')!
    expect(library.takenUp).toEqual([job.id])
    expect((await library.context.jobs.ended(job.id)).state).toBe('done')
    await library.context.jobs.idle()
    expect((await library.ask('lesson.open', { lessonId: first.lessonId })).clips).toHaveLength(2)
    expect(filesBelow(incoming)).toEqual([])
    expect((await library.ask('library.check', {})).isSound).toBe(true)
    await library.close()
    fs.rmSync(folder, { recursive: true, force: true })
  })
})

describe('shot records', () => {
  it('with a broken row keep the good rows and name the bad cell by line and column', () =>
    withLesson(async ({ library, lessonId }) => {
      fs.writeFileSync(
        inMedia('broken.csv'),
        'Club,Club Speed (mph),Ball Speed (mph)\nDriver,90,130\nDriver,ninety,131\nDriver,91,132\n',
      )
      const result = await library.ask('shots.add', { lessonId, file: inMedia('broken.csv') })
      expect(result.problems.some((p) => p.line === 3 && p.column === 'Club Speed (mph)')).toBe(true)
      const { shots } = await library.ask('lesson.open', { lessonId })
      // 90 mph = 40.2336 m/s exactly (1 mph = 0.44704 m/s).
      expect(shots[0]!.clubSpeedMps).toBeCloseTo(90 * 0.44704, 9)
      expect(shots.map((s) => s.ballSpeedMps)).toEqual(
        [130, 131, 132].map((v) => expect.closeTo(v * 0.44704, 9)),
      )
    }))

  it('in another encoding are read all the same', () =>
    withLesson(async ({ library, lessonId }) => {
      const text =
        'Schläger;Schlägerkopfgeschwindigkeit (km/h);Ballgeschwindigkeit (km/h)\nDriver;144,8;209,2\n'
      fs.writeFileSync(inMedia('utf16.csv'), Buffer.from(`\ufeff${text}`, 'utf16le'))
      fs.writeFileSync(inMedia('latin.csv'), Buffer.from(text, 'latin1'))
      await library.ask('shots.add', { lessonId, file: inMedia('utf16.csv') })
      // The same row again is the same shot, whatever the encoding.
      expect(await library.ask('shots.add', { lessonId, file: inMedia('latin.csv') })).toMatchObject({
        added: 0,
        alreadyThere: 1,
      })
      const { shots } = await library.ask('lesson.open', { lessonId })
      expect(shots).toHaveLength(1)
      expect(shots[0]!.ballSpeedMps).toBeCloseTo(209.2 / 3.6, 9)
    }))

  it('without a single shot are said to be so, not added as nothing', () =>
    withLesson(async ({ library, lessonId }) => {
      const header = 'Club,Club Speed (mph),Ball Speed (mph)\n'
      fs.writeFileSync(inMedia('header.csv'), header)
      fs.writeFileSync(inMedia('empty-rows.csv'), `${header}Driver,,\nDriver,,\n`)
      const before = await library.ask('lesson.open', { lessonId })
      await expect(library.ask('shots.add', { lessonId, file: inMedia('header.csv') })).rejects.toMatchObject(
        {
          code: 'no-shots',
          what: expect.stringContaining('no shots below'),
          where: 'header.csv',
        },
      )
      await expect(
        library.ask('shots.add', { lessonId, file: inMedia('empty-rows.csv') }),
      ).rejects.toMatchObject({
        what: expect.stringContaining('none of the 2 lines'),
        where: 'empty-rows.csv, line 2',
      })
      expect(await library.ask('lesson.open', { lessonId })).toEqual(before)
    }))

  it('that are no table at all are refused by name, and the lesson stays as it was', () =>
    withLesson(async ({ library, lessonId }) => {
      const before = await library.ask('lesson.open', { lessonId })
      await expect(library.ask('shots.add', { lessonId, file: inMedia('good.mp4') })).rejects.toMatchObject({
        where: expect.stringContaining('good.mp4'),
      })
      expect(await library.ask('lesson.open', { lessonId })).toEqual(before)
    }))
})

describe('deleting a student', () => {
  it('deletes every file and every row about the student, and only those', () =>
    withLesson(async ({ library, folder, studentId, lessonId }) => {
      const { id: otherId } = await library.ask('student.create', { name: 'Someone Else', side: 'left' })
      const { id: otherLesson } = await library.ask('lesson.create', {
        studentId: otherId,
        date: '2026-05-02',
      })
      await takeIn(library, lessonId, [inMedia('good.mp4')])
      await takeIn(library, otherLesson, [inMedia('other.mp4')])
      await expect(
        library.ask('student.deleteForGood', { id: studentId, typedName: 'Robin' }),
      ).rejects.toMatchObject({ code: 'name-differs' })
      const { filesDeleted } = await library.ask('student.deleteForGood', {
        id: studentId,
        typedName: 'Robin Testing',
      })
      expect(filesDeleted).toBeGreaterThanOrEqual(3)
      expect((await library.ask('roster.list', {})).map((s) => s.name)).toEqual(['Someone Else'])
      expect((await library.ask('library.check', {})).isSound).toBe(true)
      const raw = [path.join(folder, 'library.sqlite'), path.join(folder, 'library.sqlite-wal')]
        .filter((f) => fs.existsSync(f))
        .map((f) => fs.readFileSync(f))
      for (const bytes of raw) {
        expect(bytes.includes('Robin Testing')).toBe(false)
        expect(bytes.includes('good.mp4')).toBe(false)
      }
      expect(Buffer.concat(raw).includes('Someone Else')).toBe(true)
    }))
})
