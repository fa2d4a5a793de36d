import { fork } from 'node:child_process'
import { createHash } from 'node:crypto'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import Database from 'better-sqlite3'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { BackupFile } from '../../electron/library/custody/backup-file.ts'
import * as t from '../../electron/library/database/schema.ts'
import { Library } from '../../electron/library/library.ts'
import { chosenPlace, tidyPlace } from '../../electron/library/library-place.ts'
import { tally } from '../../scripts/tally.mjs'
import type { Operation, Plan, Told } from './support/act-and-be-killed.ts'
import { bundled } from './support/bundled.ts'
import { makeClip } from './support/make-clip.ts'
import { filesBelow, openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'
import { agreed } from './support/agreed.ts'

/** `npm run faults` makes more, on other seeds. */
const kills = Number(process.env.LEADSIDE_KILLS ?? 200)
const seed = Number(process.env.LEADSIDE_SEED ?? 12_345)
/** Libraries, each killed at many times before it is looked through as a whole. */
const libraries = Math.max(1, Math.round(kills / 32))
const atOnce = Math.min(2, os.availableParallelism())
/** Of so many kills one is made while the library is still being opened, where what was cut off is put right. */
const whileOpening = 8

/** How often each operation is begun, of 100. */
const shares: Record<Operation, number> = {
  edits: 8,
  drawings: 10,
  shots: 10,
  'taking in': 13,
  deletion: 13,
  'hand-over': 10,
  backup: 11,
  giving: 5,
  taking: 5,
  restore: 8,
  move: 7,
}

let state = seed
const random = () => {
  state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0
  return state / 2 ** 32
}

/** Every operation by its share, in an order of chance. */
const drawn = (): Operation[] => {
  const given = new Map<Operation, number>()
  return Array.from({ length: kills }, (_, n) => {
    const due = ([name, share]: [Operation, number]) => (share / 100) * (n + 1) - (given.get(name) ?? 0)
    const [name] = (Object.entries(shares) as [Operation, number][]).toSorted((x, y) => due(y) - due(x))[0]!
    given.set(name, (given.get(name) ?? 0) + 1)
    return { name, at: random() }
  })
    .toSorted((x, y) => x.at - y.at)
    .map(({ name }) => name)
}

const hashOf = (file: string) => createHash('sha256').update(fs.readFileSync(file)).digest('hex')

/** The same film, and another file: a box that nobody reads stands at its end (ISO/IEC 14496-12, "free"). */
const variant = (clip: string, file: string) => {
  const box = Buffer.alloc(24)
  box.writeUInt32BE(24, 0)
  box.write('free', 4)
  for (let i = 8; i < 24; i += 1) box[i] = Math.floor(256 * random())
  fs.writeFileSync(file, Buffer.concat([fs.readFileSync(clip), box]))
  return file
}

let root: string
let program: Awaited<ReturnType<typeof bundled>>
let made: {
  folder: string
  clip: string
  shots: string
  backup: string
  lessonFiles: string[]
  lessonId: string
  sinceId: string
  drawn: Plan['drawn']
  /** How long each takes, from its beginning to its end; how long opening takes. */
  tookMs: Record<Operation | 'opening', number>
}

beforeAll(async () => {
  root = temporaryFolder()
  program = await bundled({
    act: 'tests/library/support/act-and-be-killed.ts',
    'report-worker': 'electron/library/report-worker.ts',
  })
  const folder = path.join(root, 'prepared')
  const clip = path.join(root, 'swing.mp4')
  makeClip(clip, { seconds: 0.4, sound: false })
  const shots = path.join(root, 'shots.csv')
  fs.writeFileSync(
    shots,
    'Shot,Club,Club Speed (mph),Ball Speed (mph),Carry (yd)\n1,7i,82.1,110.3,152\n2,7i,81.4,109.9,151\n3,7i,83.0,112.0,155\n',
  )
  const { library, lessonId, studentId } = await openWithLesson(folder)
  await library.ask('student.consent', {
    id: studentId,
    consent: agreed(),
  })
  const took = async (work: () => Promise<unknown>) => {
    const from = performance.now()
    await work()
    return performance.now() - from
  }
  const ended = async (jobId: string) => {
    const job = await library.context.jobs.ended(jobId)
    expect(job.problem).toBeNull()
    return job.result!
  }
  const { id: drawnId } = await library.ask('lesson.create', { studentId, date: '2026-05-03' })
  const takingIn = await took(() => takeIn(library, drawnId, [clip]))
  const { swings } = await library.ask('lesson.open', { lessonId: drawnId })
  const lessonFiles: string[] = []
  let [giving, handOver] = [0, 0]
  for (let n = 0; n < 4; n += 1) {
    const { id } = await library.ask('lesson.create', { studentId, date: '2026-05-04' })
    await takeIn(library, id, [variant(clip, path.join(root, `given ${n}.mp4`))])
    giving = await took(async () => {
      const about = { studentId, lessonIds: [id], folder: path.join(root, `given ${n}`) }
      lessonFiles.push(await ended((await library.ask('lessonFile.give', about)).jobId))
    })
    await library.ask('lesson.deleteForGood', { id })
  }
  const out = path.join(root, 'tried')
  handOver = await took(async () => {
    const about = { lessonId: drawnId, folder: out, consentSaidBy: 'the test' }
    await ended((await library.ask('handOver.write', about)).jobId)
  })
  fs.rmSync(out, { recursive: true })
  library.context.sqlite.exec('DELETE FROM job; DELETE FROM hand_over; DELETE FROM given_file')
  let backup = ''
  const backingUp = await took(async () => {
    backup = await ended((await library.ask('backup.make', { folder: path.join(root, 'backups') })).jobId)
  })
  library.context.sqlite.exec('DELETE FROM backup')
  const { id: sinceId } = await library.ask('student.create', { name: 'since the backup', side: 'right' })
  await library.close()
  made = {
    folder,
    clip,
    shots,
    backup,
    lessonFiles,
    lessonId,
    sinceId,
    drawn: { studentId, lessonId: drawnId, viewId: swings[0]!.views[0]!.id },
    tookMs: {
      opening: 0,
      edits: 150,
      drawings: 150,
      shots: 200,
      deletion: 200,
      'taking in': takingIn,
      'hand-over': handOver,
      backup: backingUp,
      giving,
      taking: takingIn,
      restore: 150,
      move: 100,
    },
  }
  // Once without a kill: to see how long opening takes, and that what is compiled once is kept.
  for (let n = 0; n < 2; n += 1) {
    const from = performance.now()
    await run(planFor('none', path.join(root, 'first'), []), () => {}, null)
    made.tookMs.opening = performance.now() - from
  }
}, 300_000)
afterAll(() => {
  fs.rmSync(root, { recursive: true, force: true })
  program.remove()
})

/** A folder of its own with the prepared library in it. */
const planFor = (operation: Plan['operation'], at: string, lessonFiles: string[]): Plan => {
  const folder = path.join(at, 'library')
  if (!fs.existsSync(at)) fs.cpSync(made.folder, folder, { recursive: true })
  const clips = [0, 1].map(() => {
    const name = `${random().toString(36).slice(2)}.mp4`
    return variant(made.clip, path.join(at, name))
  })
  const { lessonId, shots, backup } = made
  return {
    operation,
    folder,
    lessonId,
    drawn: made.drawn,
    clips,
    lessonFiles,
    shots,
    out: path.join(at, 'out'),
    backup,
    to: path.join(at, 'moved'),
    userData: path.join(at, 'profile'),
  }
}

/** Starts the process, and kills it: so long after its start, or after it has opened the library. */
const run = async (
  plan: Plan,
  told: (said: Told) => void,
  kill: { sinceStart?: number; sinceOpened?: number } | null,
) => {
  const child = fork(path.join(program.folder, 'act.js'), [JSON.stringify(plan)], {
    silent: true,
    // Nothing of the tests' own.
    execArgv: [],
    env: { ...process.env, NODE_COMPILE_CACHE: path.join(root, 'compiled') },
  })
  let printed = ''
  for (const stream of [child.stdout, child.stderr]) stream!.on('data', (chunk) => (printed += String(chunk)))
  const ended = new Promise<{ code: number | null; signal: string | null }>((resolve) =>
    child.once('close', (code, signal) => resolve({ code, signal })),
  )
  const strike = () => child.kill('SIGKILL')
  let timer: NodeJS.Timeout | undefined
  if (kill?.sinceStart !== undefined) timer = setTimeout(strike, kill.sinceStart)
  child.on('message', (said: Told) => {
    if ('opened' in said && kill?.sinceOpened !== undefined) timer = setTimeout(strike, kill.sinceOpened)
    told(said)
  })
  const { code, signal } = await ended
  clearTimeout(timer)
  if (signal === null && code !== 0) throw new Error(`${plan.operation} ended with ${code}: ${printed}`)
  return signal === 'SIGKILL'
}

const killAt = (operation: Operation, n: number) =>
  n % whileOpening === 0
    ? { sinceStart: made.tookMs.opening * (0.6 + 0.5 * random()) }
    : { sinceOpened: 1.3 * made.tookMs[operation] * random() }

/** What was going on at each kill, and how often nothing was acknowledged or lost. */
const counts = new Map<string, number>()
const sums = { acknowledged: 0, deletions: 0, searched: 0 }
const count = (name: string) => counts.set(name, (counts.get(name) ?? 0) + 1)

/** What one library has promised. */
class Promised {
  readonly kept = new Set<string>()
  /** Ids of deleted students, with their names. */
  readonly gone = new Map<string, string>()
  readonly drawings = new Map<string, 'there' | 'away' | 'either'>()
  readonly shotsOf = new Set<string>()
  readonly clips = new Set<string>()
  place = ''
  placing = ''
  isOpen = false
  hasEnded = false
  underWay = new Map<string, number>()

  hear(said: Told) {
    const step = (name: string, by: number) => this.underWay.set(name, (this.underWay.get(name) ?? 0) + by)
    if ('opened' in said) this.isOpen = true
    else if ('began' in said) step(said.began, 1)
    else if ('ended' in said) {
      this.hasEnded = true
      step(said.ended, -1)
    } else if ('kept' in said) this.kept.add(said.kept)
    else if ('gone' in said) this.gone.set(said.gone, said.name)
    else if ('about' in said) this.drawings.set(said.about, 'either')
    else if ('drawn' in said) this.drawings.set(said.drawn, 'there')
    else if ('erased' in said) this.drawings.set(said.erased, 'away')
    else if ('placing' in said) this.placing = said.placing
    else if ('place' in said) this.place = said.place
    else if ('shotsOf' in said) this.shotsOf.add(said.shotsOf)
    else this.clips.add(hashOf(said.clipIn))
    if (!/^(opened|began|ended|about|placing)$/.test(Object.keys(said)[0]!)) sums.acknowledged += 1
  }

  /** Compares it with the records and files as they lie there; the records are looked at in a copy, so that nothing is mended. */
  check(folder: string) {
    const copy = temporaryFolder()
    for (const end of ['', '-wal']) {
      const file = path.join(folder, `library.sqlite${end}`)
      if (fs.existsSync(file)) fs.copyFileSync(file, path.join(copy, `library.sqlite${end}`))
    }
    const db = new Database(path.join(copy, 'library.sqlite'))
    const column = (sql: string) => new Set(db.prepare(sql).pluck().all() as string[])
    expect(db.pragma('quick_check', { simple: true })).toBe('ok')
    expect(db.pragma('foreign_key_check')).toEqual([])
    const students = column('SELECT id FROM student')
    expect([...this.kept].filter((id) => !students.has(id))).toEqual([])
    expect([...this.gone.keys()].filter((id) => students.has(id))).toEqual([])
    const drawings = column('SELECT id FROM drawing')
    for (const [id, where] of this.drawings) {
      if (where !== 'either') expect(drawings.has(id), `drawing ${where}`).toBe(where === 'there')
    }
    // All of a file of shots, or nothing.
    const full = column('SELECT lesson_id FROM shot GROUP BY lesson_id HAVING count(*) = 3')
    expect(column('SELECT lesson_id FROM shot')).toEqual(full)
    expect([...this.shotsOf].filter((id) => !full.has(id))).toEqual([])
    // The last one that was acknowledged, or the one whose answer the kill cut off.
    if (this.place) {
      const place = db.prepare('SELECT place FROM lesson WHERE id = ?').pluck().get(made.lessonId)
      expect([this.place, this.placing]).toContain(place)
      // What was written and could not be said any more is what stands from now on.
      this.place = place as string
    }
    // Every film is there, and is what its name says.
    for (const hash of column('SELECT hash FROM media')) {
      expect(hashOf(path.join(folder, 'clips', `${hash}.mp4`)), 'a film differs from its hash').toBe(hash)
    }
    db.close()
    fs.rmSync(copy, { recursive: true })
  }

  /** Opens it, lets everything come to its end, and looks through all of it. */
  async finish(plan: Plan) {
    const after = new Library({ folder: plan.folder, printPdf: null })
    expect(after.trouble).toBeNull()
    for (const { id } of after.context.jobs.list()) {
      const job = await after.context.jobs.ended(id)
      // What was cut off three times is not begun again by itself; the coach's "try again" is.
      if (job.problem?.what.includes('3 times')) await after.ask('job.retry', { id })
      expect(await after.context.jobs.ended(id)).toMatchObject({ state: 'done', problem: null })
    }
    await after.context.jobs.idle()
    // Deletions that were cut off are finished behind the opening, backups included.
    const unfinished = () =>
      after.context.db
        .select()
        .from(t.deletion)
        .all()
        .filter(({ plan: left }) => left !== null)
    await expect.poll(unfinished, { timeout: 30_000 }).toEqual([])
    await after.context.jobs.idle()
    expect((await after.ask('library.check', {})).lines.filter((line) => !line.ok)).toEqual([])
    const { clips } = await after.ask('lesson.open', { lessonId: plan.lessonId })
    const hashes = clips.map((clip) => clip.hash)
    expect(new Set(hashes).size).toBe(hashes.length)
    expect([...this.clips].filter((hash) => !hashes.includes(hash))).toEqual([])
    // Every hand-over, lesson file and backup that was asked for is there as a whole, nothing half-written beside them.
    const written = ['', '-given', '-backups'].map((end) => `${plan.out}${end}`)
    const parts = written.flatMap(filesBelow).filter((name) => name.includes('.part'))
    expect(parts).toEqual([])
    expect(filesBelow(path.join(plan.folder, 'incoming'))).toEqual([])
    for (const { folder, zip } of await after.ask('handOver.list', { lessonId: plan.drawn.lessonId })) {
      expect(fs.existsSync(path.join(folder, 'index.html')), folder).toBe(true)
      expect(fs.existsSync(zip), zip).toBe(true)
    }
    for (const name of filesBelow(written[1]!)) {
      await after.ask('lessonFile.look', { file: path.join(written[1]!, name) })
    }
    for (const name of filesBelow(written[2]!)) {
      expect(name).toBe('Leadside.leadside-backup')
      const backup = BackupFile.open(path.join(written[2]!, name))
      expect(backup.integrity()).toBe('ok')
      expect(backup.snapshots().filter((s) => !s.isVerified)).toEqual([])
      for (const { hash } of backup.files(backup.snapshots()[0]!.id)) await backup.verify(hash)
      backup.close()
    }
    await after.close()
    this.check(plan.folder)
    // Of who was deleted, nothing is left in any byte of the library.
    const names = [...this.gone.entries()].flat()
    for (const name of filesBelow(plan.folder)) {
      const file = path.join(plan.folder, name)
      if (!fs.statSync(file).isFile()) continue
      const bytes = fs.readFileSync(file)
      if (name !== 'reserve') sums.searched += bytes.length
      const text = bytes.toString('latin1')
      // Not of another whose number begins so.
      expect(
        names.filter((word) => new RegExp(`${word}(?!\\d)`).test(text)),
        name,
      ).toEqual([])
    }
  }
}

/** Kills one library again and again. */
const killOften = async (at: string, wanted: Operation[]) => {
  const promised = new Promised()
  const lessonFiles = [...made.lessonFiles]
  for (const [n, operation] of wanted.entries()) {
    const plan = planFor(operation, at, operation === 'taking' ? lessonFiles.splice(0, 1) : [])
    promised.isOpen = false
    promised.underWay.clear()
    while (!(await run(plan, (said) => promised.hear(said), killAt(operation, n)))) {
      // It had nothing more to do before the kill came: that was none.
    }
    const isJob = /taking|hand-over|backup|giving/.test(operation)
    const was = promised.underWay.get(operation) ?? 0
    if (!promised.isOpen) count('opening')
    else count(isJob && was <= 0 ? 'edits' : operation)
    promised.check(plan.folder)
  }
  await promised.finish(planFor('none', at, []))
  sums.deletions += promised.gone.size
}

/** Kills a library on its way to another place, or while another takes its place; true if the kill came in time. */
const killChange = async (at: string, operation: 'restore' | 'move', n: number) => {
  const plan = planFor(operation, at, [])
  // On another disk it is copied; memory is one on Linux.
  const isOther = operation === 'move' && n % 4 !== 0 && fs.existsSync('/dev/shm')
  if (isOther) plan.to = path.join(fs.mkdtempSync('/dev/shm/leadside-'), 'moved')
  const promised = new Promised()
  const kill = { sinceOpened: 1.2 * made.tookMs[operation] * random() }
  let openedAt = 0
  const hear = (said: Told) => {
    promised.hear(said)
    if ('opened' in said) openedAt = performance.now()
    // It was quicker than was thought: the next kill comes sooner.
    if ('ended' in said) made.tookMs[operation] = performance.now() - openedAt
  }
  // Where the change has ended before, there was no kill; it has to be whole all the same.
  const isKilled = (await run(plan, hear, kill)) && !promised.hasEnded
  if (isKilled) count(operation)
  tidyPlace(plan.userData)
  const folder = operation === 'move' ? (chosenPlace(plan.userData) ?? plan.folder) : plan.folder
  const after = new Library({ folder, printPdf: null })
  expect(after.trouble).toBeNull()
  const students = (await after.ask('roster.list', {})).map((s) => s.id)
  const isOld = students.includes(made.sinceId)
  expect(students.length).toBe(isOld ? 2 : 1)
  const wrong = (await after.ask('library.check', {})).lines.filter((line) => !line.ok)
  // Working copies are in no backup; they are made again from the films.
  expect(wrong.filter(({ text }) => isOld || !text.startsWith('proxy missing, can be made again'))).toEqual(
    [],
  )
  await after.close()
  promised.check(folder)
  const beside = fs.readdirSync(at).filter((name) => !/\.mp4$|^profile$/.test(name))
  const others = beside.filter((name) => name !== path.basename(folder))
  if (operation === 'move') {
    expect(isOld).toBe(true)
    expect(others).toEqual([])
    if (isOther && folder !== plan.to) expect(fs.readdirSync(path.dirname(plan.to))).toEqual([])
  } else if (isOld) expect(others).toEqual([])
  else {
    // The library that was there is set aside, as it was.
    expect(others).toEqual([expect.stringMatching(/^library \(set aside /)])
    const aside = new Library({ folder: path.join(at, others[0]!), printPdf: null })
    expect((await aside.ask('roster.list', {})).map((s) => s.id)).toContain(made.sinceId)
    expect((await aside.ask('library.check', {})).lines.filter((line) => !line.ok)).toEqual([])
    await aside.close()
  }
  if (isOther) fs.rmSync(path.dirname(plan.to), { recursive: true, force: true })
  return isKilled
}

test(`${kills} kills (seed ${seed}) over all operations lose nothing acknowledged and leave nothing half-written`, async () => {
  const all = drawn()
  const changes = all.filter((name) => name === 'restore' || name === 'move')
  const others = all.filter((name) => name !== 'restore' && name !== 'move')
  const works = Array.from({ length: libraries }, (_, n) => async () => {
    const at = path.join(root, `library ${n}`)
    await killOften(
      at,
      others.filter((_name, i) => i % libraries === n),
    )
    fs.rmSync(at, { recursive: true })
  })
  works.push(
    ...changes.map((operation, n) => async () => {
      const at = path.join(root, `change ${n}`)
      for (let isKilled = false; !isKilled;) {
        isKilled = await killChange(at, operation, n)
        fs.rmSync(at, { recursive: true })
      }
    }),
  )
  const lane = async () => {
    for (let work = works.shift(); work; work = works.shift()) await work()
  }
  await Promise.all(Array.from({ length: atOnce }, lane))
  const survived = [...counts.values()].reduce((sum, n) => sum + n, 0)
  tally('kills survived', survived)
  const by = [...counts].toSorted().map(([name, n]) => `${name} ${n}`)
  console.log(
    `kills survived: ${survived} (seed ${seed}; ${by.join(', ')}), acknowledged edits ${sums.acknowledged}, deletions ${sums.deletions}, lost 0`,
  )
  expect(survived).toBeGreaterThanOrEqual(kills)
}, 1_800_000)
