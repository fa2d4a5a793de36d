import fs from 'node:fs'
import path from 'node:path'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { LessonFile } from '../../electron/library/exchange/lesson-file.ts'
import type { Library } from '../../electron/library/library.ts'
import * as t from '../../electron/library/database/schema.ts'
import { Library as OpenLibrary } from '../../electron/library/library.ts'
import { contract } from '../../shared-core/contract/index.ts'
import { lessonFileVersion } from '../../shared-core/exchange/lesson-file.ts'
import { Problem } from '../../shared-core/problem.ts'
import { lessonsToGive } from './support/lesson-to-give.ts'
import { pack, sha256, unpack } from './support/pack-lesson-file.ts'
import { filesBelow } from './support/temporary-library.ts'

type Json = Record<string, unknown>
// eslint-disable-next-line @typescript-eslint/no-explicit-any -- records that are made wrong on purpose have no type
type Hostile = any
let root: string
let whole: { about: Json; records: Json; files: Map<string, Buffer>; bytes: Buffer }
/** Has the films of the file already, so that what is accepted costs little. */
let theirs: Library

beforeAll(async () => {
  const { library, folder, studentId } = await lessonsToGive()
  root = folder
  const { jobId } = await library.ask('lessonFile.give', {
    studentId,
    lessonIds: null,
    folder,
    withNotes: true,
    withLimits: true,
  })
  const { result } = await library.context.jobs.ended(jobId)
  await library.close()
  whole = { ...(await unpack(result!)), bytes: fs.readFileSync(result!) }
  theirs = new OpenLibrary({ folder: path.join(root, 'theirs'), printPdf: null })
  await take(result!)
})
afterAll(async () => {
  await theirs.close()
  fs.rmSync(root, { recursive: true, force: true })
})

const take = async (file: string) => {
  const { jobId } = await theirs.ask('lessonFile.take', { file, studentId: null, otherCopies: 'beside' })
  return theirs.context.jobs.ended(jobId)
}
/** Records and files of the library, without the list of jobs. */
const state = async () => {
  const roster = await theirs.ask('roster.list', {})
  const { sqlite, folder } = theirs.context
  const counts = [t.media, t.coachPicture, t.cueKind, t.takenLesson, t.takenStudent, t.mediaClaim].map(
    (table) => theirs.context.db.select().from(table).all().length,
  )
  sqlite.pragma('wal_checkpoint(PASSIVE)')
  const files = filesBelow(folder).filter((name) => !/^(library\.s|in-use)/.test(name))
  return { roster, counts, files }
}
const copyOf = (): { records: Hostile; files: Map<string, Buffer> } => ({
  records: structuredClone(whole.records),
  files: new Map(whole.files),
})
let made = 0
const file = () => path.join(root, `hostile-${(made += 1)}.leadside-lesson`)

/** It is refused in words for the coach, and nothing is changed. */
const refused = async (at: string): Promise<string> => {
  const before = await state()
  const job = await take(at)
  expect(job.state).toBe('failed')
  const { what, toDo } = job.problem!
  expect(what).not.toMatch(/unexpected|SQLITE|ENOENT|undefined|zod|\bat .*\.ts/)
  expect(toDo).not.toBeNull()
  expect(await state()).toEqual(before)
  if (fs.statSync(at, { throwIfNoEntry: false })?.isFile()) fs.rmSync(at)
  return what
}
const first = (list: Map<string, Buffer>, start: string) =>
  [...list.keys()].find((name) => name.startsWith(start))!

describe('a lesson file from outside is refused, and nothing changed, when it', () => {
  it('was written by a newer Leadside: said in plain words; one of no version is none', async () => {
    const { records, files } = copyOf()
    const newer = { version: lessonFileVersion + 1, somethingNew: true }
    expect(await refused(await pack(file(), { records, files, about: newer }))).toBe(
      `this lesson file was written by a newer Leadside (form ${lessonFileVersion + 1}; this one reads up to ${lessonFileVersion})`,
    )
    for (const version of [0, -1, '1', null, 1.5]) {
      expect(await refused(await pack(file(), { records, files, about: { version } }))).toContain(
        'not a lesson file',
      )
    }
    expect(
      await refused(await pack(file(), { records, files, about: { format: 'leadside-lesson' } })),
    ).toContain('not a lesson file')
    expect(await refused(await pack(file(), { records, files, about: { extra: 1 } }))).toContain(
      'not as it should be',
    )
  })

  it('is no zip, empty, a folder, or not there', async () => {
    for (const bytes of [
      Buffer.alloc(0),
      Buffer.from('dear coach '.repeat(500)),
      whole.bytes.subarray(0, 200),
    ]) {
      const at = file()
      fs.writeFileSync(at, bytes)
      expect(await refused(at)).toContain('not a lesson file')
    }
    expect(await refused(path.join(root, 'nowhere'))).toContain('not there')
    expect(await refused(root + path.sep)).toContain('not there')
  })

  it('names files outside, or files that no record names', async () => {
    const { records, files } = copyOf()
    const name = first(files, 'clips/')
    for (const outside of [
      '../../../../outside.mp4',
      '/tmp/outside.mp4',
      'c:/outside.mp4',
      'clips\\..\\..\\x.mp4',
    ]) {
      // The writer of zips refuses such names; they are written over one of the same length.
      const plain = 'x'.repeat(outside.length)
      const at = await pack(file(), { records, files: new Map([...files, [plain, Buffer.from('out')]]) })
      const bytes = fs.readFileSync(at)
      for (let n = bytes.indexOf(plain); n >= 0; n = bytes.indexOf(plain, n + 1)) {
        bytes.write(outside, n, 'latin1')
      }
      fs.writeFileSync(at, bytes)
      await refused(at)
    }
    expect(fs.existsSync('/tmp/outside.mp4')).toBe(false)
    const more = new Map([...files, ['clips/more.mp4', Buffer.from('more')]])
    expect(await refused(await pack(file(), { records, files: more }))).toContain('no record names')
    const bytes = files.get(name)!
    const swapped = structuredClone(records)
    swapped.clips[0].hash = '../../../x'
    await refused(await pack(file(), { records: swapped, files }))
    const lacking = new Map(files)
    lacking.delete(name)
    expect(await refused(await pack(file(), { records, files: lacking }))).toContain('missing')
    expect(bytes.length).toBeGreaterThan(0)
  })

  it('has films, pictures or points that are not what their hashes say, or of another size', async () => {
    for (const start of ['clips/', 'pictures/', 'body/']) {
      const { records, files } = copyOf()
      const name = first(files, start)
      const bytes = Buffer.from(files.get(name)!)
      bytes[bytes.length >> 1]! ^= 1
      files.set(name, bytes)
      expect(await refused(await pack(file(), { records, files }))).toContain('not what was written')
      files.set(name, bytes.subarray(0, bytes.length - 1))
      expect(await refused(await pack(file(), { records, files }))).toContain('another size')
    }
    const { records, files } = copyOf()
    expect(await refused(await pack(file(), { records, files, compress: true }))).toContain('another size')
  })

  it('says of a film or a picture what it is not', async () => {
    const { records, files } = copyOf()
    const list = Buffer.from('#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\n/etc/passwd\n#EXT-X-ENDLIST\n')
    const script = Buffer.from('#!/bin/sh\necho hostile\n')
    for (const bytes of [list, script]) {
      const changed = structuredClone(records)
      const with_ = new Map(files)
      const name = first(with_, 'clips/')
      const old = changed.clips.find((c: { hash: string; extension: string }) => name.includes(c.hash))
      const hash = sha256(bytes)
      with_.delete(name)
      with_.set(`clips/${hash}${old.extension}`, bytes)
      const text = JSON.stringify(changed).replaceAll(old.hash, hash)
      const renamed = JSON.parse(text)
      const film = renamed.clips.find((c: { hash: string }) => c.hash === hash)
      film.byteLength = bytes.length
      // Another lesson than the one that is here.
      for (const lesson of renamed.lessons) lesson.comparisons = []
      await refused(await pack(file(), { records: renamed, files: with_ }))
      const picture = structuredClone(records)
      const plain = new Map(files)
      const png = first(plain, 'pictures/')
      plain.delete(png)
      const kind = picture.pictures.find((p: { hash: string }) => png.includes(p.hash))
      plain.set(`pictures/${hash}${kind.extension}`, bytes)
      const other = JSON.parse(JSON.stringify(picture).replaceAll(kind.hash, hash))
      other.pictures.find((p: { hash: string }) => p.hash === hash).byteLength = bytes.length
      await refused(await pack(file(), { records: other, files: plain }))
    }
    const wrongFrames = structuredClone(records)
    wrongFrames.clips[0].frameCount += 1
    wrongFrames.lessons[0].title = 'another copy'
    expect(await refused(await pack(file(), { records: wrongFrames, files }))).toContain('frames')
  })

  it('holds too many or too large things, or says so', async () => {
    const { records, files } = copyOf()
    const swing = records.lessons[0].swings[0]
    const many = structuredClone(records)
    many.lessons[0].swings = Array.from({ length: 20_001 }, () => ({ ...swing, views: [] }))
    await refused(await pack(file(), { records: many, files }))
    const long = structuredClone(records)
    long.student.name = 'x'.repeat(1_000_000)
    await refused(await pack(file(), { records: long, files }))
    for (const byteLength of [2 ** 45, 2 ** 60, 0, -1, 1e300]) {
      const huge = structuredClone(records)
      huge.clips[0].byteLength = byteLength
      await refused(await pack(file(), { records: huge, files }))
    }
    const deep = `{"student":${'['.repeat(200_000)}${']'.repeat(200_000)}}`
    await refused(await pack(file(), { records: deep, files }))
    // 200 MB of nothing in some 200 KB.
    const bomb = `{"student":"${' '.repeat(200 * 2 ** 20)}"}`
    expect(await refused(await pack(file(), { records: bomb, files }))).toContain('too large')
  })

  it('has records of wrong types, unknown keys, contradictions, or text that can’t be seen', async () => {
    const changes: [string, (records: Hostile) => void][] = [
      ['unknown key', (r) => (r.student.isAdmin = true)],
      [
        '__proto__',
        (r) => Object.defineProperty(r.student, '__proto__', { value: { x: 1 }, enumerable: true }),
      ],
      ['terminal escape', (r) => (r.student.name = 'Robin\u001b[2J')],
      ['turned writing', (r) => (r.lessons[0].title = 'a\u202eb')],
      ['two lines', (r) => (r.lessons[0].title = 'a\nb')],
      ['path as name', (r) => (r.lessons[0].clips[0].fileName = '../../x.mp4')],
      ['no date', (r) => (r.lessons[0].date = '2026-99-99')],
      ['text for a number', (r) => (r.lessons[0].micDistanceM = '3')],
      ['infinite', (r) => (r.lessons[0].clips[0].captureRate = 1e999)],
      ['negative frame', (r) => (r.lessons[0].swings[0].views[0].fromFrame = -1)],
      ['frame past the end', (r) => (r.lessons[0].swings[0].views[0].toFrame = 99_999)],
      [
        'moment twice',
        (r) => r.lessons[0].swings[0].views[0].moments.push(r.lessons[0].swings[0].views[0].moments[0]),
      ],
      ['no block', (r) => (r.lessons[0].swings[0].block = 7)],
      ['no shot', (r) => (r.lessons[0].swings[0].shot = 99)],
      ['no clip', (r) => (r.lessons[0].swings[0].views[0].clip = 99)],
      ['shot twice', (r) => r.lessons[0].shots.push(r.lessons[0].shots[0])],
      ['clip twice', (r) => r.lessons[0].clips.push(r.lessons[0].clips[0])],
      ['lesson twice', (r) => r.lessons.push(r.lessons[0])],
      ['unknown shape', (r) => (r.lessons[0].swings[0].views[0].drawings[0].shape.kind = 'spiral')],
      ['newer shape', (r) => (r.lessons[0].swings[0].views[0].drawings[0].shape.version = 99)],
      ['shape with more', (r) => (r.lessons[0].swings[0].views[0].drawings[0].shape.onload = 'alert(1)')],
      ['style with more', (r) => (r.lessons[0].swings[0].views[0].drawings[0].shape.style.css = 'x')],
      ['unknown cue', (r) => (r.cueKinds = [])],
      ['no picture', (r) => (r.lessons[0].facePhotos[0].picture = 'a'.repeat(64))],
      ['body of no frames', (r) => (r.clips.find((c: { body: unknown }) => c.body).body.byteLength -= 4)],
      ['extension', (r) => (r.clips[0].extension = '.mp4/../x')],
      ['null', (r) => (r.lessons = null)],
      ['none', (r) => (r.lessons = [])],
    ]
    for (const [name, change] of changes) {
      const { records, files } = copyOf()
      change(records)
      const what = await refused(await pack(file(), { records, files }))
      expect(what, name).toContain('damaged or was made by something else')
    }
  })

  it('was cut short anywhere', async () => {
    for (let share = 0.05; share < 1; share += 0.1) {
      const at = file()
      fs.writeFileSync(at, whole.bytes.subarray(0, Math.floor(share * whole.bytes.length)))
      await refused(at)
    }
  })
})

it('scripts in names and notes are text, here and in the student’s page', async () => {
  const { records, files } = copyOf()
  const script = '<img src=x onerror=alert(1)><script>alert(2)</script>'
  records.student.name = script
  records.student.originId = 'scripted'
  records.lessons[0].originId = 'scripted-lesson'
  records.lessons[0].comparisons = []
  records.lessons = [records.lessons[0]]
  const at = await pack(file(), {
    records: {
      ...records,
      clips: records.clips.filter((c: { hash: string }) =>
        records.lessons[0].clips.some((l: { hash: string }) => l.hash === c.hash),
      ),
    },
    files: new Map([...files]),
  })
  const job = await take(at)
  expect(job.problem).toBeNull()
  const student = (await theirs.ask('roster.list', {})).find((s) => s.name === script)!
  const { html } = await theirs.ask('handOver.preview', { lessonId: student.lessons[0]!.id, isQuick: true })
  expect(html).not.toContain('<img src=x')
  expect(html).not.toContain('<script>alert')
  expect(html).toContain('&lt;script&gt;alert(2)')
})

const runs = Number(process.env.LEADSIDE_MUTATIONS ?? 150)

it(`of ${runs} files with changed bytes none is read as something else`, async () => {
  let read = 0
  await fc.assert(
    fc.asyncProperty(
      fc.array(
        fc.record({
          at: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
          by: fc.integer({ min: 1, max: 255 }),
        }),
        { minLength: 1, maxLength: 4 },
      ),
      fc.boolean(),
      async (flips, isAtEnd) => {
        const bytes = Buffer.from(whole.bytes)
        // Half of them where the zip's own lists are, at the end.
        const start = isAtEnd ? bytes.length - 2500 : 0
        for (const { at, by } of flips) bytes[Math.floor(start + at * (bytes.length - start))]! ^= by
        const at = path.join(root, 'mutated.leadside-lesson')
        fs.writeFileSync(at, bytes)
        try {
          const lesson = await LessonFile.open(at)
          try {
            expect(lesson.records).toEqual(whole.records)
            for (const inside of lesson.files) {
              const target = path.join(root, 'taken-out')
              fs.rmSync(target, { force: true })
              await lesson.take(inside, target)
              expect(fs.readFileSync(target).equals(whole.files.get(inside.path)!), inside.path).toBe(true)
            }
            read += 1
          } finally {
            lesson.close()
          }
        } catch (error) {
          if (!(error instanceof Problem)) throw error
        }
      },
    ),
    { numRuns: runs, seed: 8 },
  )
  // Times and other fields that nobody reads may change.
  console.log(
    `changed lesson files: ${runs}, refused ${runs - read}, read as they were ${read}, as something else 0`,
  )
  expect(read).toBeLessThan(runs / 2)
})

/** Every place in the records, as a path. */
const placesOf = (value: unknown, at: (string | number)[] = []): (string | number)[][] =>
  typeof value === 'object' && value !== null
    ? [
        at,
        ...Object.entries(value).flatMap(([key, inner]) =>
          placesOf(inner, [...at, Array.isArray(value) ? Number(key) : key]),
        ),
      ]
    : [at]

const recordRuns = Math.max(20, Math.round(runs / 3))
it(`of ${recordRuns} files with changed records each is refused whole, or taken in as a sound lesson`, async () => {
  const places = placesOf(whole.records).filter((at) => at.length > 0)
  let accepted = 0
  const values = fc.oneof(
    fc.constantFrom(
      null,
      '',
      '\u0000',
      -1,
      0,
      1.5,
      1e308,
      2 ** 53,
      true,
      [],
      {},
      '../x',
      '2026-02-30',
      'a'.repeat(70_000),
    ),
    fc.string(),
    fc.integer(),
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.jsonValue({ maxDepth: 2 }),
  )
  await fc.assert(
    fc.asyncProperty(
      fc.nat(places.length - 1),
      values,
      fc.constantFrom('set', 'delete', 'double'),
      async (n, value, how) => {
        const { records, files } = copyOf()
        const at = places[n]!
        const parent = at.slice(0, -1).reduce((inner: Hostile, key) => inner[key], records)
        const key = at.at(-1)!
        if (how === 'set') parent[key] = value
        else if (how === 'delete') {
          if (Array.isArray(parent)) parent.splice(Number(key), 1)
          else delete parent[key]
        } else if (Array.isArray(parent)) parent.push(parent[Number(key)])
        else parent[`${key}2`] = parent[key]
        const packed = await pack(path.join(root, 'changed.leadside-lesson'), { records, files })
        const before = await state()
        const job = await take(packed)
        if (job.state === 'failed') {
          expect(job.problem!.what).not.toContain('unexpected')
          expect(await state()).toEqual(before)
          return
        }
        expect(job.state).toBe('done')
        accepted += 1
        for (const { lessons } of await theirs.ask('roster.list', {})) {
          for (const { id } of lessons) {
            const opened = await theirs.ask('lesson.open', { lessonId: id })
            const parsed = contract['lesson.open'].output.safeParse(opened)
            expect(parsed.error?.issues ?? null, at.join('.')).toBeNull()
          }
        }
        // Back to what was, so that each stands alone.
        const known = new Set(before.roster.flatMap((s) => s.lessons.map((l) => l.id)))
        for (const s of await theirs.ask('roster.list', {})) {
          for (const l of s.lessons) {
            if (!known.has(l.id)) await theirs.ask('lesson.deleteForGood', { id: l.id })
          }
        }
      },
    ),
    { numRuns: recordRuns, seed: 88 },
  )
  console.log(
    `changed records: ${recordRuns}, refused ${recordRuns - accepted}, taken in and sound ${accepted}`,
  )
  expect(accepted).toBeLessThan(recordRuns)
}, 120_000)
