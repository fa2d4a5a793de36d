import { execFileSync } from 'node:child_process'
import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { clipSource } from '../../electron/library/hand-over/content.ts'
import { sizeWithin } from '../../electron/library/hand-over/clip-sizes.ts'
import { Library } from '../../electron/library/library.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { phoneOutput } from '../../electron/library/media/phone-output.ts'
import { openLesson } from '../../electron/library/queries/open-lesson.ts'
import { overlayOf } from '../../electron/library/scene/still.ts'
import { shapes } from '../../shared-core/drawing/shapes.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { slowClipPlan } from '../../shared-core/hand-over/slow-clip-plan.ts'
import { fillLargeLibrary } from './support/large-library.ts'
import { loadNote, type Measurement } from './support/measurement.ts'

const clips = 8
const heldMoments = ['top', 'impact']

/** Writing a package of eight clips against the ffmpeg command lines that make the same MP4s, one after another. */
export async function bench(): Promise<Measurement[]> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-bench-hand-over-'))
  try {
    const { ffmpeg, ffprobe } = await findMediaPrograms(null)
    const { newestLessonId: lessonId } = await fillLargeLibrary(path.join(folder, 'library'), ffmpeg.file, {
      lessons: 1,
      students: 1,
      swingsOfNewest: clips,
      swingsOfOthers: 0,
    })
    const steps: { name: string; atMs: number }[] = []
    const library = new Library({
      folder: path.join(folder, 'library'),
      emit: (name, body) => {
        if (name !== 'job.changed') return
        const { step } = body as { step: string }
        if (step && steps.at(-1)?.name !== step) steps.push({ name: step, atMs: performance.now() })
      },
    })
    try {
      await choose(library, lessonId)
      const bare = bareCommands(library, lessonId, folder)

      const begin = performance.now()
      for (const args of bare) execFileSync(ffmpeg.file, args)
      const bareMs = performance.now() - begin

      const start = performance.now()
      const { jobId } = await library.ask('handOver.write', {
        lessonId,
        folder: path.join(folder, 'out'),
        consentSaidBy: 'Student 001',
      })
      const job = await library.context.jobs.ended(jobId)
      const ms = performance.now() - start
      if (job.state !== 'done') throw new Error(`no package was written: ${job.problem?.what ?? job.state}`)
      const rest = steps.findIndex((step) => step.name.startsWith('writing the page'))
      const restMs = start + ms - steps[rest]!.atMs
      const printing = library.context.printPdf ? 'with lesson.pdf' : 'without lesson.pdf: no browser'
      return [
        {
          name: `write a package of ${clips} clips (1080p, 240 frames/s, 2.5 s)`,
          value: ms / 1000,
          unit: 's',
          note: `page, print and zip ${(restMs / 1000).toFixed(1)} s, ${printing}; ${loadNote()}`,
        },
        {
          name: 'bare ffmpeg: the same MP4s',
          value: bareMs / 1000,
          unit: 's',
          note: framesAlike(ffprobe.file, folder, job.result!),
        },
        { name: 'writing the package against bare ffmpeg', value: ms / bareMs, unit: '×', aim: '≤ 1.3' },
      ]
    } finally {
      await library.close()
    }
  } finally {
    fs.rmSync(folder, { recursive: true, force: true })
  }
}

const box = shapes.box.create(
  [
    { x: 700, y: 200 },
    { x: 1200, y: 900 },
  ],
  { tone: 'apricot', widthPx: 8, isDashed: false },
)

/** The clip that was really taken in has found moments of its own; all others have the same ones. */
const chosenViews = (lesson: OpenLesson) =>
  lesson.swings
    .flatMap((swing) => swing.views)
    .filter((view) => heldMoments.every((name) => view.moments.some((moment) => moment.name === name)))
    .slice(-clips)

/** Eight swings into the draft, two held moments each, with a drawing. */
const choose = async (library: Library, lessonId: string) => {
  const lesson = await library.ask('lesson.open', { lessonId })
  const views = chosenViews(lesson)
  const swings = []
  for (const view of views) {
    const moments = view.moments.filter((moment) => heldMoments.includes(moment.name))
    for (const { id: momentId, frame } of moments) {
      await library.ask('drawing.add', {
        viewId: view.id,
        momentId,
        fromFrame: frame,
        toFrame: frame,
        shape: box,
      })
    }
    swings.push({ viewId: view.id, caption: '', momentIds: moments.map((m) => m.id), withClip: true })
  }
  const draft = await library.ask('handOver.draft', { lessonId })
  await library.ask('handOver.saveDraft', { ...draft, swings })
}

/** The command lines as somebody would write them who knows the frames to hold and has the drawings as pictures. */
const bareCommands = (library: Library, lessonId: string, folder: string): string[][] => {
  const { context } = library
  const lesson = openLesson(context, lessonId)
  const views = chosenViews(lesson)
  return views.map((view, i) => {
    const moments = view.moments.filter((moment) => heldMoments.includes(moment.name))
    const source = clipSource(context, lesson, view.id, {
      momentIds: moments.map((m) => m.id),
      slowBy: 8,
      holdSeconds: 2,
    })
    const size = sizeWithin(source, 1080)
    const plan = slowClipPlan(source.time, size)
    const pictures = plan.holds.map(({ frame }) => {
      const file = path.join(folder, `bare-${randomUUID()}.png`)
      const scene = { drawings: source.drawings, cues: source.cues, frame }
      const caption = source.captions.get(frame)
      fs.writeFileSync(
        file,
        overlayOf(
          source,
          { ...scene, options: { ...source.sceneOptions, ...(caption && { caption }) } },
          size,
        ).png(),
      )
      return file
    })
    const { fromFrame, toFrame } = source.time
    // Every frame is one of the output's: 240 frames a second, eight times slower, at 30. The rate is the output's own
    // option: an old ffmpeg's fps filter loses the last frame.
    const held = plan.holds.map((hold) => `loop=${hold.lasts - 1}:1:${hold.atOutputFrame}`)
    const graph = [
      `[0:v]trim=start_frame=${fromFrame}:end_frame=${toFrame + 1},setpts=N/${plan.rate}/TB,${held.join(',')},setpts=N/${plan.rate}/TB[v0]`,
      ...plan.holds.map(
        (hold, k) =>
          `[v${k}][${k + 1}:v]overlay=enable='between(n,${hold.atOutputFrame},${hold.atOutputFrame + hold.lasts - 1})'[v${k + 1}]`,
      ),
    ]
    return ['-v', 'error', '-nostdin', '-y', '-i', source.file]
      .concat(pictures.flatMap((file) => ['-i', file]))
      .concat(['-filter_complex', graph.join(';'), '-map', `[v${plan.holds.length}]`])
      .concat([...phoneOutput(plan.rate), path.join(folder, `bare-${i}.mp4`)])
  })
}

/** Both ways must have made the same: as many frames in every clip, or the ratio says nothing. */
const framesAlike = (ffprobe: string, folder: string, made: string): string => {
  const frames = (file: string) =>
    execFileSync(
      ffprobe,
      ['-v', 'error', '-count_packets', '-show_entries', 'stream=nb_read_packets', '-of', 'csv=p=0', file],
      { encoding: 'utf8' },
    ).trim()
  const files = (where: string) =>
    fs
      .readdirSync(where)
      .filter((name) => name.endsWith('.mp4'))
      .map((name) => path.join(where, name))
  const [bare, ours] = [files(folder), files(path.join(made, 'clips'))].map((list) => list.map(frames))
  if (bare!.length !== clips || JSON.stringify(bare) !== JSON.stringify(ours)) {
    throw new Error(`the clips are not the same: ${bare!.join(' ')} and ${ours!.join(' ')} frames`)
  }
  return `${bare![0]!} frames in each`
}

if (import.meta.main) console.table(await bench())
