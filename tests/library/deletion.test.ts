import { fork } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest'
import { setAside } from '../../electron/library/custody/set-aside.ts'
import { copiesIn } from '../../electron/library/deletion/copies.ts'
import * as t from '../../electron/library/database/schema.ts'
import { Library } from '../../electron/library/library.ts'
import { tally } from '../../scripts/tally.mjs'
import { bundled } from './support/bundled.ts'
import { makeClip } from './support/make-clip.ts'
import { writePackage } from './support/lesson-with-drawing.ts'
import { filesBelow, takeIn, temporaryFolder } from './support/temporary-library.ts'

/** Words that occur nowhere but in this student's records. */
const secrets = {
  name: 'Zebedine Quillfeather',
  limit: 'old collarbone fracture Xq17',
  title: 'Tuesday with the crooked wedge',
  clip: 'zq-holiday-swing.mp4',
  undone: 'zq-second-thoughts.mp4',
  loose: 'zq-half-a-film.mov',
  note: 'keeps her heel down since Whitsun',
}

let folder: string
let template: string
let recording: string
let studentId: string
let hashes: { own: string[]; shared: string }
let lessonIds: string[]

const libraryAt = (at: string) => new Library({ folder: path.join(at, 'library'), printPdf: null })

/** A library with a student to go, who shares one clip with a student to stay. */
beforeAll(async () => {
  folder = temporaryFolder()
  template = path.join(folder, 'template')
  const files = ['shared.mp4', secrets.clip, secrets.undone].map((name) => path.join(folder, name))
  files.forEach((file, i) => makeClip(file, { rate: 60, extra: ['-vf', `hue=h=${i * 40}`] }))
  const library = libraryAt(template)
  const { id: keptId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  const { id: keptLesson } = await library.ask('lesson.create', { studentId: keptId, date: '2026-05-01' })
  await takeIn(library, keptLesson, [files[0]!])
  studentId = (await library.ask('student.create', { name: secrets.name, side: 'left' })).id
  await library.ask('student.update', { id: studentId, patch: { limits: secrets.limit } })
  const { id: lessonId } = await library.ask('lesson.create', {
    studentId,
    date: '2026-05-02',
    title: secrets.title,
  })
  lessonIds = [lessonId]
  await takeIn(library, lessonId, files)
  const { clips, swings } = await library.ask('lesson.open', { lessonId })
  const hashOf = (name: string) => clips.find((c) => c.fileName === name)!.hash
  hashes = { own: [hashOf(secrets.clip), hashOf(secrets.undone)], shared: hashOf('shared.mp4') }
  await library.ask('swing.update', { ids: [swings[0]!.id], patch: { note: secrets.note } })
  const draft = await library.ask('handOver.draft', { lessonId })
  await library.ask('handOver.saveDraft', { ...draft, message: secrets.note })
  // What only an undo would bring back.
  await library.ask('clip.remove', { id: clips.find((c) => c.fileName === secrets.undone)!.id })
  // A copy as before an update, and a clip that was set aside.
  library.context.sqlite
    .prepare('VACUUM INTO ?')
    .run(path.join(library.context.folder, 'library.before-99.sqlite'))
  const aside = path.join(library.context.folder, 'set-aside')
  fs.mkdirSync(aside, { recursive: true })
  fs.copyFileSync(files[1]!, path.join(aside, `${hashes.own[0]!}.mp4`))
  // And one that only its entry ties to the student.
  const loose = path.join(library.context.folder, secrets.loose)
  fs.writeFileSync(loose, 'half of a film')
  setAside(
    library.context.folder,
    [{ file: loose, kind: 'clip', why: 'nothing speaks of it', studentIds: [studentId] }],
    new Date('2026-05-02T10:00:00Z'),
  )
  // A talk-through, as its job leaves it, and one whose recording still waits.
  const { db, paths } = library.context
  const talk = { id: 'talk-of-zebedine', fileName: 'talk-of-zebedine.mp4' }
  fs.copyFileSync(files[1]!, path.join(paths.talks, talk.fileName))
  fs.writeFileSync(path.join(paths.talks, `${talk.id}.jpg`), 'poster')
  db.insert(t.talkThrough)
    .values({ ...talk, lessonId, name: secrets.note, durationSeconds: 1, recordedAt: '2026-05-02T10:00:00Z' })
    .run()
  recording = path.join(os.tmpdir(), 'leadside-recordings', `deletion-${process.pid}.webm`)
  fs.mkdirSync(path.dirname(recording), { recursive: true })
  db.insert(t.job)
    .values({
      id: 'job-of-zebedine',
      kind: 'talk-through',
      lessonId,
      label: secrets.note,
      task: { lessonId, name: secrets.note, soundFile: recording },
      state: 'failed',
      createdAt: '2026-05-02T10:00:00Z',
    })
    .run()
  await library.close()
}, 120_000)
afterAll(() => {
  fs.rmSync(folder, { recursive: true, force: true })
  fs.rmSync(recording, { force: true })
})

let worlds = 0
/** A copy of the library, with a package beside it: written now, or a stand-in of the same form. */
const world = async ({ isWritten = false } = {}) => {
  worlds += 1
  const at = path.join(folder, `world-${worlds}`)
  fs.cpSync(template, at, { recursive: true })
  fs.writeFileSync(recording, 'a voice')
  const library = libraryAt(at)
  const out = path.join(at, 'out')
  if (!isWritten) {
    const written = path.join(out, '2026-05-02-Zebedine-Quillfeather')
    const zip = `${written}.zip`
    fs.mkdirSync(path.join(written, 'clips'), { recursive: true })
    fs.copyFileSync(path.join(folder, secrets.clip), path.join(written, 'clips', 'swing-1.mp4'))
    fs.writeFileSync(path.join(written, 'index.html'), secrets.name)
    fs.writeFileSync(
      path.join(written, 'lesson.json'),
      JSON.stringify({ format: 'leadside-lesson', version: 1 }),
    )
    fs.copyFileSync(path.join(folder, secrets.clip), zip)
    const draft = await library.ask('handOver.draft', { lessonId: lessonIds[0]! })
    const { size: byteLength } = fs.statSync(zip)
    library.context.db
      .insert(t.handOver)
      .values({
        id: 'p',
        lessonId: lessonIds[0]!,
        writtenAt: '2026-05-02',
        folder: written,
        zip,
        byteLength,
        draft,
      })
      .run()
    return { at, library, package: written }
  }
  const job = await writePackage({ library, lessonId: lessonIds[0]! }, out, 'Robin Testing')
  expect(job).toMatchObject({ state: 'done' })
  return { at, library, package: job.result! }
}

let bytesSearched = 0
/** Where any of these words, in UTF-8 or UTF-16, still stands below a folder: in names and in every byte. */
const traces = (at: string, words: readonly string[]): string[] => {
  const found: string[] = []
  const files = filesBelow(at).filter((name) => fs.statSync(path.join(at, name)).isFile())
  for (const name of files) {
    const bytes = fs.readFileSync(path.join(at, name))
    // The room that is kept for deletions holds nothing, and is not counted.
    if (path.basename(name) !== 'reserve') bytesSearched += bytes.length
    for (const word of words) {
      const forms = [Buffer.from(word, 'utf8'), Buffer.from(word, 'utf16le')]
      if (name.includes(word) || forms.some((form) => bytes.includes(form))) found.push(`${word} in ${name}`)
    }
  }
  return found
}
const everything = () => [...Object.values(secrets), ...hashes.own, studentId, ...lessonIds, 'Zebedine']
/** A stretch from the middle of a clip: its pictures, wherever they were copied to. */
const picturesOf = (file: string) => fs.readFileSync(file).subarray(3000, 3064).toString('latin1')
const holdsPictures = (at: string): string[] => {
  const stretch = Buffer.from(picturesOf(path.join(folder, secrets.clip)), 'latin1')
  return filesBelow(at).filter(
    (name) =>
      fs.statSync(path.join(at, name)).isFile() && fs.readFileSync(path.join(at, name)).includes(stretch),
  )
}

const keptIsWhole = async (library: Library) => {
  const [kept, ...others] = await library.ask('roster.list', {})
  expect(others).toEqual([])
  expect(kept).toMatchObject({ name: 'Robin Testing', lessons: [{ clipCount: 1 }] })
  const { context } = library
  expect(fs.existsSync(context.paths.original(hashes.shared, '.mp4'))).toBe(true)
  const checked = await library.ask('library.check', {})
  expect(checked.lines.filter((line) => !line.ok)).toEqual([])
}

describe('a student who was deleted', () => {
  it('is found nowhere in the library’s folder, in no copy of it, and in no written package', async () => {
    const { at, library, package: written } = await world({ isWritten: true })
    const inside = path.join(at, 'library')
    const before = traces(inside, everything())
    for (const word of [...Object.values(secrets), ...hashes.own]) {
      expect(
        before.some((trace) => trace.startsWith(word)),
        word,
      ).toBe(true)
    }
    expect(before.some((trace) => trace.includes('library.before-99.sqlite'))).toBe(true)
    expect(holdsPictures(inside).length).toBeGreaterThan(1)
    expect(copiesIn(inside)).toHaveLength(1)
    const look = await library.ask('deletion.look', { studentId })
    expect(look).toMatchObject({
      lessons: 1,
      clips: 2,
      packages: [{ folder: written, isThere: true }],
      copies: ['library.before-99.sqlite'],
    })
    // One import is under way.
    const more = path.join(folder, 'zq-late.mp4')
    if (!fs.existsSync(more)) makeClip(more, { seconds: 2, rate: 60, extra: ['-vf', 'negate'] })
    await library.ask('clips.add', { lessonId: lessonIds[0]!, files: [more] })
    const receipt = await library.ask('student.deleteForGood', {
      id: studentId,
      typedName: secrets.name,
      withPackages: true,
    })
    expect(receipt).toMatchObject({ lessons: 1, clips: 2, packagesDeleted: 1, stays: [] })
    // While the library is open, its log included.
    expect(traces(inside, [...everything(), 'zq-late'])).toEqual([])
    expect(holdsPictures(at)).toEqual([])
    expect(fs.existsSync(written) || fs.existsSync(`${written}.zip`)).toBe(false)
    expect(fs.existsSync(recording)).toBe(false)
    await keptIsWhole(library)
    await library.close()
    expect(traces(inside, everything())).toEqual([])
    // The copy is still a copy of the rest.
    const [copy] = copiesIn(inside)
    const Database = (await import('better-sqlite3')).default
    const rest = new Database(copy!, { readonly: true })
    expect(rest.prepare('SELECT name FROM student').all()).toEqual([{ name: 'Robin Testing' }])
    expect(rest.pragma('integrity_check', { simple: true })).toBe('ok')
    rest.close()
  })

  it('leaves written packages where they are unless they are to go, and says where they stay', async () => {
    const { library, package: written } = await world()
    const receipt = await library.ask('student.deleteForGood', { id: studentId, typedName: secrets.name })
    expect(receipt.packagesDeleted).toBe(0)
    expect(receipt.stays).toMatchObject([{ where: written }])
    expect(fs.existsSync(path.join(written, 'index.html'))).toBe(true)
    await library.close()
  })

  it('does not take along what stands in a package’s place by now', async () => {
    const { library, package: written } = await world()
    fs.rmSync(written, { recursive: true })
    fs.mkdirSync(written)
    fs.writeFileSync(path.join(written, 'my tax papers.txt'), 'mine')
    const receipt = await library.ask('student.deleteForGood', {
      id: studentId,
      typedName: secrets.name,
      withPackages: true,
    })
    expect(receipt.stays).toMatchObject([{ where: written }])
    expect(fs.readFileSync(path.join(written, 'my tax papers.txt'), 'utf8')).toBe('mine')
    await library.close()
  })

  it('is gone after the next start, wherever the deletion was cut off', { timeout: 300_000 }, async () => {
    const program = await bundled({ 'delete-and-die': 'tests/library/support/delete-and-die.ts' })
    onTestFinished(program.remove)
    const dieAt = async (step: number) => {
      const { at, library } = await world()
      await library.close()
      const child = fork(
        path.join(program.folder, 'delete-and-die.js'),
        [path.join(at, 'library'), studentId, secrets.name, String(step)],
        { stdio: ['ignore', 'ignore', 'inherit', 'ipc'], execArgv: [] },
      )
      let steps = 0
      child.on('message', (message) => {
        steps = (message as { steps: number }).steps
      })
      const signal = await new Promise<string | null>((resolve) => {
        child.once('exit', (_code, signalName) => resolve(signalName))
      })
      return { at, signal, steps }
    }
    const whole = await dieAt(0)
    expect(whole.signal).toBeNull()
    expect(whole.steps).toBeGreaterThan(10)
    let kills = 0
    let halfway = 0
    for (let step = 1; step <= whole.steps; step += Math.ceil(whole.steps / 7)) {
      const { at, signal } = await dieAt(step)
      expect(signal, `step ${step}`).toBe('SIGKILL')
      kills += 1
      const inside = path.join(at, 'library')
      if (traces(inside, hashes.own).length > 0) halfway += 1
      const reopened = libraryAt(at)
      expect(traces(inside, everything()), `killed at step ${step}`).toEqual([])
      expect(holdsPictures(at), `killed at step ${step}`).toEqual([])
      await keptIsWhole(reopened)
      await reopened.close()
      fs.rmSync(at, { recursive: true, force: true })
    }
    // Killed while there was something left to do, or this would prove nothing.
    expect(halfway).toBeGreaterThan(3)
    tally('kills survived', kills)
    tally('bytes searched after deletion', bytesSearched)
    console.log(
      `deletion: ${kills} kills in the middle of it survived (${halfway} with something left to do), ` +
        `${bytesSearched.toLocaleString('en')} bytes searched after deletion, nothing found`,
    )
  })
})
