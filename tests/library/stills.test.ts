import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { probeClip } from '../../electron/library/media/probe.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { framePicture } from '../../electron/library/scene/frame-picture.ts'
import type { Clip, OpenLesson } from '../../shared-core/model/entities.ts'
import { shapes } from '../../shared-core/drawing/shapes.ts'
import { standsAlone } from '../../shared-core/model/still.ts'
import { iccProfile, profiles } from './support/icc-profile.ts'
import { makeClip, runFfmpegNow } from './support/make-clip.ts'
import { filesBelow, openWithLesson, takeIn } from './support/temporary-library.ts'
import { agreed } from './support/agreed.ts'

let library: Library
let folder: string
let studentId: string
let lessonId: string
const inFolder = (name: string) => path.join(folder, name)

/** Left half red, right half blue. */
const halves = (file: string, width = 320, height = 200) =>
  runFfmpegNow(
    ...['-f', 'lavfi', '-i', `color=c=0xC83C1E:size=${width / 2}x${height}`],
    ...['-f', 'lavfi', '-i', `color=c=0x1E3CC8:size=${width / 2}x${height}`],
    ...['-filter_complex', 'hstack,format=rgb24', '-frames:v', '1', '-q:v', '2', file],
  )
const red = [200, 60, 30]
const blue = [30, 60, 200]

/** Exif with an orientation and a place, as a phone writes it, put behind the start of the JPEG (CIPA DC-008). */
const withExif = (jpeg: string, orientation: number) => {
  const bytes = fs.readFileSync(jpeg)
  const tiff = Buffer.from(
    '49492a0008000000020012010300010000000000000098820200080000002600000000000000',
    'hex',
  )
  tiff.writeUInt16LE(orientation, 18)
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff, Buffer.from('SECRET-X\0', 'latin1')])
  const head = Buffer.alloc(4)
  head.writeUInt16BE(0xffe1, 0)
  head.writeUInt16BE(body.length + 2, 2)
  fs.writeFileSync(jpeg, Buffer.concat([bytes.subarray(0, 2), head, body, bytes.subarray(2)]))
}

/** A photo of one colour with a profile, in two parts as large ones have (ICC.1:2022, B.4). */
const withProfile = (file: string, colour: string, profile: Buffer) => {
  runFfmpegNow(
    '-f',
    'lavfi',
    '-i',
    `color=c=${colour}:size=64x64,format=yuvj444p`,
    '-frames:v',
    '1',
    '-q:v',
    '1',
    file,
  )
  const bytes = fs.readFileSync(file)
  const parts = [profile.subarray(0, 200), profile.subarray(200)].map((data, i) => {
    const body = Buffer.concat([Buffer.from('ICC_PROFILE\0', 'latin1'), Buffer.from([i + 1, 2]), data])
    const head = Buffer.from([0xff, 0xe2, 0, 0])
    head.writeUInt16BE(body.length + 2, 2)
    return Buffer.concat([head, body])
  })
  fs.writeFileSync(file, Buffer.concat([bytes.subarray(0, 2), ...parts, bytes.subarray(2)]))
}

const open = (): Promise<OpenLesson> => library.ask('lesson.open', { lessonId })
const named = (lesson: OpenLesson, fileName: string): Clip =>
  lesson.clips.find((c) => c.fileName === fileName)!
const swingWith = (lesson: OpenLesson, clip: Clip) =>
  lesson.swings.find((s) => s.views.some((v) => v.clipId === clip.id))!

/** The colour at a share of what is looked at. */
const colourAt = async (clip: Clip, x: number, y: number): Promise<number[]> => {
  const programs = await findMediaPrograms(null)
  const file = library.context.paths.proxy(clip.hash)
  const options = { programs, clipName: clip.fileName }
  const probed = await import('node:child_process').then(({ execFileSync }) =>
    execFileSync(programs.ffprobe.file, [
      ...['-v', 'error', '-show_entries', 'stream=width,height', '-of', 'csv=p=0', file],
    ])
      .toString()
      .trim(),
  )
  expect(probed).toBe(`${clip.width},${clip.height}`)
  const facts = { width: clip.width, height: clip.height, atSeconds: new Float64Array(1) }
  const { rgba, width, height } = await framePicture(file, 0, facts, options)
  const at = 4 * (Math.floor(y * height) * width + Math.floor(x * width))
  return [...rgba.subarray(at, at + 3)]
}
const expectColour = (found: number[], wanted: number[]) => {
  const worst = Math.max(...found.map((v, i) => Math.abs(v - wanted[i]!)))
  expect(worst, `${found.join()} instead of ${wanted.join()}`).toBeLessThanOrEqual(8)
}

beforeAll(async () => {
  ;({ library, folder, studentId, lessonId } = await openWithLesson())
  halves(inFolder('grip.jpg'))
  withExif(inFolder('grip.jpg'), 6)
  halves(inFolder('stance.png'), 300, 201)
  runFfmpegNow(
    ...['-f', 'lavfi', '-i', 'color=c=red@0.0:size=64x64,format=rgba', '-frames:v', '1'],
    inFolder('see-through.png'),
  )
  halves(inFolder('shoe.webp'))
  fs.writeFileSync(inFolder('hands.heic'), Buffer.from('0000001866747970686569630000000068656963', 'hex'))
  makeClip(inFolder('swing.mp4'), { seconds: 0.5, sound: false })
  fs.writeFileSync(
    inFolder('shots.csv'),
    'Club,Club Speed (mph),Ball Speed (mph)\nDriver,100,148\nDriver,101,149\n',
  )
})
afterAll(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('a still picture', () => {
  it('comes in upright and in its colours, on white where it is see-through; HEIC is refused in clear words', async () => {
    const files = ['grip.jpg', 'stance.png', 'see-through.png', 'shoe.webp', 'hands.heic'].map(inFolder)
    const jobs = await takeIn(library, lessonId, files)
    expect(jobs.map((j) => j.state)).toEqual(['done', 'done', 'done', 'done', 'failed'])
    expect(jobs[4]!.problem).toMatchObject({
      where: 'hands.heic',
      toDo: 'Save it as JPEG, and add that',
    })
    const lesson = await open()
    // Exif 6: the stored left side is the top (CIPA DC-008, orientation).
    const grip = named(lesson, 'grip.jpg')
    expect([grip.width, grip.height]).toEqual([200, 320])
    expectColour(await colourAt(grip, 0.5, 0.25), red)
    expectColour(await colourAt(grip, 0.5, 0.75), blue)
    const stance = named(lesson, 'stance.png')
    expectColour(await colourAt(stance, 0.25, 0.5), red)
    expectColour(await colourAt(stance, 0.75, 0.5), blue)
    expectColour(await colourAt(named(lesson, 'shoe.webp'), 0.25, 0.5), red)
    expectColour(await colourAt(named(lesson, 'see-through.png'), 0.5, 0.5), [255, 255, 255])
    expect(lesson.clips.map((c) => [c.fileName, c.stillKind])).toEqual([
      ['grip.jpg', 'grip'],
      ['see-through.png', 'setup'],
      ['shoe.webp', 'ground'],
      ['stance.png', 'setup'],
    ])
    // The photo itself is kept as it came.
    const original = library.context.paths.original(grip.hash, '.jpg')
    expect(fs.readFileSync(original).equals(fs.readFileSync(inFolder('grip.jpg')))).toBe(true)
  })

  it('of another colour space is converted; where its profile can’t be read, that is said', async () => {
    const { id } = await library.ask('lesson.create', { studentId, date: '2026-04-01' })
    // The red of sRGB as a phone that takes photos in Display P3 writes it.
    withProfile(inFolder('phone.jpg'), '0xEA3323', iccProfile(profiles.displayP3))
    withProfile(inFolder('plain.jpg'), '0xEA3323', iccProfile(profiles.srgb))
    withProfile(inFolder('unknown.jpg'), '0xEA3323', iccProfile(profiles.displayP3, 'Lab '))
    const jobs = await takeIn(library, id, ['phone.jpg', 'plain.jpg', 'unknown.jpg'].map(inFolder))
    expect(jobs.map((j) => j.problem)).toEqual([null, null, null])
    expect(jobs.map((j) => j.result)).toEqual([
      'added',
      'added',
      'added; its colours may be a little off (its colour profile can’t be read)',
    ])
    const { clips } = await library.ask('lesson.open', { lessonId: id })
    const colourOf = (name: string) =>
      colourAt(
        clips.find((c) => c.fileName === name)!,
        0.5,
        0.5,
      )
    expectColour(await colourOf('phone.jpg'), [255, 0, 0])
    expectColour(await colourOf('plain.jpg'), [0xea, 0x33, 0x23])
    expectColour(await colourOf('unknown.jpg'), [0xea, 0x33, 0x23])
  })

  it('stands alone: nothing is paired with it, no block holds it, no number counts it', async () => {
    await takeIn(library, lessonId, [inFolder('swing.mp4')])
    await library.ask('shots.add', { lessonId, file: inFolder('shots.csv') })
    const lesson = await open()
    const stills = lesson.swings.filter((s) => standsAlone(lesson, s))
    expect(stills).toHaveLength(4)
    expect(stills.every((s) => s.shotId === null)).toBe(true)
    const others = lesson.swings.filter((s) => !standsAlone(lesson, s))
    expect(others.map((s) => s.order)).toEqual([1, 2])
    expect(new Set(others.map((s) => s.shotId))).toEqual(new Set(lesson.shots.map((s) => s.id)))
    // A block may go; its pictures do not go with it.
    await library.ask('swing.remove', { ids: others.map((s) => s.id) })
    expect((await open()).swings.filter((s) => standsAlone(lesson, s))).toHaveLength(4)
    await library.ask('edits.undo', { lessonId })
    expect((await open()).swings).toHaveLength(6)
  })

  it('becomes one more view of a swing, and stands alone again by undo', async () => {
    const lesson = await open()
    const stance = swingWith(lesson, named(lesson, 'stance.png'))
    const film = swingWith(lesson, named(lesson, 'swing.mp4'))
    await library.ask('swing.join', { swingId: film.id, fromSwingId: stance.id })
    await library.ask('pair.run', { lessonId })
    const joined = swingWith(await open(), named(lesson, 'stance.png'))
    expect([joined.id, joined.views.length]).toEqual([film.id, 2])
    // The film stays what is looked at first.
    expect(joined.views[0]!.clipId).toBe(named(lesson, 'swing.mp4').id)
    expect(joined.shotId).not.toBeNull()
    await library.ask('edits.undo', { lessonId })
    await library.ask('edits.undo', { lessonId })
    expect(standsAlone(await open(), swingWith(await open(), named(lesson, 'stance.png')))).toBe(true)
  })

  it('is renamed with its moment, and back by undo', async () => {
    const grip = named(await open(), 'grip.jpg')
    const momentOf = (lesson: OpenLesson) => swingWith(lesson, grip).views[0]!.moments.map((m) => m.name)
    expect(momentOf(await open())).toEqual(['grip'])
    await library.ask('clip.update', { id: grip.id, patch: { stillKind: 'glove' } })
    expect(momentOf(await open())).toEqual(['glove'])
    await library.ask('edits.undo', { lessonId })
    expect(momentOf(await open())).toEqual(['grip'])
    expect(named(await open(), 'grip.jpg').stillKind).toBe('grip')
  })

  it('can be a frame of a film, with the pixels of that frame', async () => {
    const film = named(await open(), 'swing.mp4')
    const view = swingWith(await open(), film).views[0]!
    const { jobId } = await library.ask('clip.keepFrame', { viewId: view.id, frame: 7 })
    expect(await library.context.jobs.ended(jobId)).toMatchObject({ state: 'done', problem: null })
    const kept = named(await open(), 'swing.mp4, frame 7')
    expect([kept.stillKind, kept.width, kept.height]).toEqual(['setup', film.width, film.height])
    const programs = await findMediaPrograms(null)
    const { paths } = library.context
    const facts = await probeClip(paths.original(film.hash, '.mp4'), { programs, clipName: 'film' })
    const options = { programs, clipName: 'film' }
    const pixels = async (file: string, frame: number, of: typeof facts) =>
      (await framePicture(file, frame, of, options)).rgba
    const wanted = await pixels(paths.original(film.hash, '.mp4'), 7, facts)
    const one = { ...facts, atSeconds: new Float64Array(1) }
    const found = await pixels(paths.proxy(kept.hash), 0, one)
    const apart = found.reduce((sum, v, i) => sum + Math.abs(v - wanted[i]!), 0) / found.length
    // Another frame of this film is 3 apart and more.
    expect(apart).toBeLessThan(2)
  })

  it('goes into the hand-over with what is drawn on it and without what the phone wrote into it; two lessons’ stand side by side and over each other', async () => {
    const lesson = await open()
    const grip = named(lesson, 'grip.jpg')
    const swing = swingWith(lesson, grip)
    const { id: later } = await library.ask('lesson.create', { studentId, date: '2026-06-01' })
    fs.copyFileSync(inFolder('stance.png'), inFolder('grip-2.png'))
    await takeIn(library, later, [inFolder('grip-2.png')])
    const second = await library.ask('lesson.open', { lessonId: later })
    const draft = await library.ask('handOver.draft', { lessonId })
    await library.ask('swing.update', { ids: [swing.id], patch: { isStarred: true } })
    const comparisonIds: string[] = []
    for (const arrangement of ['beside', 'over'] as const) {
      const { id } = await library.ask('comparison.save', {
        ...{ id: null, lessonId, name: 'Grips', lockedOn: 'grip', arrangement, opacity: 0.5 },
        ...{ isStretched: false, mirrorSecond: false },
        firstViewId: swing.views[0]!.id,
        secondViewId: second.swings[0]!.views[0]!.id,
      })
      comparisonIds.push(id)
    }
    await library.ask('handOver.saveDraft', {
      ...draft,
      swings: [
        {
          viewId: swing.views[0]!.id,
          caption: '',
          momentIds: swing.views[0]!.moments.map((m) => m.id),
          withClip: false,
        },
      ],
      comparisonIds,
    })
    const out = inFolder('out')
    const { jobId } = await library.ask('handOver.write', { lessonId, folder: out, consentSaidBy: 'Robin' })
    expect(await library.context.jobs.ended(jobId)).toMatchObject({ state: 'done', problem: null })
    const written = filesBelow(out).filter((name) => fs.statSync(path.join(out, name)).isFile())
    const page = written.find((name) => name.endsWith('index.html'))!
    const html = fs.readFileSync(path.join(out, page), 'utf8')
    expect(html).toContain('Grip · Friday 1 May 2026')
    expect(html).toContain('still pictures')
    expect(html).toMatch(/Grip · Monday 1 June 2026 laid over Grip · Friday 1 May 2026/)
    const bytes = written.map((name) => fs.readFileSync(path.join(out, name)))
    expect(bytes.some((file) => file.includes('SECRET-X'))).toBe(false)
    const jpegs = [...html.matchAll(/data:image\/jpeg;base64,([A-Za-z0-9+/=]+)/g)].map(([, text]) =>
      Buffer.from(text!, 'base64'),
    )
    expect(jpegs.length).toBeGreaterThan(0)
    expect(jpegs.some((jpeg) => jpeg.includes('Exif') || jpeg.includes('SECRET-X'))).toBe(false)
  })

  it('stands in the season by its day', async () => {
    const stills = await library.ask('season.stills', { studentId })
    expect(stills.filter((s) => s.kind === 'grip').map((s) => s.date)).toEqual(['2026-05-01', '2026-06-01'])
  })

  it('goes along to a colleague, and stands alone there with its kind and its drawing', async () => {
    const lesson = await open()
    const grip = named(lesson, 'grip.jpg')
    const [view] = swingWith(lesson, grip).views
    await library.ask('drawing.add', {
      ...{ viewId: view!.id, momentId: view!.moments[0]!.id, fromFrame: 0, toFrame: 0 },
      shape: shapes.line.create(
        [
          { x: 10, y: 10 },
          { x: 90, y: 60 },
        ],
        { tone: 'chalk', widthPx: 3, isDashed: false },
      ),
    })
    await library.ask('facePhoto.save', {
      ...{ id: null, lessonId, club: 'driver', clipId: grip.id, pictureId: null },
      ...{ width: grip.width, height: grip.height, lengthMm: 100 },
      ...{ toeX: 10, toeY: 20, heelX: 150, heelY: 22 },
    })
    await library.ask('student.update', { id: studentId, patch: { isMinor: false } })
    await library.ask('student.consent', {
      id: studentId,
      consent: {
        ...agreed('Robin Testing'),
        ...{ recordedAt: '2026-04-01', coversFace: false },
      },
    })
    const { jobId } = await library.ask('lessonFile.give', {
      studentId,
      lessonIds: [lessonId],
      folder: inFolder('given'),
    })
    const { result: file, problem } = await library.context.jobs.ended(jobId)
    expect(problem).toBeNull()
    const theirs = new Library({ folder: inFolder('theirs') })
    const taken = await theirs.ask('lessonFile.take', { file: file!, studentId: null })
    expect(await theirs.context.jobs.ended(taken.jobId)).toMatchObject({ problem: null })
    const there = (await theirs.ask('roster.list', {}))[0]!.lessons[0]!.id
    const second = await theirs.ask('lesson.open', { lessonId: there })
    const kinds = (l: OpenLesson) => l.clips.map((c) => [c.fileName, c.stillKind, c.width, c.height])
    expect(kinds(second)).toEqual(kinds(await open()))
    const gripThere = named(second, 'grip.jpg')
    expect(standsAlone(second, swingWith(second, gripThere))).toBe(true)
    expect(swingWith(second, gripThere).views[0]!.drawings).toHaveLength(1)
    expect(second.facePhotos.map((p) => [p.clipId, p.toeX])).toEqual([[gripThere.id, 10]])
    const { file: shown } = await theirs.ask('media.resolve', {
      of: 'clip',
      clipId: gripThere.id,
      kind: 'play',
    })
    expect(fs.existsSync(shown)).toBe(true)
    await theirs.close()
  })

  it('is checked and made again like a clip', async () => {
    const { hash } = named(await open(), 'grip.jpg')
    const { paths } = library.context
    fs.rmSync(paths.proxy(hash))
    const { jobId } = await library.ask('library.repair', {})
    expect(await library.context.jobs.ended(jobId)).toMatchObject({ state: 'done', problem: null })
    expectColour(await colourAt(named(await open(), 'grip.jpg'), 0.5, 0.25), red)
  })
})
