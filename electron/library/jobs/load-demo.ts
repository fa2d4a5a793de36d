import fs from 'node:fs'
import path from 'node:path'
import { z } from 'zod'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import { defaultStyle } from '../../../shared-core/drawing/shape-base.ts'
import type { Swing } from '../../../shared-core/model/entities.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import { openLesson } from '../queries/open-lesson.ts'
import { demoFolder, readDemoJson } from './demo-files.ts'
import { loadDemoHistory } from './load-demo-history.ts'
import { takeInDemoClips } from './take-in-demo-clips.ts'
import type { JobRun } from './queue.ts'
import { phrase, said } from '../../../shared-core/wording/phrase.ts'

const pixel = z.tuple([z.number(), z.number()])
const place = z.object({ clip: z.string(), swing: z.number(), moment: z.string(), frame: z.number() })

/** What demo-media/lesson.json says; see demo-media/README.md. */
const storySchema = z.object({
  coach: z.string(),
  student: z.object({
    name: z.string(),
    side: z.enum(['right', 'left']),
    isMinor: z.boolean(),
    limits: z.string(),
    consent: z.object({ filming: z.boolean(), storing: z.boolean(), sharing: z.boolean(), by: z.string() }),
  }),
  date: z.string(),
  venue: z.string(),
  blocks: z.array(
    z.object({
      number: z.number(),
      name: z.string(),
      focus: z.string(),
      isBaseline: z.boolean(),
      swings: z.array(
        z.object({ swing: z.number(), clips: z.array(z.string()), shot: z.number().nullable() }),
      ),
    }),
  ),
  starred: z.array(z.number()),
  compare: z.array(
    z.object({
      before: z.object({ clip: z.string() }),
      after: z.object({ clip: z.string() }),
      moment: z.string(),
    }),
  ),
  cues: z.array(
    place.extend({
      cue: z.string(),
      kind: z.string(),
      strength: z.number(),
      note: z.string(),
      placePx: pixel,
    }),
  ),
  drawings: z.array(
    place.extend({
      shape: z.string(),
      label: z.string(),
      pointsPx: z.array(pixel).optional(),
      centrePx: pixel.optional(),
      radiusPx: z.number().optional(),
    }),
  ),
  notes: z.object({ lesson: z.string(), blocks: z.array(z.object({ block: z.number(), note: z.string() })) }),
  message: z.string(),
  practicePlan: z.array(
    z.object({ drill: z.string(), dose: z.string(), watchFor: z.string(), caution: z.string() }),
  ),
  nextFocus: z.string(),
})
export type DemoStory = z.infer<typeof storySchema>

export const readStory = (): DemoStory => storySchema.parse(readDemoJson('lesson.json'))

const cueKindOf = (cue: string, kind: string): string => {
  const special: Record<string, string> = { 'slides past': 'bracing-slides' }
  if (special[kind]) return special[kind]
  return ['tension', 'bracing'].includes(cue) ? `${cue}-${kind}` : cue
}

const asPoint = ([x, y]: readonly [number, number]) => ({ x, y })

const shapeOf = (drawing: DemoStory['drawings'][number]) => {
  const points = (drawing.pointsPx ?? []).map(asPoint)
  const make = () => {
    switch (drawing.shape) {
      case 'angle':
        return shapes.angle.create(points, { ...defaultStyle, tone: 'apricot' })
      case 'circle': {
        const centre = asPoint(drawing.centrePx!)
        return shapes.circle.create([centre, { x: centre.x + drawing.radiusPx!, y: centre.y }], {
          ...defaultStyle,
          tone: 'lagoon',
        })
      }
      case 'plumb line':
        return shapes.plumb.create(points, defaultStyle)
      case 'line':
        return shapes.line.create(points, defaultStyle)
      default:
        throw new Problem('demo.shape', { shape: drawing.shape })
    }
  }
  return { ...make(), label: drawing.label }
}

/**
 * Puts the demo lesson into the library the way a coach would: student, five earlier lessons, clips, shots, blocks,
 * notes, cues, drawings, a comparison, a plan. Every step is an ordinary call. The result is the lesson's id.
 */
export const loadDemo = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const calls = context.calls
  const folder = demoFolder()
  const story = readStory()
  run.say(phrase('step.student'), 0)
  const { id: studentId } = await calls['student.create']({
    name: story.student.name,
    side: story.student.side,
    isMinor: story.student.isMinor,
    units: 'mph-yd',
    language: 'en',
  })
  await calls['student.update']({ id: studentId, patch: { limits: story.student.limits } })
  const { by, ...consent } = story.student.consent
  await calls['student.consent']({
    id: studentId,
    consent: { ...consent, until: null, givenBy: by, isGuardian: false, coversFace: false },
  })
  await loadDemoHistory(context, run, studentId)
  const { id: lessonId } = await calls['lesson.create']({
    studentId,
    date: story.date,
    title: said('job.demo'),
  })
  await calls['lesson.update']({
    id: lessonId,
    patch: { place: story.venue, note: story.notes.lesson, nextFocus: story.nextFocus },
  })

  const clips = [...new Set(story.blocks.flatMap((b) => b.swings.flatMap((s) => s.clips)))]
  await takeInDemoClips(context, run, lessonId, clips, (ended, progress) =>
    run.say(phrase('step.takingClips', { n: ended, all: clips.length }), 0.1 + 0.75 * progress),
  )

  run.say(phrase('step.pairing'), 0.88)
  joinCameras(context, lessonId, story, calls)
  await calls['shots.add']({ lessonId, file: path.join(folder, 'shots-device.csv') })

  run.say(phrase('step.blocks'), 0.92)
  await cutBlocks(context, lessonId, story, calls)
  await annotate(context, lessonId, story, calls)
  await calls['plan.save']({
    lessonId,
    items: story.practicePlan.map((p) => ({
      drillId: null,
      name: p.drill,
      how: '',
      dose: p.dose,
      watchFor: p.watchFor,
      caution: p.caution,
      isLoading: true,
      pictureId: null,
      despite: null,
    })),
    note: '',
    outcome: '',
  })
  const draft = await calls['handOver.draft']({ lessonId })
  await calls['handOver.saveDraft']({ ...draft, message: story.message, coachName: story.coach })
  return lessonId
}

type Calls = LibraryContext['calls']

/** Swings by the file name of their first clip; a long take has several swings, in order. */
const swingsByClip = (context: LibraryContext, lessonId: string): Map<string, Swing[]> => {
  const opened = openLesson(context, lessonId)
  const names = new Map(opened.clips.map((c) => [c.id, c.fileName]))
  const byClip = new Map<string, Swing[]>()
  for (const swing of opened.swings) {
    for (const { clipId } of swing.views) {
      const name = names.get(clipId)!
      byClip.set(name, [...(byClip.get(name) ?? []), swing])
    }
  }
  return byClip
}

/** The swing that the story numbers so. */
const numbered = (
  context: LibraryContext,
  lessonId: string,
  story: DemoStory,
  number: number,
): Swing | null => {
  const told = story.blocks.flatMap((b) => b.swings)
  const told1 = told.find((s) => s.swing === number)
  const clip = told1?.clips[0]
  if (!clip) {
    const opened = openLesson(context, lessonId)
    const shot = opened.shots.find((s) => s.order === told1?.shot)
    return opened.swings.find((s) => s.shotId !== null && s.shotId === shot?.id) ?? null
  }
  const inClip = told.filter((s) => s.clips.includes(clip))
  return swingsByClip(context, lessonId).get(clip)?.[inClip.findIndex((s) => s.swing === number)] ?? null
}

/** Two cameras filmed one swing: its two clips become two views of it. */
const joinCameras = (context: LibraryContext, lessonId: string, story: DemoStory, calls: Calls) => {
  const cameras: Record<string, 'face-on' | 'down-the-line'> = {
    'face-on': 'face-on',
    'down-the-line': 'down-the-line',
  }
  for (const swing of story.blocks.flatMap((b) => b.swings).filter((s) => s.clips.length > 1)) {
    const [into, ...others] = swing.clips.map((clip) => swingsByClip(context, lessonId).get(clip)![0]!)
    for (const other of others) void calls['swing.join']({ swingId: into!.id, fromSwingId: other.id })
  }
  for (const clip of openLesson(context, lessonId).clips) {
    const truth = path.join(demoFolder(), clip.fileName.replace(/\.\w+$/, '.truth.json'))
    if (!fs.existsSync(truth)) continue
    const camera =
      cameras[z.object({ view: z.string() }).parse(JSON.parse(fs.readFileSync(truth, 'utf8'))).view]
    if (camera) void calls['clip.update']({ id: clip.id, patch: { camera } })
  }
}

const cutBlocks = async (context: LibraryContext, lessonId: string, story: DemoStory, calls: Calls) => {
  for (const block of story.blocks) {
    const first = block.swings.map((s) => numbered(context, lessonId, story, s.swing)).find((s) => s !== null)
    if (!first) continue
    const id =
      block.number === 1
        ? first.blockId
        : (await calls['block.cut']({ lessonId, beforeSwingId: first.id })).id
    const note = story.notes.blocks.find((n) => n.block === block.number)?.note ?? ''
    await calls['block.update']({ id, patch: { name: block.name, focus: block.focus, note } })
  }
}

const annotate = async (context: LibraryContext, lessonId: string, story: DemoStory, calls: Calls) => {
  const viewOf = (clip: string) => {
    const { clips, swings } = openLesson(context, lessonId)
    const id = clips.find((c) => c.fileName === clip)?.id
    return swings.flatMap((s) => s.views).find((v) => v.clipId === id) ?? null
  }
  /** The moment as found; placed by the coach where it was not found. */
  const momentOn = async (clip: string, name: string, frame: number) => {
    const view = viewOf(clip)
    if (!view) {
      throw new Problem('demo.clip', { where: clip })
    }
    const there = view.moments.find((m) => m.name === name)
    const id = there?.id ?? (await calls['moment.place']({ viewId: view.id, name, frame })).id
    if (there) await calls['moment.confirm']({ id })
    return { viewId: view.id, momentId: id, frame: there?.frame ?? frame }
  }
  for (const cue of story.cues) {
    const { momentId } = await momentOn(cue.clip, cue.moment, cue.frame)
    await calls['cue.add']({
      momentId,
      kind: cueKindOf(cue.cue, cue.kind),
      strength: cue.strength,
      x: cue.placePx[0],
      y: cue.placePx[1],
      note: cue.note,
    })
  }
  for (const drawing of story.drawings) {
    const { viewId, momentId, frame } = await momentOn(drawing.clip, drawing.moment, drawing.frame)
    await calls['drawing.add']({
      viewId,
      momentId,
      fromFrame: frame,
      toFrame: frame,
      shape: shapeOf(drawing),
      tie: null,
    })
  }
  const starred = story.starred
    .map((n) => numbered(context, lessonId, story, n)?.id)
    .filter((id) => id !== undefined)
  if (starred.length) await calls['swing.update']({ ids: starred, patch: { isStarred: true } })
  for (const pair of story.compare) {
    const first = viewOf(pair.before.clip)
    const second = viewOf(pair.after.clip)
    if (!first || !second) continue
    await calls['comparison.save']({
      id: null,
      lessonId,
      name: said('name.beforeAndAfter'),
      firstViewId: first.id,
      secondViewId: second.id,
      lockedOn: pair.moment,
      arrangement: 'beside',
      opacity: 0.5,
      isStretched: false,
      mirrorSecond: false,
    })
  }
}
