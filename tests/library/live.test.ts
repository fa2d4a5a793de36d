import { spawn, spawnSync, type ChildProcess } from 'node:child_process'
import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { Arrivals, isUnfinishedName } from '../../electron/library/live/arrivals.ts'
import { isWholeMp4, wholeness } from '../../electron/library/live/whole-file.ts'
import { reasonOf } from '../../electron/library/live/why-not.ts'
import { sayWord } from '../../shared-core/wording/phrase.ts'
import type { Job } from '../../shared-core/model/entities.ts'
import { makeClip, runFfmpegNow } from './support/make-clip.ts'
import { filesBelow, openWithLesson, temporaryFolder } from './support/temporary-library.ts'

let folder: string
let clip: string
beforeAll(() => {
  folder = temporaryFolder()
  clip = path.join(folder, 'base.mp4')
  makeClip(clip, { seconds: 0.6 })
})
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

/** Waits for what must come true; the test's own time limit ends it. */
const until = async (isTrue: () => boolean | Promise<boolean>) => {
  while (!(await isTrue())) await new Promise((resolve) => setTimeout(resolve, 50))
}

/** The user without rights of its own, on Debian and its kin. */
const nobody = 65_534

const dated = (file: string, at: Date) =>
  runFfmpegNow('-i', clip, '-c', 'copy', '-metadata', `creation_time=${at.toISOString()}`, file)

describe('a whole file', () => {
  it('is whole with its last byte only, wherever it is cut', async () => {
    const bytes = fs.readFileSync(clip)
    const cut = path.join(folder, 'cut.mp4')
    expect(await isWholeMp4(clip)).toBe(true)
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 0, max: bytes.length - 1 }), async (length) => {
        fs.writeFileSync(cut, bytes.subarray(0, length))
        expect(await isWholeMp4(cut)).toBe(false)
      }),
      { numRuns: 60 },
    )
  })

  it('is still only as long as neither its size nor its time changes', () => {
    const arrivals = new Arrivals()
    const at = (size: number, mtimeMs: number, now: number) =>
      arrivals.see([{ file: 'a.mp4', size, mtimeMs }], now)[0]!.stillMs
    expect([at(10, 1, 0), at(10, 1, 300), at(20, 2, 400), at(20, 2, 900), at(20, 3, 1000)]).toEqual([
      0, 300, 0, 500, 0,
    ])
    arrivals.see([], 1100)
    expect(at(20, 3, 1200)).toBe(0)
  })

  it('has no name that says it is not finished', () => {
    const names = [
      '.swing.mp4',
      'swing.mp4.part',
      '~swing.mp4',
      'swing.mp4.crdownload',
      'swing.tmp',
      '._a.mov',
    ]
    expect(names.filter((name) => !isUnfinishedName(name))).toEqual([])
    expect(isUnfinishedName('swing 1.mp4')).toBe(false)
  })
})

describe('a picture', () => {
  it('is whole with its end; one that is not said to be is waited for longer', async () => {
    const [jpg, png, webp] = ['a.jpg', 'a.png', 'a.webp'].map((name) => path.join(folder, name)) as [
      string,
      string,
      string,
    ]
    for (const file of [jpg, png, webp]) runFfmpegNow('-i', clip, '-frames:v', '1', file)
    expect(await Promise.all([jpg, png, webp].map(wholeness))).toEqual(['whole', 'whole', 'whole'])
    for (const file of [jpg, png, webp]) fs.truncateSync(file, fs.statSync(file).size - 5)
    expect(await Promise.all([jpg, png, webp].map(wholeness))).toEqual(['unknown', 'unknown', 'half'])
    fs.writeFileSync(jpg, '')
    expect(await wholeness(jpg)).toBe('unknown')
  })
})

describe('why a file is not taken yet', () => {
  it.each([
    // What Node says on Windows of a file that another program holds (libuv, src/win/error.c), and of one it may not open.
    ['EBUSY', 'is in use by another program'],
    ['EPERM', 'may not be read'],
    ['EACCES', 'may not be read'],
    ['ENOENT', 'is not there'],
    ['EIO', 'is out of reach: the card or the drive may have been pulled out'],
    ['ENXIO', 'is out of reach: the card or the drive may have been pulled out'],
    ['ESTALE', 'is out of reach: the card or the drive may have been pulled out'],
    ['EMFILE', "can't be read (EMFILE)"],
  ])('%s: it %s', (code, words) => {
    expect(sayWord(reasonOf(Object.assign(new Error('told by the system'), { code })))).toBe(words)
  })
})

describe('a live lesson', () => {
  it('leaves thousands of old clips alone, waits for half a file and for a folder that went away', async () => {
    const { library, lessonId, folder: home } = await openWithLesson()
    const clips = path.join(home, 'camera')
    fs.mkdirSync(clips)
    for (let i = 0; i < 3000; i++) fs.writeFileSync(path.join(clips, `old-${i}.mp4`), 'old')
    // A whole one, which nothing but its age keeps out.
    dated(path.join(clips, 'old-whole.mp4'), new Date(Date.UTC(2026, 3, 1)))
    await library.ask('live.start', { lessonId, clipsFolder: clips, shotsPath: null })
    const state = async () => (await library.ask('live.state', { lessonId })).state!
    const names = async () =>
      (await library.ask('lesson.open', { lessonId })).clips.map((c) => c.fileName).sort()

    const bytes = fs.readFileSync(clip)
    fs.writeFileSync(path.join(clips, 'half.mp4'), bytes.subarray(0, bytes.length / 2))
    await until(async () =>
      (await state()).waiting.some((w) => w.name === 'half.mp4' && /complete/.test(w.why)),
    )

    const away = path.join(home, 'pulled-out')
    fs.renameSync(clips, away)
    await until(async () => (await state()).clipsProblem !== null)
    expect((await state()).clipsProblem).toBe('The folder of clips is not there')
    fs.appendFileSync(path.join(away, 'half.mp4'), bytes.subarray(bytes.length / 2))
    fs.renameSync(away, clips)
    await until(async () => (await names()).length > 0)
    expect(await names()).toEqual(['half.mp4'])
    expect((await state()).clipsProblem).toBeNull()

    await library.ask('live.stop', { lessonId })
    expect((await state()).isOn).toBe(false)
    await library.close()
    fs.rmSync(home, { recursive: true, force: true })
  }, 60_000)

  it('waits for a clip that it may not read, and takes it in once it may', async (test) => {
    const home = temporaryFolder()
    const clips = path.join(home, 'camera')
    fs.mkdirSync(clips)
    const made = await openWithLesson(home)
    await made.library.close()
    const locked = path.join(clips, 'locked.mp4')
    // For root nothing is locked by its mode: the program then runs as nobody.
    const isRoot = process.getuid?.() === 0
    const as = isRoot ? { uid: nobody, gid: nobody } : {}
    if (process.platform === 'win32') test.skip('no file modes on Windows')
    if (isRoot) {
      for (const file of [home, ...filesBelow(home).map((f) => path.join(home, f))]) {
        fs.chownSync(file, nobody, nobody)
      }
    }
    const said: string[] = []
    const args = ['live', made.lessonId, '--library', home, '--clips', clips, '--json']
    const child = spawn(process.execPath, ['electron/cli/index.ts', ...args], {
      ...{ stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, HOME: home }, ...as },
    })
    for (const stream of [child.stdout, child.stderr]) {
      stream!.on('data', (text: Buffer) => said.push(String(text)))
    }
    await until(() => said.join('').includes('Live'))
    fs.copyFileSync(clip, locked)
    fs.chmodSync(locked, 0o000)
    await until(() => said.join('').includes('may not be read'))
    expect(said.join('')).not.toContain('"clip"')
    fs.chmodSync(locked, 0o644)
    await until(() => said.join('').includes('"event":"clip"'))
    const ended = new Promise((resolve) => child.once('exit', resolve))
    child.kill('SIGINT')
    await ended
    fs.rmSync(home, { recursive: true, force: true })
  }, 60_000)

  it('goes on when a card is pulled out while its clip is copied, and when it is back', async () => {
    const home = temporaryFolder()
    const [clips, away] = ['card', 'pulled-out'].map((name) => path.join(home, name)) as [string, string]
    fs.mkdirSync(clips)
    let isPulled = false
    const failures: string[] = []
    const library = new Library({
      folder: home,
      emit: (name, body) => {
        if (name !== 'job.changed') return
        const { step, problem } = body as Job
        if (problem) failures.push(problem.what)
        if (step !== 'copying' || isPulled) return
        isPulled = true
        fs.renameSync(clips, away)
      },
    })
    const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
    const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-01' })
    await library.ask('live.start', { lessonId, clipsFolder: clips, shotsPath: null })
    fs.copyFileSync(clip, path.join(clips, 'swing.mp4'))
    const state = async () => (await library.ask('live.state', { lessonId })).state!
    await until(async () => (await state()).clipsProblem !== null)
    await until(() => failures.length > 0)
    expect(failures).toEqual(['the file is no longer there'])
    expect((await library.ask('lesson.open', { lessonId })).clips).toEqual([])
    fs.renameSync(away, clips)
    await until(async () => (await library.ask('lesson.open', { lessonId })).clips.length === 1)
    expect((await state()).clipsProblem).toBeNull()
    await library.close()
    fs.rmSync(home, { recursive: true, force: true })
  }, 60_000)

  it('takes in what a program writes into a file that has its full length from the start, and only that', async () => {
    const home = temporaryFolder()
    const clips = path.join(home, 'camera')
    fs.mkdirSync(clips)
    const file = path.join(clips, 'swing.mp4')
    // So long that it is still being read when the folder is looked at again.
    const long = path.join(home, 'long.mp4')
    makeClip(long, { seconds: 4 })
    const whole = fs.readFileSync(long)
    const holed = Buffer.from(whole)
    const frames = holed.indexOf('mdat') + 4
    // The boxes are all there; of the pictures the last three quarters are still empty.
    const length = holed.readUInt32BE(frames - 8) - 8
    holed.fill(0, frames + Math.round(length / 4), frames + length)
    const ends: string[] = []
    let isFilled = false
    const library = new Library({
      folder: path.join(home, 'library'),
      emit: (name, body) => {
        if (name !== 'job.changed') return
        const { state, step } = body as Job
        if (/done|failed|cancelled/.test(state)) ends.push(state)
        if (step !== 'finding the strike' || isFilled) return
        isFilled = true
        fs.writeFileSync(file, whole)
      },
    })
    const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
    const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-01' })
    await library.ask('live.start', { lessonId, clipsFolder: clips, shotsPath: null })
    fs.writeFileSync(file, holed)
    await until(() => ends.length > 1)
    await library.context.jobs.idle()
    const opened = await library.ask('lesson.open', { lessonId })
    expect(opened.clips.map((c) => c.hash)).toEqual([createHash('sha256').update(whole).digest('hex')])
    expect(ends.slice(0, 2)).toEqual(['cancelled', 'done'])
    await library.close()
    fs.rmSync(home, { recursive: true, force: true })
  }, 60_000)

  it('sees what arrives on a drive that tells of no changes', async (test) => {
    const { library, lessonId, folder: home } = await openWithLesson()
    const [low, high, work, drive] = ['low', 'high', 'work', 'drive'].map((name) =>
      path.join(home, name),
    ) as [string, string, string, string]
    for (const made of [low, high, work, drive]) fs.mkdirSync(made)
    // What is written below an overlay shows in it, and no event comes of it: as on a network drive.
    const mounted = spawnSync('mount', [
      '-t',
      'overlay',
      'overlay',
      '-o',
      `lowerdir=${low},upperdir=${high},workdir=${work}`,
      drive,
    ])
    if (mounted.status !== 0) {
      await library.close()
      test.skip(`no overlay can be mounted here: ${String(mounted.stderr ?? mounted.error).trim()}`)
    }
    try {
      const events: string[] = []
      const bell = fs.watch(drive, (event) => events.push(event))
      await library.ask('live.start', { lessonId, clipsFolder: drive, shotsPath: null })
      const bytes = fs.readFileSync(clip)
      fs.writeFileSync(path.join(low, 'swing.mp4'), bytes.subarray(0, 1000))
      const state = async () => (await library.ask('live.state', { lessonId })).state!
      await until(async () => (await state()).waiting.some((w) => /complete/.test(w.why)))
      fs.appendFileSync(path.join(low, 'swing.mp4'), bytes.subarray(1000))
      await until(async () => (await library.ask('lesson.open', { lessonId })).clips.length === 1)
      expect(events).toEqual([])
      bell.close()
      await library.close()
    } finally {
      spawnSync('umount', [drive])
      fs.rmSync(home, { recursive: true, force: true })
    }
  }, 60_000)

  it('takes in twenty clips and twenty shots that another process writes, clocks six minutes apart, killed in between: all are paired, none twice', async () => {
    const { library, lessonId, folder: home } = await openWithLesson()
    await library.close()
    const [clips, source] = ['camera', 'made'].map((name) => path.join(home, name)) as [string, string]
    const shots = path.join(home, 'device.csv')
    const rowsFile = path.join(home, 'rows.json')
    for (const made of [clips, source]) fs.mkdirSync(made)
    const count = 20
    const rows: string[] = []
    let at = Date.UTC(2026, 4, 1, 9, 0, 0)
    for (let i = 0; i < count; i++) {
      at += 1000 * (25 + ((i * 37) % 41))
      dated(path.join(source, `swing-${String(i + 1).padStart(2, '0')}.mp4`), new Date(at))
      const device = new Date(at + 360_000 + 1000 * ((i % 3) - 1))
        .toISOString()
        .slice(0, 19)
        .replace('T', ' ')
      rows.push([device, 'Driver', 100 + i / 10, 148, 240 + i].join(','))
    }
    fs.writeFileSync(rowsFile, JSON.stringify(rows))
    fs.writeFileSync(shots, 'Time,Club,Club Speed (mph),Ball Speed (mph),Carry (yds)\n')

    const said: string[] = []
    const live = (): ChildProcess => {
      const child = spawn(
        process.execPath,
        [
          ...['electron/cli/index.ts', 'live', lessonId, '--library', home],
          ...['--clips', clips, '--shots', shots, '--json'],
        ],
        { stdio: ['ignore', 'pipe', 'pipe'] },
      )
      child.stdout!.on('data', (text: Buffer) => said.push(String(text)))
      return child
    }
    const lines = () =>
      said
        .join('')
        .split('\n')
        .filter((line) => line.endsWith('}'))
        .map((line) => JSON.parse(line) as { event: string; clip: string | null; carryM: number | null })
    const pairs = () => new Set(lines().flatMap((l) => (l.event === 'pair' ? [l.clip] : []))).size
    const ended = (child: ChildProcess) => new Promise((resolve) => child.once('exit', resolve))

    const first = live()
    // The folder must be known before the camera begins; what is there then would be an older lesson's.
    await new Promise<void>((resolve) => {
      first.stderr!.on('data', (text: Buffer) => {
        if (/Live/.test(String(text))) resolve()
      })
    })
    const devices = spawn(process.execPath, [
      path.join(import.meta.dirname, 'support/write-as-devices.mjs'),
      ...[source, clips, shots, rowsFile],
    ])
    await until(() => pairs() >= 5)
    const killed = ended(first)
    first.kill('SIGKILL')
    await killed
    if (devices.exitCode === null) await ended(devices)
    const second = live()
    await until(() => pairs() === count)
    const stopped = ended(second)
    second.kill('SIGINT')
    expect(await stopped).toBe(130)

    const again = new Library({ folder: home })
    const opened = await again.ask('lesson.open', { lessonId })
    expect(opened.clips).toHaveLength(count)
    expect(opened.shots).toHaveLength(count)
    expect(opened.swings).toHaveLength(count)
    const carryOf = new Map(opened.shots.map((shot) => [shot.id, shot.carryM! / 0.9144 - 240]))
    const nameOf = new Map(opened.clips.map((c) => [c.id, Number(/\d+/.exec(c.fileName)![0]) - 1]))
    const paired = opened.swings.map((swing) => [
      nameOf.get(swing.views[0]!.clipId),
      Math.round(carryOf.get(swing.shotId!)!),
    ])
    expect(paired.toSorted((a, b) => a[0]! - b[0]!)).toEqual(Array.from({ length: count }, (_, i) => [i, i]))
    // The device's clock was 360 s ahead; ± its whole seconds.
    expect(Math.abs(Math.abs(opened.clock!.offsetSeconds) - 360)).toBeLessThan(2)
    await again.close()
    fs.rmSync(home, { recursive: true, force: true })
  }, 180_000)
})
