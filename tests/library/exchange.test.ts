import { fork } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { getTableColumns } from 'drizzle-orm'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import * as t from '../../electron/library/database/schema.ts'
import { Library } from '../../electron/library/library.ts'
import type { Consent } from '../../shared-core/model/entities.ts'
import { everythingOf, lessonsToGive } from './support/lesson-to-give.ts'
import { pack, unpack } from './support/pack-lesson-file.ts'
import { filesBelow, temporaryFolder } from './support/temporary-library.ts'
import { agreed } from './support/agreed.ts'

let made: { root: string; lessonId: string; secondId: string; studentId: string }
let root: string
let mine: Library
let theirs: Library
const out = () => path.join(root, 'out')
const open = (name: string) => new Library({ folder: path.join(root, name), printPdf: null })

beforeAll(async () => {
  const { library, folder, ...ids } = await lessonsToGive()
  await library.ask('settings.set', { coachName: 'Alex Giving' })
  await library.close()
  made = { root: folder, ...ids }
})
afterAll(() => fs.rmSync(made.root, { recursive: true, force: true }))
beforeEach(() => {
  root = temporaryFolder()
  fs.cpSync(path.join(made.root, 'library'), path.join(root, 'library'), { recursive: true })
  mine = open('library')
  theirs = open('theirs')
})
afterEach(async () => {
  for (const library of [mine, theirs]) if (library.context.sqlite.open) await library.close()
  fs.rmSync(root, { recursive: true, force: true })
})

const give = async (
  library: Library,
  choice: { lessonIds?: string[]; withNotes?: boolean; withLimits?: boolean; studentId?: string } = {},
) => {
  const { jobId } = await library.ask('lessonFile.give', {
    studentId: made.studentId,
    lessonIds: null,
    folder: out(),
    ...choice,
  })
  return library.context.jobs.ended(jobId)
}
const take = async (
  library: Library,
  file: string,
  choice: { studentId?: string; otherCopies?: 'leave' | 'beside' } = {},
) => {
  const { jobId } = await library.ask('lessonFile.take', { file, studentId: null, ...choice })
  return library.context.jobs.ended(jobId)
}
const given = async (library: Library, choice = {}) => {
  const job = await give(library, choice)
  expect(job.problem).toBeNull()
  return job.result!
}
const taken = async (library: Library, file: string, choice = {}) => {
  const job = await take(library, file, choice)
  expect(job.problem).toBeNull()
  return job.result!
}
const lessonsOf = async (library: Library, name = 'Robin Testing') =>
  (await library.ask('roster.list', {})).filter((s) => s.name === name).flatMap((s) => s.lessons)
const lessonOn = async (library: Library, date: string) =>
  (await lessonsOf(library)).find((lesson) => lesson.date === date)!.id

describe('lessons given to a colleague', () => {
  it('come back equal in another library: films, marks, drawings, cues, pairs, shots, blocks, plan, body points, photos', async () => {
    const file = await given(mine, { withNotes: true, withLimits: true })
    expect(path.basename(file)).toMatch(/^\d{4}-\d{2}-\d{2}-Robin-Testing\.leadside-lesson$/)
    expect(fs.statSync(file).mode & 0o777).toBe(0o600)
    expect(await taken(theirs, file)).toBe('2 lessons with 2 clips taken in')
    for (const [date, id] of [
      ['2026-05-01', made.lessonId],
      ['2026-05-08', made.secondId],
    ] as const) {
      const here = await everythingOf(theirs, await lessonOn(theirs, date))
      const there = await everythingOf(mine, id)
      expect(here).toEqual(there)
      expect(here.told.comparisons).toHaveLength(1)
    }
    const first = await theirs.ask('lesson.open', { lessonId: await lessonOn(theirs, '2026-05-01') })
    expect(first.shots).toHaveLength(3)
    expect(first.student).toMatchObject({ limits: 'sore left knee', note: 'private: pays late' })
    expect((await theirs.ask('cueKind.list', {})).find((k) => k.key === 'sway')).toMatchObject({
      isOwn: true,
    })
    expect((await theirs.ask('roster.list', {}))[0]).toMatchObject({ givenBy: 'Alex Giving' })
    expect((await theirs.ask('library.check', {})).lines.filter((line) => !line.ok)).toEqual([])
    expect(filesBelow(path.join(root, 'theirs', 'incoming'))).toEqual([])
    // Without the notes it holds nothing new.
    const bare = await given(mine)
    expect((await theirs.ask('lessonFile.look', { file: bare })).lessons.map((l) => l.standing)).toEqual([
      'same',
      'same',
    ])
    // It is a lesson like any other.
    const swing = first.swings[0]!
    await theirs.ask('swing.update', { ids: [swing.id], patch: { note: 'seen here' } })
    await theirs.ask('edits.undo', { lessonId: first.lesson.id })
    expect((await theirs.ask('lesson.open', { lessonId: first.lesson.id })).swings[0]!.note).toBe(swing.note)
  })

  it('go without the coach’s own notes and the limits unless wanted, and the card says that limits were not told', async () => {
    const file = await given(mine)
    const bytes = fs.readFileSync(file)
    const { records } = await unpack(file)
    for (const secret of ['private:', 'sore left knee', 'someone']) {
      expect(JSON.stringify(records)).not.toContain(secret)
      expect(bytes.includes(secret)).toBe(false)
    }
    await taken(theirs, file)
    const { student, lesson, swings } = await theirs.ask('lesson.open', {
      lessonId: await lessonOn(theirs, '2026-05-01'),
    })
    expect(student.limits).toMatch(/^Not given along/)
    expect([student.note, lesson.note]).toEqual(['', ''])
    // What the student would read as well goes along.
    expect(swings.map((s) => s.note)).toContain('the best one')
  })

  it('one lesson alone leaves out what shows another, and says so', async () => {
    const before = await mine.ask('lessonFile.before', {
      studentId: made.studentId,
      lessonIds: [made.secondId],
    })
    expect(before).toMatchObject({ refusal: null, lessons: 1, clips: 1 })
    expect(before.leftOut).toEqual(['the comparison “A week later”: it shows a lesson that is not given'])
    const file = await given(mine, { lessonIds: [made.secondId] })
    await taken(theirs, file)
    const opened = await theirs.ask('lesson.open', { lessonId: await lessonOn(theirs, '2026-05-08') })
    expect([opened.swings.length, opened.comparisons.length]).toEqual([1, 0])
  })

  it('taken in twice are there once; a later lesson comes to the same student if the coach says so', async () => {
    await taken(theirs, await given(mine, { lessonIds: [made.lessonId] }))
    const whole = await given(mine)
    const look = await theirs.ask('lessonFile.look', { file: whole })
    expect(look.lessons.map((l) => l.standing)).toEqual(['same', 'new'])
    expect(look.knownStudents.map((s) => s.name)).toEqual(['Robin Testing'])
    const { id } = look.knownStudents[0]!
    expect(await taken(theirs, whole, { studentId: id })).toBe(
      '1 lesson with 1 clip taken in; 1 lesson was here already',
    )
    expect(await taken(theirs, whole, { studentId: id })).toBe('nothing new: these lessons are here already')
    expect(await taken(theirs, whole)).toBe('nothing new: these lessons are here already')
    expect((await theirs.ask('roster.list', {})).map((s) => s.lessons.length)).toEqual([2])
    expect(theirs.context.db.select().from(t.media).all()).toHaveLength(2)
    // Given back to where they came from they are known, too.
    expect(await taken(mine, whole)).toBe('nothing new: these lessons are here already')
    expect(await lessonsOf(mine)).toHaveLength(2)
    // And by way of a third.
    const third = open('third')
    await taken(third, await given(theirs, { studentId: id }))
    expect(await taken(third, whole)).toBe('nothing new: these lessons are here already')
    await third.close()
  })

  it('in a newer copy are said to be one, change nothing unasked, and come beside the old one if wanted', async () => {
    const first = await given(mine, { lessonIds: [made.lessonId] })
    await taken(theirs, first)
    const here = await lessonOn(theirs, '2026-05-01')
    const before = await everythingOf(theirs, here)
    await mine.ask('lesson.update', { id: made.lessonId, patch: { title: 'Looked at again' } })
    const newer = await given(mine, { lessonIds: [made.lessonId] })
    expect((await theirs.ask('lessonFile.look', { file: newer })).lessons[0]).toMatchObject({
      standing: 'newer',
      lessonId: here,
    })
    const known = await take(theirs, newer)
    expect(known).toMatchObject({
      state: 'failed',
      problem: { what: expect.stringContaining('another copy') },
    })
    expect(await everythingOf(theirs, here)).toEqual(before)
    const { id } = (await theirs.ask('roster.list', {}))[0]!
    await taken(theirs, newer, { studentId: id, otherCopies: 'beside' })
    expect((await lessonsOf(theirs)).map((l) => l.title).toSorted()).toEqual(['A lesson', 'Looked at again'])
    expect(await everythingOf(theirs, here)).toEqual(before)
    expect((await theirs.ask('lessonFile.look', { file: first })).lessons[0]!.standing).toBe('same')
    await mine.ask('lesson.update', { id: made.lessonId, patch: { title: 'And again' } })
    expect((await mine.ask('lessonFile.look', { file: newer })).lessons[0]!.standing).toBe('older')
  })

  it('written by the first version are read: three of its metrics had other names', async () => {
    const { about, records, files } = await unpack(await given(mine, { withNotes: true }))
    const older = JSON.stringify(records)
      .replaceAll('"launchDirectionDeg"', '"startLineDeg"')
      .replaceAll('"descentDeg"', '"landDeg"')
      .replaceAll('"dynamicLoftDeg"', '"loftDeg"')
    expect(older).not.toBe(JSON.stringify(records))
    const file = path.join(root, 'older.leadside-lesson')
    await pack(file, { about: { id: about.id, version: 1 }, records: older, files })
    await taken(theirs, file)
    expect((await everythingOf(theirs, await lessonOn(theirs, '2026-05-01'))).told.shots).toEqual(
      (await everythingOf(mine, made.lessonId)).told.shots,
    )
  })

  it('meet a kind of cue of the same key with other words without taking its place', async () => {
    await theirs.ask('cueKind.save', { key: 'sway', group: 'body', label: 'Slides (mine)' })
    await taken(theirs, await given(mine))
    const kinds = (await theirs.ask('cueKind.list', {})).filter((k) => k.isOwn).map((k) => [k.key, k.label])
    expect(kinds).toEqual([
      ['sway', 'Slides (mine)'],
      ['sway-2', 'Sways back'],
    ])
    const opened = await theirs.ask('lesson.open', { lessonId: await lessonOn(theirs, '2026-05-01') })
    expect(opened.swings.flatMap((s) => s.views.flatMap((v) => v.cues.map((c) => c.kind)))).toEqual([
      'sway-2',
      'grip',
    ])
  })

  it('hold every column of a lesson’s tables, but for those named here', () => {
    // Ids and places in the library are made anew; a lesson file has places in lists instead.
    const notInIt: Record<string, string[]> = {
      lesson: ['id', 'studentId'],
      block: ['id', 'lessonId'],
      // What was seen and heard of strikes tells the sound's delay of the lesson it was filmed in; found anew by reading the clip.
      clip: ['id', 'lessonId', 'strikes'],
      shot: ['id', 'lessonId'],
      swing: ['id', 'lessonId'],
      view: ['id', 'swingId'],
      moment: ['id', 'viewId'],
      cue: ['id', 'momentId'],
      // Drawings stand in the file: what they move with is not in it.
      drawing: ['id', 'viewId', 'tie'],
      comparison: ['id', 'lessonId'],
      facePhoto: ['id', 'lessonId'],
      bodyCorrection: ['id', 'clipId'],
      plan: ['lessonId'],
      student: ['id', 'createdAt'],
    }
    const inIt: Record<string, string[]> = {
      lesson: [
        'date',
        'title',
        'place',
        'note',
        'nextFocus',
        'temperatureC',
        'pressureHpa',
        'altitudeM',
        'humidityPercent',
        'micDistanceM',
        'isMicTold',
        'clock',
      ],
      block: ['position', 'name', 'focus', 'isBaseline', 'note'],
      clip: [
        'mediaHash',
        'fileName',
        'captureRate',
        'captureRateHow',
        'slowPart',
        'camera',
        'tiltDeg',
        'pixelsPerMeter',
        'brightness',
        'contrast',
        'isMirrored',
        'stillKind',
      ],
      shot: [
        'fileName',
        'line',
        'position',
        'fingerprint',
        'club',
        'at',
        'blockName',
        'clubSpeedMps',
        'ballSpeedMps',
        'launchDeg',
        'launchDirectionDeg',
        'spinRpm',
        'spinAxisDeg',
        'carryM',
        'totalM',
        'sideM',
        'apexM',
        'descentDeg',
        'flightSeconds',
        'attackDeg',
        'clubPathDeg',
        'faceDeg',
        'dynamicLoftDeg',
        'impactXMm',
        'impactYMm',
        'flags',
        'other',
        'isLeftOut',
        'leftOutReason',
        'isTrusted',
        'assumed',
      ],
      swing: ['blockId', 'position', 'shotId', 'pairConfidence', 'pairHow', 'isStarred', 'didAsked', 'note'],
      view: ['clipId', 'fromFrame', 'toFrame'],
      moment: ['name', 'frame', 'how', 'confidence', 'isConfirmed'],
      cue: ['kind', 'strength', 'x', 'y', 'note'],
      drawing: ['momentId', 'fromFrame', 'toFrame', 'shape', 'position', 'isHidden'],
      comparison: [
        'name',
        'firstViewId',
        'secondViewId',
        'lockedOn',
        'arrangement',
        'opacity',
        'isStretched',
        'mirrorSecond',
      ],
      facePhoto: [
        'club',
        'clipId',
        'pictureId',
        'width',
        'height',
        'toeX',
        'toeY',
        'heelX',
        'heelY',
        'lengthMm',
      ],
      bodyCorrection: ['frame', 'joint', 'x', 'y'],
      plan: ['items', 'note', 'outcome'],
      student: ['name', 'side', 'isMinor', 'limits', 'note', 'units', 'language', 'consent'],
    }
    for (const [table, left] of Object.entries(notInIt)) {
      const columns = Object.keys(getTableColumns(t[table as 'lesson']))
      expect(
        columns.toSorted(),
        `a new column of ${table}: into the lesson file, or named as left out`,
      ).toEqual([...left, ...inIt[table]!].toSorted())
    }
  })
})

describe('consent', () => {
  const consent = (patch: Partial<Consent>) =>
    mine.ask('student.consent', {
      id: made.studentId,
      consent: {
        ...agreed('Robin Testing'),
        coversFace: false,
        ...patch,
      },
    })

  it.each([
    [{ sharing: false }, 'no recorded consent to sharing'],
    [{ storing: false }, 'no recorded consent to keeping'],
    [{ until: '2020-01-01' }, 'ran out on 2020-01-01'],
    [{ coversFace: true }, 'only with the face covered'],
  ])('%j: nothing is given, and the reason is said', async (patch, words) => {
    await consent(patch)
    const which = { studentId: made.studentId, lessonIds: null }
    expect((await mine.ask('lessonFile.before', which)).refusal).toContain(words)
    const job = await give(mine)
    expect(job).toMatchObject({ state: 'failed', problem: { what: expect.stringContaining(words) } })
    expect(filesBelow(out())).toEqual([])
  })

  it('of a minor has to be a guardian’s', async () => {
    await mine.ask('student.update', { id: made.studentId, patch: { isMinor: true } })
    expect((await give(mine)).problem!.what).toContain('not a guardian’s')
    await consent({ isGuardian: true, givenBy: 'Sam Testing' })
    await given(mine)
  })

  it('goes along, and a file without it is not taken in', async () => {
    await consent({ until: '2035-12-31', givenBy: 'Robin T.' })
    const file = await given(mine)
    await taken(theirs, file)
    const [student] = await theirs.ask('roster.list', {})
    const before = await mine.ask('student.get', { id: made.studentId })
    expect((await theirs.ask('student.get', { id: student!.id })).consent).toEqual(before.consent)
    const { records, files } = await unpack(file)
    const inside = records as { student: { consent: Consent } }
    inside.student.consent.sharing = false
    const forged = await pack(path.join(root, 'forged.leadside-lesson'), { records, files })
    const third = open('third')
    expect((await third.ask('lessonFile.look', { file: forged })).refusal).toContain('consent to sharing')
    expect((await take(third, forged)).problem!.what).toContain('consent to sharing')
    expect(await third.ask('roster.list', {})).toEqual([])
    await third.close()
  })
})

describe('stopped or cut off', () => {
  const untouched = async (library: Library) => {
    expect(await library.ask('roster.list', {})).toEqual([])
    const { folder } = library.context
    for (const part of ['clips', 'incoming', 'coach-pictures', 'set-aside']) {
      expect(filesBelow(path.join(folder, part)), part).toEqual([])
    }
    for (const table of [t.media, t.coachPicture, t.mediaClaim, t.bodyPoints]) {
      expect(library.context.db.select().from(table).all()).toEqual([])
    }
  }

  it('at every step of taking in, nothing is changed', async () => {
    const file = await given(mine)
    const { jobs } = theirs.context
    for (const step of ['checking every file', 'reading clips', 'thumbnails, 1 of 2', 'sound, 2 of 2']) {
      const { jobId } = await theirs.ask('lessonFile.take', { file, studentId: null })
      await expect
        .poll(() => jobs.get(jobId).step === step || jobs.get(jobId).state === 'done', {
          interval: 1,
          timeout: 20_000,
        })
        .toBe(true)
      await theirs.ask('job.cancel', { id: jobId })
      expect((await jobs.ended(jobId)).state, step).toBe('cancelled')
      await untouched(theirs)
    }
    await taken(theirs, file)
    expect(await lessonsOf(theirs)).toHaveLength(2)
  })

  it('while giving, nothing is left in the folder', async () => {
    const { jobId } = await mine.ask('lessonFile.give', {
      studentId: made.studentId,
      lessonIds: null,
      folder: out(),
    })
    await mine.ask('job.cancel', { id: jobId })
    expect((await mine.context.jobs.ended(jobId)).state).toBe('cancelled')
    expect(filesBelow(out())).toEqual([])
    await given(mine)
  })

  it('by kills, both end as if nothing had happened', async () => {
    const file = await given(mine, { lessonIds: [made.lessonId, made.secondId] })
    await mine.close()
    const folder = path.join(root, 'library')
    const third = path.join(root, 'third-out')
    // Another student's lessons for the library of mine: the same file under other names.
    const { records, files } = await unpack(file)
    const text = JSON.stringify(records)
      .replaceAll(made.lessonId, 'other-1')
      .replaceAll(made.secondId, 'other-2')
    const other = JSON.parse(text) as { student: { name: string; originId: string } }
    other.student = { ...other.student, name: 'Kim Arriving', originId: 'other-3' }
    const arriving = await pack(path.join(root, 'arriving.leadside-lesson'), { records: other, files })
    for (const delayMs of [30, 120, 260]) {
      const child = fork(
        path.join(import.meta.dirname, 'support/exchange-and-be-killed.ts'),
        [folder, arriving, made.studentId, third],
        { silent: true },
      )
      const ended = new Promise((resolve) => child.once('exit', resolve))
      await new Promise((resolve) => child.once('message', resolve))
      await new Promise((resolve) => setTimeout(resolve, delayMs))
      child.kill('SIGKILL')
      await ended
    }
    mine = open('library')
    for (const { id, kind } of mine.context.jobs.list()) {
      if (kind !== 'take-lesson' && kind !== 'give-lesson') continue
      const job = await mine.context.jobs.ended(id)
      if (job.problem?.what.includes('3 times')) await mine.ask('job.retry', { id })
      expect((await mine.context.jobs.ended(id)).problem).toBeNull()
    }
    expect(await lessonsOf(mine, 'Kim Arriving')).toHaveLength(2)
    expect((await mine.ask('roster.list', {})).filter((s) => s.name === 'Kim Arriving')).toHaveLength(1)
    expect((await mine.ask('library.check', {})).lines.filter((line) => !line.ok)).toEqual([])
    expect(filesBelow(third)).toHaveLength(1)
    expect(filesBelow(path.join(folder, 'incoming'))).toEqual([])
    await taken(theirs, path.join(third, filesBelow(third)[0]!))
  }, 60_000)

  it('a film that is not what it was is not given', async () => {
    const { clips } = await mine.ask('lesson.open', { lessonId: made.lessonId })
    const { file } = await mine.ask('media.resolve', { clipId: clips[0]!.id, kind: 'original' })
    const bytes = fs.readFileSync(file)
    bytes[bytes.length >> 1]! ^= 1
    fs.writeFileSync(file, bytes)
    const job = await give(mine)
    expect(job.problem).toMatchObject({
      what: expect.stringContaining('not as it was'),
      where: clips[0]!.fileName,
    })
    fs.rmSync(file)
    expect((await give(mine)).problem).toMatchObject({ where: clips[0]!.fileName })
    expect(filesBelow(out())).toEqual([])
  })
})

describe('deleting a student', () => {
  it('names the lesson files that were written, deletes them if wanted, and leaves no name in the records', async () => {
    const [first, second] = [await given(mine), await given(mine, { lessonIds: [made.lessonId] })]
    const changed = await given(mine)
    fs.appendFileSync(changed, 'x')
    const look = await mine.ask('deletion.look', { studentId: made.studentId })
    expect(look.lessonFiles).toEqual([first, second, changed].map((file) => ({ file, isThere: true })))
    const receipt = await mine.ask('student.deleteForGood', {
      id: made.studentId,
      typedName: 'Robin Testing',
      withPackages: true,
    })
    expect(receipt.packagesDeleted).toBe(2)
    expect(receipt.stays).toEqual([
      { where: changed, why: 'it is not as it was written; look at it yourself' },
    ])
    expect(filesBelow(out())).toEqual([path.basename(changed)])
    await mine.close()
    for (const name of filesBelow(path.join(root, 'library'))) {
      const file = path.join(root, 'library', name)
      if (!fs.statSync(file).isFile()) continue
      for (const secret of ['Robin', 'sore left knee']) {
        expect(fs.readFileSync(file).includes(secret), `${secret} in ${name}`).toBe(false)
      }
    }
  })

  it('also where the student came with a colleague’s file', async () => {
    const file = await given(mine)
    await taken(theirs, file)
    const { id } = (await theirs.ask('roster.list', {}))[0]!
    await theirs.ask('student.deleteForGood', { id, typedName: 'Robin Testing' })
    await theirs.close()
    for (const name of filesBelow(path.join(root, 'theirs'))) {
      const at = path.join(root, 'theirs', name)
      if (fs.statSync(at).isFile()) expect(fs.readFileSync(at).includes('Robin'), name).toBe(false)
    }
  })

  it('one lesson of several in a file leaves the file listed for the others', async () => {
    const file = await given(mine)
    const receipt = await mine.ask('lesson.deleteForGood', { id: made.secondId })
    expect(receipt.stays).toEqual([{ where: file, why: expect.stringContaining('lesson file') }])
    expect((await mine.ask('deletion.look', { studentId: made.studentId })).lessonFiles).toHaveLength(1)
  })
})
