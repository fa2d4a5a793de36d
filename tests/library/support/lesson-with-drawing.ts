import { Library, type LibraryOptions } from '../../../electron/library/library.ts'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import { makeClip } from './make-clip.ts'
import { takeIn, temporaryFolder } from './temporary-library.ts'
import path from 'node:path'
import { agreed } from './agreed.ts'

/** A library with two clips as two starred swings, impact marked and drawn on, a comparison, and a message. */
export const lessonWithDrawing = async (
  options: Partial<LibraryOptions> & { hasConsent?: boolean; seconds?: number } = {},
) => {
  const { hasConsent = true, seconds = 1, ...rest } = options
  const folder = temporaryFolder()
  const library = new Library({ folder: path.join(folder, 'library'), printPdf: null, ...rest })
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  if (hasConsent) {
    await library.ask('student.consent', {
      id: studentId,
      consent: agreed('Robin Testing'),
    })
  }
  const { id: lessonId } = await library.ask('lesson.create', {
    studentId,
    date: '2026-05-01',
    title: 'A lesson',
  })
  const files = ['first.mp4', 'second.mp4'].map((name) => path.join(folder, name))
  makeClip(files[0]!, { seconds, rate: 60 })
  makeClip(files[1]!, { seconds, rate: 60, extra: ['-vf', 'hflip'] })
  const jobs = await takeIn(library, lessonId, files)
  if (jobs.some((job) => job.state !== 'done')) throw new Error(JSON.stringify(jobs))
  const { swings } = await library.ask('lesson.open', { lessonId })
  for (const swing of swings) {
    const view = swing.views[0]!
    const { id: momentId } = await library.ask('moment.place', { viewId: view.id, name: 'impact', frame: 30 })
    await library.ask('drawing.add', {
      viewId: view.id,
      momentId,
      fromFrame: 30,
      toFrame: 30,
      shape: {
        ...shapes.circle.create(
          [
            { x: 160, y: 90 },
            { x: 200, y: 90 },
          ],
          { tone: 'apricot', widthPx: 4, isDashed: false },
        ),
        label: 'Head',
      },
    })
  }
  await library.ask('swing.update', { ids: swings.map((s) => s.id), patch: { isStarred: true } })
  await library.ask('comparison.save', {
    id: null,
    lessonId,
    name: 'Then and now',
    firstViewId: swings[0]!.views[0]!.id,
    secondViewId: swings[1]!.views[0]!.id,
    lockedOn: 'impact',
    arrangement: 'beside',
    opacity: 0.5,
    isStretched: false,
    mirrorSecond: true,
  })
  const draft = await library.ask('handOver.draft', { lessonId })
  await library.ask('handOver.saveDraft', { ...draft, message: 'Well struck, <Robin> & co.' })
  return { library, folder, lessonId, studentId, views: swings.map((s) => s.views[0]!.id) }
}

export type LessonWithDrawing = Awaited<ReturnType<typeof lessonWithDrawing>>

/** Writes the package and waits. */
export const writePackage = async (
  { library, lessonId }: Pick<LessonWithDrawing, 'library' | 'lessonId'>,
  folder: string,
  consentSaidBy: string | null = null,
) => {
  const { jobId } = await library.ask('handOver.write', { lessonId, folder, consentSaidBy })
  return library.context.jobs.ended(jobId)
}
