import path from 'node:path'
import { z } from 'zod'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import { openLesson } from '../queries/open-lesson.ts'
import { demoFolder, readDemoJson } from './demo-files.ts'
import type { JobRun } from './queue.ts'
import { takeInDemoClips } from './take-in-demo-clips.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

/** What demo-media/earlier/lessons.json says; see demo-media/README.md. */
const historySchema = z.object({
  lessons: z.array(
    z.object({
      date: z.string(),
      title: z.string(),
      venue: z.string(),
      note: z.string(),
      nextFocus: z.string(),
      shots: z.string(),
      clips: z.array(
        z.object({ file: z.string(), camera: z.enum(['face-on', 'down-the-line']), shot: z.number() }),
      ),
      blocks: z.array(z.object({ name: z.string(), focus: z.string(), note: z.string() })),
      plan: z.array(
        z.object({
          drill: z.string(),
          how: z.string(),
          dose: z.string(),
          watchFor: z.string(),
          caution: z.string(),
          isLoading: z.boolean(),
        }),
      ),
      outcome: z.string(),
    }),
  ),
})
type EarlierLesson = z.infer<typeof historySchema>['lessons'][number]

/**
 * The demo student's lessons before the demo lesson: shot records with their blocks, plans and how they went, and two
 * clips in the last of them. How the last plan went is left open: the demo lesson asks for it.
 */
export const loadDemoHistory = async (
  context: LibraryContext,
  run: JobRun,
  studentId: string,
): Promise<void> => {
  const { lessons } = historySchema.parse(readDemoJson('earlier/lessons.json'))
  for (const [index, lesson] of lessons.entries()) {
    run.say(
      phrase('step.earlierLessons', { n: index + 1, all: lessons.length }),
      (0.1 * index) / lessons.length,
    )
    await loadEarlier(context, run, studentId, lesson, { isLast: index === lessons.length - 1 })
  }
}

const loadEarlier = async (
  context: LibraryContext,
  run: JobRun,
  studentId: string,
  lesson: EarlierLesson,
  { isLast }: { isLast: boolean },
) => {
  const { calls } = context
  const { id: lessonId } = await calls['lesson.create']({
    studentId,
    date: lesson.date,
    title: lesson.title,
  })
  await calls['lesson.update']({
    id: lessonId,
    patch: { place: lesson.venue, note: lesson.note, nextFocus: lesson.nextFocus },
  })
  const names = lesson.clips.map((clip) => clip.file)
  if (names.length > 0) await takeInDemoClips(context, run, lessonId, names, () => {})
  await calls['shots.add']({ lessonId, file: path.join(demoFolder(), lesson.shots) })
  await describeBlocks(context, lessonId, lesson)
  await describeClips(context, lessonId, lesson)
  await calls['plan.save']({
    lessonId,
    items: lesson.plan.map(({ drill, ...item }) => ({
      ...item,
      name: drill,
      drillId: null,
      pictureId: null,
      despite: null,
    })),
    note: '',
    outcome: isLast ? '' : lesson.outcome,
  })
}

/** The file's own column has cut the blocks; here they get what was said to them. */
const describeBlocks = async (context: LibraryContext, lessonId: string, lesson: EarlierLesson) => {
  const { blocks } = openLesson(context, lessonId)
  for (const { name, focus, note } of lesson.blocks) {
    const block = blocks.find((b) => b.name === name)
    if (!block) throw new Problem('demo.earlierBlock', { where: name })
    await context.calls['block.update']({ id: block.id, patch: { focus, note } })
  }
}

const describeClips = async (context: LibraryContext, lessonId: string, lesson: EarlierLesson) => {
  for (const { file, camera } of lesson.clips) {
    const { clips, swings } = openLesson(context, lessonId)
    const clip = clips.find((c) => c.fileName === path.basename(file))
    if (!clip) throw new Problem('demo.earlierClip', { where: file })
    await context.calls['clip.update']({ id: clip.id, patch: { camera } })
    const swing = swings.find((s) => s.views.some((v) => v.clipId === clip.id))
    if (swing) await context.calls['swing.update']({ ids: [swing.id], patch: { isStarred: true } })
  }
}
