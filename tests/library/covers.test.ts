import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { createCanvas, loadImage } from '@napi-rs/canvas'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { databaseFile } from '../../electron/library/database/database-file.ts'
import { openDatabase } from '../../electron/library/database/open.ts'
import { migrations } from '../../electron/library/migrations/index.ts'
import { Library } from '../../electron/library/library.ts'
import { shapes } from '../../shared-core/drawing/shapes.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { ffmpegFile, runFfmpegNow, sizeOf } from './support/make-clip.ts'
import { takeIn, temporaryFolder } from './support/temporary-library.ts'
import { writePackage } from './support/lesson-with-drawing.ts'
import { agreed } from './support/agreed.ts'

/**
 * A "face" is a patch of fine checks at a place known as a share of the shown picture. What was written is decoded by
 * ffmpeg and read back: where the patch still has its contrast, the face is seen.
 */
const face = { x: 0.4, y: 0.25, width: 0.14, height: 0.2 }

/** Stored size and shape of the pixels; shown, all are 384 wide. */
const kinds = {
  'square pixels': { stored: [384, 192], sar: '1/1', extra: [] },
  'wide pixels': { stored: [192, 192], sar: '2/1', extra: [] },
  'narrow pixels': { stored: [512, 192], sar: '3/4', extra: [] },
  'wide pixels, turned': { stored: [192, 192], sar: '2/1', extra: ['turned'] },
} as const
type Kind = keyof typeof kinds
const frames = 36

const makeFaceClip = (folder: string, kind: Kind): string => {
  const {
    stored: [width, height],
    sar,
    extra,
  } = kinds[kind]
  const isTurned = (extra as readonly string[]).includes('turned')
  // A clip that is turned a quarter clockwise when shown stores the shown (x, y) at (y, 1 - x).
  const [x, y] = isTurned ? [`(1-Y/${height})`, `(X/${width})`] : [`(X/${width})`, `(Y/${height})`]
  const isFace = `between(${x},${face.x},${face.x + face.width})*between(${y},${face.y},${face.y + face.height})`
  const file = path.join(folder, `${kind.replaceAll(/\W+/g, '-')}.mp4`)
  const plain = path.join(folder, `plain-${path.basename(file)}`)
  runFfmpegNow(
    ...['-f', 'lavfi', '-i'],
    `nullsrc=s=${width}x${height}:r=30:d=${frames / 30},geq=lum='if(${isFace},if(mod(floor(X/4)+floor(Y/4),2),225,25),120)':cb=128:cr=128,setsar=${sar}`,
    ...['-c:v', 'libx264', '-crf', '6', '-g', '12', '-pix_fmt', 'yuv420p', plain],
  )
  if (!isTurned) {
    fs.renameSync(plain, file)
    return file
  }
  try {
    runFfmpegNow('-display_rotation', '90', '-i', plain, '-c', 'copy', file)
  } catch {
    // An old ffmpeg: it turns by a tag, the other way round.
    runFfmpegNow('-i', plain, '-c', 'copy', '-metadata:s:v:0', 'rotate=270', file)
  }
  return file
}

/** Difference between light and dark in the middle of the face, 0 to 255, on each frame of a video. */
const contrasts = (file: string): number[] => {
  const [width, height] = sizeOf(file)
  const all = execFileSync(
    ffmpegFile,
    ['-v', 'error', '-i', file, '-f', 'rawvideo', '-pix_fmt', 'gray', 'pipe:1'],
    {
      maxBuffer: 1 << 29,
    },
  )
  const size = width * height
  return Array.from({ length: all.length / size }, (_, i) =>
    contrastIn((x, y) => all[i * size + y * width + x]!, width, height),
  )
}

const contrastIn = (at: (x: number, y: number) => number, width: number, height: number): number => {
  let [low, high] = [255, 0]
  for (
    let y = Math.ceil((face.y + 0.25 * face.height) * height);
    y < (face.y + 0.75 * face.height) * height;
    y++
  ) {
    for (
      let x = Math.ceil((face.x + 0.25 * face.width) * width);
      x < (face.x + 0.75 * face.width) * width;
      x++
    ) {
      const value = at(x, y)
      low = Math.min(low, value)
      high = Math.max(high, value)
    }
  }
  return high - low
}
/** Checks that are seen give about 150 and more even in a small picture; covered, less than a sixth of that. */
const isSeen = (contrast: number) => contrast > 60

describe.each(Object.keys(kinds) as Kind[])('a cover on a clip with %s', (kind) => {
  let folder: string
  let library: Library
  let lessonId: string
  let studentId: string
  const open = (): Promise<OpenLesson> => library.ask('lesson.open', { lessonId })
  const viewId = async () => (await open()).swings[0]!.views[0]!.id
  const coverOn = async (frame: number) => {
    const { clips } = await open()
    const { width, height } = clips[0]!
    const corner = (share: number) => ({
      x: (face.x + face.width * share) * width,
      y: (face.y + face.height * share) * height,
    })
    const shape = {
      ...shapes.cover.create([corner(-0.3), corner(1.3)], { tone: 'ink', widthPx: 4, isDashed: false }),
    }
    return library.ask('drawing.add', {
      viewId: await viewId(),
      momentId: null,
      fromFrame: frame,
      toFrame: frame,
      shape,
    })
  }
  /** Contrast of the face on each frame of the clip and on each still of a package written now. */
  const written = async () => {
    const job = await writePackage({ library, lessonId }, path.join(folder, 'out'))
    if (job.state !== 'done') throw new Error(JSON.stringify(job.problem))
    const clips = path.join(job.result!, 'clips')
    const page = fs.readFileSync(path.join(job.result!, 'index.html'), 'utf8')
    const stills = await Promise.all(
      [...page.matchAll(/data:image\/jpeg;base64,([A-Za-z0-9+/=]+)/g)].map(async ([, base64]) => {
        const image = await loadImage(Buffer.from(base64!, 'base64'))
        const canvas = createCanvas(image.width, image.height).getContext('2d')
        canvas.drawImage(image, 0, 0)
        const { data } = canvas.getImageData(0, 0, image.width, image.height)
        return contrastIn((x, y) => data[(y * image.width + x) * 4]!, image.width, image.height)
      }),
    )
    return { video: fs.readdirSync(clips).flatMap((name) => contrasts(path.join(clips, name))), stills }
  }

  beforeAll(async () => {
    folder = temporaryFolder()
    library = new Library({ folder: path.join(folder, 'library'), printPdf: null })
    studentId = (await library.ask('student.create', { name: 'Robin Testing', side: 'right' })).id
    const said = agreed()
    await library.ask('student.consent', { id: studentId, consent: said })
    lessonId = (await library.ask('lesson.create', { studentId, date: '2026-05-01' })).id
    const [job] = await takeIn(library, lessonId, [makeFaceClip(folder, kind)])
    if (job!.state !== 'done') throw new Error(JSON.stringify(job!.problem))
    const view = await viewId()
    const { id } = await library.ask('moment.place', { viewId: view, name: 'impact', frame: 20 })
    const draft = await library.ask('handOver.draft', { lessonId })
    await library.ask('handOver.saveDraft', {
      ...draft,
      swings: [{ viewId: view, caption: '', momentIds: [id], withClip: true }],
    })
  })
  afterAll(async () => {
    await library.close()
    fs.rmSync(folder, { recursive: true, force: true })
  })

  it('hides the face on every frame and still that is handed over, put on one frame alone', async () => {
    const without = await written()
    expect(without.video.length).toBeGreaterThan(30)
    // The face is found where it is, so that its absence means something.
    expect(without.video.filter(isSeen).length).toBe(without.video.length)
    expect(without.stills.length).toBeGreaterThan(0)
    expect(without.stills.every(isSeen)).toBe(true)
    expect((await library.ask('handOver.preview', { lessonId, isQuick: true })).covers).toBeNull()

    const { id } = await coverOn(20)
    const covered = await written()
    expect(covered.video.length).toBe(without.video.length)
    expect(covered.video.filter(isSeen)).toEqual([])
    expect(covered.stills.filter(isSeen)).toEqual([])
    const preview = await library.ask('handOver.preview', { lessonId, isQuick: true })
    expect(preview.covers).toMatchObject({ uncovered: 0, isAsked: false })

    // Narrowed on purpose: it is said how many frames show the face.
    await library.ask('drawing.update', { id, patch: { fromFrame: 20, toFrame: 20 } })
    const narrowed = await library.ask('handOver.preview', { lessonId, isQuick: true })
    const { frames: count } = narrowed.covers!
    expect(narrowed.covers!.uncovered).toBe(count - 1)
    expect(narrowed.covers!.sentence).toContain(`${count - 1} of the ${count} frames`)
    expect((await written()).video.filter(isSeen).length).toBeGreaterThan(0)
    await library.ask('edits.undo', { lessonId })
  })
})

describe('a cover', () => {
  const setUp = async () => {
    const folder = temporaryFolder()
    const library = new Library({ folder: path.join(folder, 'library'), printPdf: null })
    const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
    const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-01' })
    const other = path.join(folder, 'other.mp4')
    runFfmpegNow('-f', 'lavfi', '-i', 'testsrc2=s=160x90:r=30:d=0.7', '-pix_fmt', 'yuv420p', other)
    const jobs = await takeIn(library, lessonId, [makeFaceClip(folder, 'square pixels'), other])
    expect(jobs.map((job) => job.state)).toEqual(['done', 'done'])
    const open = () => library.ask('lesson.open', { lessonId })
    const views = (await open()).swings.flatMap((s) => s.views)
    const { clips } = await open()
    const frameCount = (clipId: string) => clips.find((c) => c.id === clipId)!.frameCount
    const first = views.find((v) => frameCount(v.clipId) === frames)!
    const second = views.find((v) => v !== first)!
    const shape = shapes.cover.create(
      [
        { x: 10, y: 10 },
        { x: 60, y: 60 },
      ],
      { tone: 'ink', widthPx: 4, isDashed: false },
    )
    const { id } = await library.ask('drawing.add', {
      viewId: first.id,
      momentId: null,
      fromFrame: 5,
      toFrame: 5,
      shape: { ...shape },
    })
    return { folder, library, lessonId, studentId, open, first, second, id, frameCount }
  }

  it('stays on both sides of a cut, and is copied to the whole of another clip', async () => {
    const { folder, library, open, first, second, id, frameCount } = await setUp()
    await library.ask('drawing.copyTo', { ids: [id], viewId: second.id })
    const copied = (await open()).swings.flatMap((s) => s.views).find((v) => v.id === second.id)!
    expect(copied.drawings).toMatchObject([
      { fromFrame: 0, toFrame: frameCount(second.clipId) - 1, momentId: null },
    ])
    await library.ask('view.cut', { viewId: first.id, atFrame: 18 })
    const halves = (await open()).swings.flatMap((s) => s.views).filter((v) => v.clipId === first.clipId)
    expect(halves.map((v) => [v.fromFrame, v.toFrame])).toEqual([
      [0, 17],
      [18, frames - 1],
    ])
    for (const half of halves) {
      expect(half.drawings).toHaveLength(1)
      expect(half.drawings[0]).toMatchObject({ fromFrame: 0, toFrame: frames - 1, shape: { kind: 'cover' } })
    }
    await library.close()
    fs.rmSync(folder, { recursive: true, force: true })
  })

  it('is asked for by the consent: without one everywhere, writing needs an explicit yes', async () => {
    const { folder, library, lessonId, studentId, first, second } = await setUp()
    const consent = {
      ...agreed(),
      coversFace: true,
    }
    await library.ask('student.consent', { id: studentId, consent })
    const draft = await library.ask('handOver.draft', { lessonId })
    const swingOf = (viewId: string) => ({ viewId, caption: '', momentIds: [], withClip: true })
    await library.ask('handOver.saveDraft', { ...draft, swings: [swingOf(first.id)] })
    expect((await library.ask('handOver.preview', { lessonId, isQuick: true })).needsConsent).toBeNull()
    await library.ask('handOver.saveDraft', { ...draft, swings: [swingOf(first.id), swingOf(second.id)] })
    const { needsConsent, covers } = await library.ask('handOver.preview', { lessonId, isQuick: true })
    expect(needsConsent).toMatch(/asks for the face to be covered, and 21 of 57 frames have no cover/)
    expect(covers).toMatchObject({ frames: 57, uncovered: 21, isAsked: true })
    const out = path.join(folder, 'out')
    const refused = await writePackage({ library, lessonId }, out)
    expect(refused).toMatchObject({ state: 'failed', problem: { what: needsConsent } })
    expect(fs.existsSync(out)).toBe(false)
    await library.close()
    fs.rmSync(folder, { recursive: true, force: true })
  })

  it('of an older library that stood on one frame holds for its whole clip once the library is opened', async () => {
    const { folder, library, id, first } = await setUp()
    await library.close()
    const wholeCovers = migrations.findIndex((m) => m.name === 'whole-covers')
    const inside = path.join(folder, 'library')
    const before = openDatabase(inside)
    before.sqlite.prepare('UPDATE drawing SET from_frame = 5, to_frame = 5 WHERE id = ?').run(id)
    before.sqlite.exec(migrations[wholeCovers]!.sql)
    const row = before.sqlite
      .prepare('SELECT from_frame, to_frame, view_id FROM drawing WHERE id = ?')
      .get(id)
    expect(row).toEqual({ from_frame: 0, to_frame: frames - 1, view_id: first.id })
    before.sqlite.close()
    expect(fs.existsSync(databaseFile(inside))).toBe(true)
    fs.rmSync(folder, { recursive: true, force: true })
  })
})
