import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import * as t from '../../electron/library/database/schema.ts'
import { Library } from '../../electron/library/library.ts'
import { jointCount, jointIndex } from '../../shared-core/body/joints.ts'
import { shapes } from '../../shared-core/drawing/shapes.ts'
import type { Point } from '../../shared-core/geometry/point.ts'
import type { FollowedPoint } from '../../shared-core/model/entities.ts'
import type { Tie } from '../../shared-core/model/tie.ts'
import { writePackage } from './support/lesson-with-drawing.ts'
import { ffmpegFile, runFfmpegNow } from './support/make-clip.ts'
import { takeIn, temporaryFolder } from './support/temporary-library.ts'
import { agreed } from './support/agreed.ts'

/**
 * A film whose truth is known: a "face" of light and dark cells that is carried over a mottled ground, and at the end out of the
 * picture to the right. What is written is decoded by ffmpeg and read back.
 */
const size = { width: 320, height: 192 }
const frames = 80
const faceHalf = 13
const faceAt = (frame: number): Point => ({
  x: 60 + 2.2 * frame + (frame > 55 ? 0.22 * (frame - 55) ** 2 : 0),
  y: 96 + 40 * Math.sin(frame / 11),
})
const leavesAt = Array.from({ length: frames }, (_, f) => f).find((f) => faceAt(f).x > size.width)!

const makeFilm = (file: string) => {
  const raw = Buffer.alloc(size.width * size.height * frames)
  for (let f = 0; f < frames; f++) {
    const face = faceAt(f)
    for (let y = 0; y < size.height; y++) {
      for (let x = 0; x < size.width; x++) {
        const [dx, dy] = [x - face.x, y - face.y]
        const ground = 110 + 14 * Math.sin(x / 9 + 2 * Math.sin(y / 13)) + 10 * Math.sin(y / 7)
        // Light and dark cells without a repeat, as a checked pattern would look alike at every step.
        const [i, k] = [Math.floor((dx + 100) / 5), Math.floor((dy + 100) / 5)]
        const isLight = (Math.imul(i * 7 + k * 13 + i * i * k, 2_654_435) >>> 7) % 2 === 0
        const isFace = Math.abs(dx) <= faceHalf && Math.abs(dy) <= faceHalf
        raw[(f * size.height + y) * size.width + x] = isFace ? (isLight ? 225 : 25) : ground
      }
    }
  }
  const rawFile = `${file}.raw`
  fs.writeFileSync(rawFile, raw)
  runFfmpegNow(
    ...['-f', 'rawvideo', '-pix_fmt', 'gray', '-s', `${size.width}x${size.height}`, '-r', '120'],
    ...['-i', rawFile, '-c:v', 'libx264', '-crf', '10', '-pix_fmt', 'yuv420p', file],
  )
  fs.rmSync(rawFile)
}

/** Grey pictures of a video. */
const pictures = (file: string): Buffer[] => {
  const all = execFileSync(
    ffmpegFile,
    ['-v', 'error', '-i', file, '-f', 'rawvideo', '-pix_fmt', 'gray', 'pipe:1'],
    { maxBuffer: 1 << 29 },
  )
  const one = size.width * size.height
  return Array.from({ length: all.length / one }, (_, i) => all.subarray(i * one, (i + 1) * one))
}

/** How much light and dark alternate anywhere in a picture: the face's cells do, neither ground nor a cover does. */
const showsFace = (picture: Buffer): boolean => {
  let cells = 0
  // The words under a held frame stand below where the face comes to.
  for (let y = 2; y < 150; y += 2) {
    for (let x = 2; x < size.width - 8; x += 2) {
      const at = (dx: number, dy: number) => picture[(y + dy) * size.width + x + dx]!
      if (Math.abs(at(0, 0) - at(5, 0)) > 90 && Math.abs(at(0, 0) - at(0, 5)) > 90) cells += 1
    }
  }
  return cells > 3
}

/** Places in a video of the pictures that show the face. */
const shownOn = (video: readonly Buffer[]): number[] =>
  video.flatMap((picture, i) => (showsFace(picture) ? [i] : []))

describe('a followed point', () => {
  let folder: string
  let library: Library
  let lessonId: string
  let viewId: string
  let clipId: string
  let begun: { id: string; drawingId: string; jobId: string }

  const point = async (): Promise<FollowedPoint> => (await library.ask('follow.list', { clipId }))[0]!
  const drawings = async () => (await library.ask('lesson.open', { lessonId })).swings[0]!.views[0]!.drawings
  const written = async () => {
    const job = await writePackage({ library, lessonId }, path.join(folder, 'out'))
    if (job.state !== 'done') throw new Error(JSON.stringify(job.problem))
    const clips = path.join(job.result!, 'clips')
    return fs.readdirSync(clips).flatMap((name) => pictures(path.join(clips, name)))
  }

  beforeAll(async () => {
    folder = temporaryFolder()
    library = new Library({ folder: path.join(folder, 'library'), printPdf: null })
    const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
    const said = agreed()
    await library.ask('student.consent', { id: studentId, consent: said })
    lessonId = (await library.ask('lesson.create', { studentId, date: '2026-05-01' })).id
    const file = path.join(folder, 'carried.mp4')
    makeFilm(file)
    const [job] = await takeIn(library, lessonId, [file])
    if (job!.state !== 'done') throw new Error(JSON.stringify(job!.problem))
    const [view] = (await library.ask('lesson.open', { lessonId })).swings[0]!.views
    viewId = view!.id
    clipId = view!.clipId
    for (const moment of view!.moments) await library.ask('moment.remove', { id: moment.id })
    // The whole film is one swing here, whatever was found in it.
    library.context.db
      .update(t.view)
      .set({ fromFrame: 0, toFrame: frames - 1 })
      .where(eq(t.view.id, viewId))
      .run()
    const { id: momentId } = await library.ask('moment.place', { viewId, name: 'impact', frame: 40 })
    const draft = await library.ask('handOver.draft', { lessonId })
    await library.ask('handOver.saveDraft', {
      ...draft,
      swings: [{ viewId, caption: '', momentIds: [momentId], withClip: true }],
    })
    const at = faceAt(30)
    begun = await library.ask('follow.begin', { viewId, name: 'head', frame: 30, ...at })
    const ended = await library.context.jobs.ended(begun.jobId)
    if (ended.state !== 'done') throw new Error(JSON.stringify(ended.problem))
  }, 60_000)
  afterAll(async () => {
    await library.close()
    fs.rmSync(folder, { recursive: true, force: true })
  })

  it('is found on every frame both ways from the mark, within a pixel and a half, and said to be lost where it leaves', async () => {
    const { frames: found, points, lost } = await point()
    const errors = found.map((f, k) => {
      const true_ = faceAt(f)
      return Math.hypot(points[k * 3]! - true_.x, points[k * 3 + 1]! - true_.y)
    })
    expect(found[0]).toBe(0)
    expect(found.length).toBe(found.at(-1)! + 1)
    // From where a part of it is outside the picture it may be given up; never later than where its middle is.
    expect(found.at(-1)).toBeGreaterThan(leavesAt - 8)
    expect(found.at(-1)).toBeLessThan(leavesAt)
    // The film's own pixels are half a pixel coarse each way.
    expect(Math.max(...errors)).toBeLessThan(1.5)
    expect(lost).toHaveLength(1)
    expect(lost[0]!.frame).toBe(found.at(-1)! + 1)
  })

  it('goes on from a mark put right, and the marks stay', async () => {
    // Wrong on purpose, on the ground: from there on it is followed where the coach says it is.
    const wrong = { x: 100, y: 30 }
    const { jobId } = await library.ask('follow.mark', { id: begun.id, frame: 50, ...wrong })
    expect((await library.context.jobs.ended(jobId)).state).toBe('done')
    const after = await point()
    expect(after.marks.map((m) => m.frame)).toEqual([30, 50])
    const k = after.frames.indexOf(50)
    expect(after.points[k * 3]).toBeCloseTo(wrong.x, 3)
    const k30 = after.frames.indexOf(30)
    expect(after.points[k30 * 3]).toBeCloseTo(faceAt(30).x, 3)
    const back = await library.ask('follow.takeBack', { id: begun.id, frame: 50 })
    expect((await library.context.jobs.ended(back.jobId)).state).toBe('done')
    const again = await point()
    expect(again.marks.map((m) => m.frame)).toEqual([30])
    expect(again.points[again.frames.indexOf(50) * 3]).toBeCloseTo(faceAt(50).x, 0)
    await expect(library.ask('follow.takeBack', { id: begun.id, frame: 30 })).rejects.toMatchObject({
      code: 'last-mark',
    })
  })

  it('a following that is cancelled keeps nothing of what it found, and can be done again', async () => {
    const before = await point()
    const ways = () => library.context.db.select().from(t.followedTrack).all()
    const kept = ways()
    const { jobId } = await library.ask('follow.again', { id: begun.id })
    // Cancelled while it works, not while it waits for its turn.
    const { jobs } = library.context
    await expect.poll(() => jobs.get(jobId).step, { interval: 5, timeout: 20_000 }).toBe('following the head')
    await library.ask('job.cancel', { id: jobId })
    expect((await library.context.jobs.ended(jobId)).state).toBe('cancelled')
    expect(await point()).toEqual(before)
    expect(ways()).toEqual(kept)
    const again = await library.ask('follow.again', { id: begun.id })
    expect((await library.context.jobs.ended(again.jobId)).state).toBe('done')
    expect((await point()).frames).toEqual(before.frames)
  })

  it('is undone with its way, and done again with all that was found', async () => {
    const before = await point()
    let steps = 0
    for (; (await library.ask('follow.list', { clipId })).length > 0; steps++) {
      const { label } = await library.ask('edits.undo', { lessonId })
      if (label === null || steps > 20) throw new Error('the point cannot be undone')
    }
    expect((await drawings()).filter((d) => d.tie)).toEqual([])
    for (let i = 0; i < steps; i++) await library.ask('edits.redo', { lessonId })
    expect(await point()).toEqual(before)
    expect((await drawings()).map((d) => d.tie?.to.kind)).toEqual(['way'])
  })

  it('hides the face on no frame by a cover that stays, and on every frame by one that moves with the point or the body', async () => {
    const at = faceAt(30)
    const reach = faceHalf * 1.5
    const shape = {
      ...shapes.cover.create(
        [
          { x: at.x - reach, y: at.y - reach },
          { x: at.x + reach, y: at.y + reach },
        ],
        { tone: 'ink', widthPx: 4, isDashed: false },
      ),
    }
    const cover = await library.ask('drawing.add', {
      viewId,
      momentId: null,
      fromFrame: 30,
      toFrame: 30,
      shape,
    })
    await library.ask('drawing.update', { id: begun.drawingId, patch: { isHidden: true } })
    // The face is seen where the cover is not, so that its absence below means something.
    const still = await written()
    const seen = still.filter(showsFace).length
    expect(seen).toBeGreaterThan(still.length / 3)
    expect(still.length - seen).toBeGreaterThan(0)

    const tieTo = (to: Tie['to']) =>
      library.ask('drawing.update', { id: cover.id, patch: { shape, tie: { frame: 30, to } } })
    await tieTo({ kind: 'followed', id: begun.id })
    expect(shownOn(await written())).toEqual([])

    // The body as it might be read: every sixth frame, both ears, with a gap of a third of a second.
    const read = Array.from({ length: frames }, (_, f) => f).filter((f) => f % 6 === 0 && (f < 30 || f > 66))
    const points = new Float32Array(read.length * jointCount * 3)
    read.forEach((frame, k) => {
      for (const [name, dx] of [
        ['leftEar', -4],
        ['rightEar', 4],
      ] as const) {
        const { x, y } = faceAt(frame)
        points.set([x + dx, y, 0.9], (k * jointCount + jointIndex(name)) * 3)
      }
    })
    const [clip] = (await library.ask('lesson.open', { lessonId })).clips
    library.context.db
      .insert(t.bodyPoints)
      .values({
        mediaHash: clip!.hash,
        model: 'by hand',
        frames: Buffer.from(Int32Array.from(read).buffer),
        points: Buffer.from(points.buffer),
        readAt: '2026-05-01T00:00:00Z',
      })
      .run()
    // Put on where the head was found.
    const on24 = faceAt(24)
    const moved = {
      ...shape,
      at: { x: on24.x - reach, y: on24.y - reach },
    }
    await library.ask('drawing.update', {
      id: cover.id,
      patch: { shape: moved, tie: { frame: 24, to: { kind: 'body', part: 'head' } } },
    })
    expect(shownOn(await written())).toEqual([])
  }, 60_000)

  it('called hands is found where the arms have them, not where what was marked stays behind', async () => {
    // The arms as they might be read, carried along with the face; the mark lies on the ground.
    const read = Array.from({ length: 28 }, (_, k) => 2 * k)
    const points = new Float32Array(read.length * jointCount * 3)
    read.forEach((frame, k) => {
      const { x, y } = faceAt(frame)
      for (const side of ['left', 'right'] as const) {
        for (const [joint, at] of [
          [`${side}Wrist`, { x, y: y - 4 }],
          [`${side}Elbow`, { x, y: y - 15 }],
          [`${side}Hip`, { x: 160, y: 100 }],
          [`${side}Ankle`, { x: 160, y: 140 }],
        ] as const) {
          points.set([at.x, at.y, 0.9], (k * jointCount + jointIndex(joint)) * 3)
        }
      }
    })
    library.context.db
      .update(t.bodyPoints)
      .set({ frames: Buffer.from(Int32Array.from(read).buffer), points: Buffer.from(points.buffer) })
      .run()
    const mark = { frame: 2, x: 30, y: 30 }
    const hands = await library.ask('follow.begin', { viewId, name: 'hands', ...mark })
    expect((await library.context.jobs.ended(hands.jobId)).state).toBe('done')
    const found = (await library.ask('follow.list', { clipId })).find((p) => p.id === hands.id)!
    for (const frame of [24, 31, 44]) {
      const k = found.frames.indexOf(frame)
      expect(
        Math.hypot(found.points[k * 3]! - faceAt(frame).x, found.points[k * 3 + 1]! - faceAt(frame).y),
      ).toBeLessThan(3)
    }
    // What the coach marked stays.
    expect(found.points[found.frames.indexOf(2) * 3]).toBeCloseTo(mark.x, 3)
    await library.ask('follow.remove', { id: hands.id })
  })

  it('takes its way with it when it is no longer followed, and lets go of what moved with it', async () => {
    const [cover] = (await drawings()).filter((d) => d.shape.kind === 'cover')
    await library.ask('drawing.update', {
      id: cover!.id,
      patch: { tie: { frame: 30, to: { kind: 'followed', id: begun.id } } },
    })
    await library.ask('follow.remove', { id: begun.id })
    expect(await library.ask('follow.list', { clipId })).toEqual([])
    expect((await drawings()).map((d) => [d.shape.kind, d.tie])).toEqual([['cover', null]])
    await library.ask('edits.undo', { lessonId })
    expect((await drawings()).map((d) => d.tie?.to.kind).toSorted()).toEqual(['followed', 'way'])
  })
})
