// act-and-be-killed PLAN (JSON, see Plan): works on a library until it is killed; tells what it began and what was acknowledged.
import fs from 'node:fs'
import path from 'node:path'
import { LibraryHost } from '../../../electron/library/host.ts'
import { choosePlace } from '../../../electron/library/library-place.ts'
import { Library } from '../../../electron/library/library.ts'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import type { Job } from '../../../shared-core/model/entities.ts'

export const operations = [
  'edits',
  'drawings',
  'shots',
  'taking in',
  'deletion',
  'hand-over',
  'backup',
  'giving',
  'taking',
  'restore',
  'move',
] as const
export type Operation = (typeof operations)[number]

export interface Plan {
  operation: Operation | 'none'
  folder: string
  /** Its records are edited; another one is drawn on, handed over and given. */
  lessonId: string
  drawn: { studentId: string; lessonId: string; viewId: string }
  /** For taking in and for taking; new ones for each process. */
  clips: string[]
  lessonFiles: string[]
  shots: string
  out: string
  /** For restore and move. */
  backup: string
  to: string
  userData: string
}

/** What is told: an operation under way or ended, or a record that the library has promised to keep, or to have deleted. */
export type Told =
  | { opened: true }
  | { began: string }
  | { ended: string }
  | { kept: string }
  | { gone: string; name: string }
  /** About to change whether this drawing is there. */
  | { about: string }
  | { drawn: string }
  | { erased: string }
  /** About to be written. */
  | { placing: string }
  | { place: string }
  | { shotsOf: string }
  | { clipIn: string }

const shotsInFile = 3

const tell = (said: Told) => void process.send?.(said)
const plan = JSON.parse(process.argv[2]!) as Plan
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** The library goes elsewhere, or is exchanged, by the one who has it open, as the window does it. */
const change = async () => {
  const host = new LibraryHost({
    folder: plan.folder,
    printPdf: null,
    emit: () => {},
    choosePlace: (folder, movingTo) => choosePlace(folder, plan.userData, movingTo),
  })
  tell({ opened: true })
  tell({ began: plan.operation })
  if (plan.operation === 'restore') await host.ask('library.restore', { file: plan.backup }, null)
  else await host.ask('library.move', { folder: plan.to }, null)
  tell({ ended: plan.operation })
}

const work = async (library: Library) => {
  const { jobs } = library.context
  const name = (n: number) => `${process.pid} ${n}`
  const student = async (n: string) => (await library.ask('student.create', { name: n, side: 'left' })).id
  const newLesson = async (studentId: string) =>
    (await library.ask('lesson.create', { studentId, date: '2026-05-02' })).id

  const edit = async () => {
    for (let n = 0; ; n += 1) {
      tell({ kept: await student(`kept ${name(n)}`) })
      const place = `range ${name(n)}`
      tell({ placing: place })
      await library.ask('lesson.update', { id: plan.lessonId, patch: { place } })
      tell({ place })
      await pause(3)
    }
  }
  const draw = async () => {
    const { lessonId, viewId } = plan.drawn
    for (let n = 0; ; n += 1) {
      const shape = shapes.arrow.create(
        [
          { x: 10, y: 10 + (n % 100) },
          { x: 90, y: 60 },
        ],
        { tone: 'chalk', widthPx: 3, isDashed: false },
      )
      const { id } = await library.ask('drawing.add', {
        viewId,
        momentId: null,
        fromFrame: 0,
        toFrame: 3,
        shape,
      })
      tell({ drawn: id })
      tell({ about: id })
      await library.ask('edits.undo', { lessonId })
      tell({ erased: id })
      tell({ about: id })
      await library.ask('edits.redo', { lessonId })
      tell({ drawn: id })
      if (n % 2 === 0) {
        tell({ about: id })
        await library.ask('drawing.remove', { ids: [id] })
        tell({ erased: id })
      }
    }
  }
  const takeShots = async () => {
    for (let n = 0; ; n += 1) {
      const lessonId = await newLesson(plan.drawn.studentId)
      const { added } = await library.ask('shots.add', { lessonId, file: plan.shots })
      if (added === shotsInFile) tell({ shotsOf: lessonId })
    }
  }
  const remove = async () => {
    for (let n = 0; ; n += 1) {
      const typedName = `gone ${name(n)}`
      const id = await student(typedName)
      await library.ask('shots.add', { lessonId: await newLesson(id), file: plan.shots })
      await library.ask('student.deleteForGood', { id, typedName })
      tell({ gone: id, name: typedName })
    }
  }
  /** Jobs, one after the other; what an earlier process left is taken up again by itself, or tried again by the coach. */
  const mine = new Set<string>()
  const inJobs = async (
    kind: Job['kind'],
    asked: () => Promise<string | null>,
    done: (job: Job) => void = () => {},
  ) => {
    for (;;) {
      const left = jobs.list().find((job) => job.kind === kind && job.state !== 'done' && !mine.has(job.id))
      if (left) await library.ask('job.retry', { id: left.id })
      const id = left?.id ?? (await asked())
      if (id === null) return
      mine.add(id)
      tell({ began: plan.operation })
      const job = await jobs.ended(id)
      tell({ ended: plan.operation })
      if (job.state !== 'done') return
      done(job)
    }
  }
  const waiting = [...plan.clips]
  const given = [...plan.lessonFiles]
  const asked: Record<Exclude<Plan['operation'], 'restore' | 'move'>, () => Promise<unknown>> = {
    none: () => Promise.resolve(),
    edits: () => Promise.resolve(),
    drawings: draw,
    shots: takeShots,
    deletion: remove,
    'taking in': () =>
      inJobs('add-clip', async () => {
        const file = waiting.shift()
        if (file === undefined) return null
        const { jobIds } = await library.ask('clips.add', { lessonId: plan.lessonId, files: [file] })
        tell({ clipIn: file })
        return jobIds[0]!
      }),
    // Two at once, into the same folder.
    'hand-over': async () => {
      const write = async () => {
        const { lessonId } = plan.drawn
        const about = { lessonId, folder: plan.out, consentSaidBy: 'the test' }
        return (await library.ask('handOver.write', about)).jobId
      }
      await Promise.all([inJobs('hand-over', write), inJobs('hand-over', write)])
    },
    backup: () =>
      inJobs(
        'backup',
        async () => (await library.ask('backup.make', { folder: `${plan.out}-backups` })).jobId,
      ),
    giving: () =>
      inJobs('give-lesson', async () => {
        const { studentId, lessonId } = plan.drawn
        const about = { studentId, lessonIds: [lessonId], folder: `${plan.out}-given` }
        return (await library.ask('lessonFile.give', about)).jobId
      }),
    taking: () =>
      inJobs('take-lesson', async () => {
        const file = given.shift()
        if (file === undefined) return null
        return (await library.ask('lessonFile.take', { file, studentId: null })).jobId
      }),
  }
  if (plan.operation === 'none') return library.close()
  await Promise.all([edit(), asked[plan.operation as keyof typeof asked]()])
}

fs.mkdirSync(path.dirname(plan.out), { recursive: true })
if (plan.operation === 'restore' || plan.operation === 'move') await change()
else {
  const library = new Library({ folder: plan.folder, printPdf: null })
  tell({ opened: true })
  await work(library)
}
process.disconnect?.()
