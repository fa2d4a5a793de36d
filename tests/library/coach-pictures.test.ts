import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { Problem } from '../../shared-core/problem.ts'
import { lessonWithDrawing, writePackage, type LessonWithDrawing } from './support/lesson-with-drawing.ts'
import { makeClip, probed, runFfmpegNow } from './support/make-clip.ts'
import { filesBelow } from './support/temporary-library.ts'

let opened: LessonWithDrawing
let library: Library
let folder: string
beforeAll(async () => {
  opened = await lessonWithDrawing()
  ;({ library, folder } = opened)
}, 120_000)
afterAll(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const inFolder = (name: string) => path.join(folder, name)
const bytesBelow = (top: string) =>
  filesBelow(top)
    .map((name) => path.join(top, name))
    .filter((file) => fs.statSync(file).isFile())
    .map((file) => fs.readFileSync(file))

/** A JPEG as a phone writes it: turned on its side, and saying with which device (Exif 2.32; TIFF 6.0). */
const phonePicture = (file: string) => {
  runFfmpegNow('-f', 'lavfi', '-i', 'testsrc2=size=1600x900', '-frames:v', '1', file)
  const jpeg = fs.readFileSync(file)
  const maker = Buffer.from('Brackenfone 7\0\0\0')
  const tiff = Buffer.alloc(10 + 2 * 12 + 4)
  tiff.write('MM')
  tiff.writeUInt16BE(42, 2)
  tiff.writeUInt32BE(8, 4)
  tiff.writeUInt16BE(2, 8)
  // Make (0x010f), ASCII; orientation (0x0112), 6: turned a quarter.
  tiff.set([0x01, 0x0f, 0, 2, 0, 0, 0, maker.length, 0, 0, 0, tiff.length], 10)
  tiff.set([0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0], 22)
  const body = Buffer.concat([Buffer.from('Exif\0\0'), tiff, maker])
  const head = Buffer.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255])
  fs.writeFileSync(file, Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)]))
}

const problemOf = async (work: Promise<unknown>): Promise<Problem> => {
  const error = await work.then(
    () => null,
    (e: unknown) => e,
  )
  if (error instanceof Problem) return error
  throw new Error(`no problem was reported, but ${String(error)}`)
}

describe('the coach’s own pictures', () => {
  it('are kept upright, small, and without what the phone wrote into them', async () => {
    const file = inFolder('phone.jpg')
    phonePicture(file)
    expect(fs.readFileSync(file).includes('Brackenfone')).toBe(true)
    const picture = await library.ask('coachPicture.add', { file, use: 'drill' })
    expect(picture).toMatchObject({ kind: 'picture', width: 720, height: 1280 })
    const kept = await library.ask('media.resolve', { of: 'coach', clipId: picture.id, kind: 'poster' })
    const bytes = fs.readFileSync(kept.file)
    expect(bytes.length).toBe(picture.byteLength)
    expect(bytes.includes('Brackenfone')).toBe(false)
    expect(bytes.includes('Exif')).toBe(false)
    expect(kept.type).toBe('image/jpeg')
  })

  it('of the wrong kind or length are refused with what to do, and leave nothing behind', async () => {
    const before = filesBelow(path.join(folder, 'library'))
    const words = inFolder('words.png')
    fs.writeFileSync(words, 'this is a letter')
    const letter = await problemOf(library.ask('coachPicture.add', { file: words, use: 'logo' }))
    expect(letter.what).toMatch(/PNG/)
    expect(letter.toDo).toMatch(/choose it again/)
    const broken = inFolder('broken.png')
    fs.writeFileSync(broken, Buffer.from('89504e470d0a1a0a00112233', 'hex'))
    await problemOf(library.ask('coachPicture.add', { file: broken, use: 'logo' }))
    const long = inFolder('long.mp4')
    makeClip(long, { seconds: 61, rate: 5 })
    const tooLong = await problemOf(library.ask('coachPicture.add', { file: long, use: 'drill' }))
    expect(tooLong).toMatchObject({ what: 'this clip is longer than a minute', where: 'long.mp4' })
    await problemOf(library.ask('coachPicture.add', { file: inFolder('gone.jpg'), use: 'drill' }))
    expect(filesBelow(path.join(folder, 'library')).filter((name) => !/sqlite/.test(name))).toEqual(
      before.filter((name) => !/sqlite/.test(name)),
    )
  }, 60_000)

  it('stand in the package: the logo at its head, a drill’s picture and its clip without sound', async () => {
    const { lessonId } = opened
    const logoFile = inFolder('logo.png')
    runFfmpegNow(
      ...['-f', 'lavfi', '-i', 'color=c=0x884422@0.5:size=900x300,format=rgba', '-frames:v', '1', logoFile],
    )
    const logo = await library.ask('coachPicture.add', { file: logoFile, use: 'logo' })
    expect(logo).toMatchObject({ kind: 'picture', width: 480, height: 160 })
    const clipFile = inFolder('drill.mov')
    makeClip(clipFile, { seconds: 2, extra: ['-metadata', 'com.apple.quicktime.make=Brackenfone'] })
    const clip = await library.ask('coachPicture.add', { file: clipFile, use: 'drill' })
    phonePicture(inFolder('still.jpg'))
    const still = await library.ask('coachPicture.add', { file: inFolder('still.jpg'), use: 'drill' })
    const item = { drillId: null, how: '', dose: '', watchFor: '', caution: '', isLoading: false }
    await library.ask('plan.save', {
      lessonId,
      items: [
        { ...item, name: 'Swish', pictureId: clip.id },
        { ...item, name: 'Ladder', pictureId: still.id },
        { ...item, name: 'Gone', pictureId: 'no-such-picture' },
      ],
      note: '',
      outcome: '',
    })
    const draft = await library.ask('handOver.draft', { lessonId })
    await library.ask('handOver.saveDraft', { ...draft, logoId: logo.id, accent: '#ffff00' })
    const preview = await library.ask('handOver.preview', { lessonId })
    expect(preview.html).not.toContain('<video')
    expect(preview.html.match(/alt="What “(Swish|Ladder)” looks like"/g)).toHaveLength(2)

    const job = await writePackage(opened, inFolder('out'))
    expect(job).toMatchObject({ state: 'done', problem: null })
    const page = fs.readFileSync(path.join(job.result!, 'index.html'), 'utf8')
    expect(page).toMatch(/<img class="logo" src="data:image\/png;base64,[^"]+" width="480" height="160"/)
    expect(page).toContain('src="clips/drill-1-swish.mp4"')
    expect(page.match(/alt="What “Ladder” looks like"/g)).toHaveLength(1)
    // Yellow lines can't be seen on light paper.
    expect(page.match(/--accent:(#[0-9a-f]{6})/g)).toEqual([
      expect.not.stringContaining('#ffff00'),
      '--accent:#ffff00',
    ])
    const { streams } = probed<{ streams: { codec_name: string; duration: string }[] }>(
      path.join(job.result!, 'clips/drill-1-swish.mp4'),
    )
    expect(streams.map((s) => s.codec_name)).toEqual(['h264'])
    expect(Number(streams[0]!.duration)).toBeCloseTo(2, 1)
    expect(bytesBelow(job.result!).some((bytes) => bytes.includes('Brackenfone'))).toBe(false)
  }, 120_000)

  it('go a day later, once nothing speaks of them any more', async () => {
    const { lessonId } = opened
    const plan = (await library.ask('plan.get', { lessonId })).plan
    const { logoId } = await library.ask('handOver.draft', { lessonId })
    const [kept, dropped] = plan.items.map((i) => i.pictureId!)
    await library.ask('plan.save', { ...plan, items: plan.items.filter((i) => i.pictureId === kept) })
    const isThere = async (id: string) => (await library.ask('coachPicture.get', { id })).picture !== null
    const openAgain = async (daysLater: number) => {
      await library.close()
      const now = () => new Date(Date.now() + daysLater * 24 * 3600 * 1000)
      library = new Library({ folder: path.join(folder, 'library'), printPdf: null, now })
      opened = { ...opened, library }
    }
    await openAgain(0)
    expect(await isThere(dropped!), 'what was chosen just now').toBe(true)
    await openAgain(2)
    expect(await isThere(kept!)).toBe(true)
    expect(await isThere(logoId!)).toBe(true)
    expect(await isThere(dropped!)).toBe(false)
    const files = fs.readdirSync(path.join(folder, 'library/coach-pictures'))
    expect(files.filter((name) => name.startsWith(dropped!))).toEqual([])
    expect(files).toHaveLength(3)
  })

  it('a template is renamed, and removed', async () => {
    const { id } = await library.ask('handOver.saveTemplate', {
      id: null,
      name: 'Usual',
      message: 'Thank you',
      slowBy: 8,
      maxHeight: 1080,
      withPlan: true,
    })
    const [template] = await library.ask('handOver.templates', {})
    await library.ask('handOver.saveTemplate', { ...template!, name: 'Short game' })
    expect(await library.ask('handOver.templates', {})).toMatchObject([
      { id, name: 'Short game', message: 'Thank you' },
    ])
    await library.ask('handOver.removeTemplate', { id })
    expect(await library.ask('handOver.templates', {})).toEqual([])
  })
})
