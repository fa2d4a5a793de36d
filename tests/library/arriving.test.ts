import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import type { Arriving, Job } from '../../shared-core/model/entities.ts'
import { ffprobeFile, makeClip, runFfmpegNow } from './support/make-clip.ts'
import { filesBelow, openWithLesson, temporaryFolder } from './support/temporary-library.ts'

let media: string
const inMedia = (name: string) => path.join(media, name)
const hashOf = (file: string) => createHash('sha256').update(fs.readFileSync(file)).digest('hex')

beforeAll(() => {
  media = temporaryFolder()
  makeClip(inMedia('good.mp4'))
  makeClip(inMedia('other.mp4'), { rate: 60 })
  makeClip(inMedia('long.mp4'), { seconds: 25, rate: 60 })
  const deep = ['-c:v', 'libx264', '-pix_fmt', 'yuv420p10le', '-an']
  runFfmpegNow('-i', inMedia('good.mp4'), ...deep, inMedia('deep.mp4'))
})
afterAll(() => fs.rmSync(media, { recursive: true, force: true }))

describe('a film that is being taken in', () => {
  let library: Library
  let folder: string
  let lessonId: string
  /** Called whenever a job tells of itself. */
  let onJob: (job: Job) => void
  beforeEach(async () => {
    const opened = await openWithLesson()
    await opened.library.close()
    folder = opened.folder
    lessonId = opened.lessonId
    onJob = () => {}
    library = new Library({
      folder,
      emit: (name, body) => {
        if (name === 'job.changed') onJob(body as Job)
      },
    })
    return async () => {
      await library.close()
      fs.rmSync(folder, { recursive: true, force: true })
    }
  })

  /** The first time that each job shows what it takes in. */
  const shownFirst = (act: (arriving: Arriving, job: Job) => void) => {
    const seen = new Set<string>()
    onJob = (job) => {
      if (!job.arriving || seen.has(job.id)) return
      seen.add(job.id)
      act(job.arriving, job)
    }
  }
  const add = async (...names: string[]) => {
    const { jobIds } = await library.ask('clips.add', { lessonId, files: names.map(inMedia) })
    const jobs: Job[] = []
    for (const id of jobIds) jobs.push(await library.context.jobs.ended(id))
    return jobs
  }
  const originalOf = (clipId: string) => library.ask('media.resolve', { clipId, kind: 'original' })

  it('can be looked at before it stands, under the ids that it stands under, frame by frame the same', async () => {
    const looked: {
      arriving: Arriving
      times: Promise<number[]>
      hash: Promise<string>
      clips: Promise<number>
    }[] = []
    shownFirst((arriving) => {
      const { id } = arriving.clip
      looked.push({
        arriving,
        times: library.ask('clip.timestamps', { id }).then((t) => t.atSeconds),
        hash: originalOf(id).then(({ file }) => hashOf(file)),
        clips: library.ask('lesson.open', { lessonId }).then(({ clips }) => clips.length),
      })
    })
    const jobs = await add('good.mp4', 'other.mp4')
    expect(jobs.map((job) => [job.state, job.arriving])).toEqual([
      ['done', null],
      ['done', null],
    ])
    expect(looked).toHaveLength(2)
    const { clips, swings } = await library.ask('lesson.open', { lessonId })
    for (const { arriving, times, hash, clips: then } of looked) {
      const clip = clips.find((c) => c.id === arriving.clip.id)!
      // What the moments tell of the camera, and the sound's peaks, come with it.
      expect(arriving.clip).toMatchObject({
        ...clip,
        captureRate: expect.anything(),
        captureRateHow: expect.anything(),
      })
      const view = swings.flatMap((s) => s.views).find((v) => v.id === arriving.view.id)!
      expect(view).toMatchObject({ clipId: clip.id, fromFrame: 0, toFrame: clip.frameCount - 1 })
      expect(await times).toEqual((await library.ask('clip.timestamps', { id: clip.id })).atSeconds)
      expect(await hash).toBe(clip.hash)
      expect(hashOf((await originalOf(clip.id)).file)).toBe(clip.hash)
      expect(await then).toBeLessThan(2)
    }
  })

  it('is nowhere once it was cancelled, and nothing is left of it', async () => {
    let clipId = ''
    shownFirst((arriving, job) => {
      clipId = arriving.clip.id
      void library.ask('job.cancel', { id: job.id })
    })
    const [job] = await add('long.mp4')
    expect(job).toMatchObject({ state: 'cancelled', arriving: null })
    await expect(originalOf(clipId)).rejects.toMatchObject({ code: 'gone' })
    await expect(library.ask('clip.timestamps', { id: clipId })).rejects.toMatchObject({ code: 'gone' })
    expect(filesBelow(path.join(folder, 'incoming'))).toEqual([])
    const { clips, undoLabel } = await library.ask('lesson.open', { lessonId })
    expect({ clips, undoLabel }).toEqual({ clips: [], undoLabel: null })
  })

  it('is undone in one step, and is no more to be looked at', async () => {
    const [job] = await add('good.mp4')
    expect(job!.state).toBe('done')
    const { clips } = await library.ask('lesson.open', { lessonId })
    await library.ask('edits.undo', { lessonId })
    const after = await library.ask('lesson.open', { lessonId })
    expect([after.clips, after.swings, after.undoLabel]).toEqual([[], [], null])
    await expect(originalOf(clips[0]!.id)).rejects.toMatchObject({ code: 'gone' })
    await library.ask('edits.redo', { lessonId })
    expect((await library.ask('lesson.open', { lessonId })).clips.map((c) => c.id)).toEqual([clips[0]!.id])
  })

  it('whose pictures turn out to be unreadable is shown no more', async () => {
    // The index is sound, and so is the first picture; no other is.
    const bytes = fs.readFileSync(inMedia('other.mp4'))
    const ofPackets = ['-select_streams', 'v:0', '-show_entries', 'packet=pos,size', '-of', 'csv=p=0']
    const [first, ...others] = execFileSync(ffprobeFile, ['-v', 'error', ...ofPackets, inMedia('other.mp4')])
      .toString()
      .trim()
      .split(/\s+/)
      .map((line) => line.split(',').map(Number))
    expect(first![0]).toBeGreaterThan(0)
    for (const [size, at] of others) bytes.fill(0xff, at, at! + size!)
    fs.writeFileSync(inMedia('hurt.mp4'), bytes)
    let clipId = ''
    shownFirst((arriving) => (clipId = arriving.clip.id))
    const [job] = await add('hurt.mp4')
    expect(job).toMatchObject({ state: 'failed', arriving: null })
    expect(clipId).not.toBe('')
    await expect(originalOf(clipId)).rejects.toMatchObject({ code: 'gone' })
    expect((await library.ask('lesson.open', { lessonId })).clips).toEqual([])
  })

  it('is not shown where the window could not step through it, nor where the lesson has it', async () => {
    await add('good.mp4')
    const shown: string[] = []
    shownFirst((arriving) => shown.push(arriving.clip.fileName))
    const [deep, again] = await add('deep.mp4', 'good.mp4')
    expect([deep!.state, again!.outcome, shown]).toEqual(['done', 'result.already', []])
  })
})
