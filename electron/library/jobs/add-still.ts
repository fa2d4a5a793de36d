import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { and, eq } from 'drizzle-orm'
import { z } from 'zod'
import { stillKindOf } from '../../../shared-core/model/still.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'
import { deleteSetAside } from '../custody/set-aside.ts'
import { copyIn, hashOf } from '../media/copy.ts'
import { makeStillParts } from '../media/still-picture.ts'
import { runFfmpeg, type RunOptions } from '../media/run-ffmpeg.ts'
import { firstBlock, insertSwing, renumber } from '../queries/swing-order.ts'
import { framePicture } from '../scene/frame-picture.ts'
import { keepMedia } from './keep-media.ts'
import type { JobRun } from './queue.ts'
import { phrase, said, type Word } from '../../../shared-core/wording/phrase.ts'
import { picturesFile } from '../queries/pictures-file.ts'

export const frameTaskSchema = z.object({ viewId: z.string(), frame: z.number().int() })

const stillTaskSchema = z.object({
  lessonId: z.string(),
  file: z.string().optional(),
  setAside: z.string().optional(),
  name: z.string().optional(),
  stillKind: z.string().optional(),
  ofFrame: frameTaskSchema.optional(),
})

/** A frame of a film as a PNG, upright, as large as filmed. */
const writeFrame = async (
  context: LibraryContext,
  { viewId, frame }: z.infer<typeof frameTaskSchema>,
  target: string,
  options: RunOptions,
) => {
  const { db, paths } = context
  const row = db
    .select()
    .from(t.view)
    .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
    .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
    .where(eq(t.view.id, viewId))
    .get()
  if (!row) throw new Problem('gone.swingOfFrame')
  const { media } = row
  const facts = { width: media.width, height: media.height, atSeconds: asFloat64(media.timestamps) }
  const { rgba } = await framePicture(picturesFile(paths, media), frame, facts, options)
  const raw = `${target}.rgba`
  fs.writeFileSync(raw, rgba)
  await runFfmpeg(
    'doing.keepingFrame',
    (command) =>
      command
        .input(raw)
        .inputOptions(['-f', 'rawvideo', '-pix_fmt', 'rgba', '-s', `${media.width}x${media.height}`])
        .outputOptions(['-frames:v', '1', '-pix_fmt', 'rgb24', '-c:v', 'png', '-f', 'image2'])
        .output(target),
    options,
  )
  fs.rmSync(raw)
}

/** Takes a still picture, or a frame of a film as one, into a lesson, where it stands alone until it is put on a swing. */
export const addStill = async (context: LibraryContext, run: JobRun): Promise<Word> => {
  const task = stillTaskSchema.parse(run.task)
  const { db, paths } = context
  const { lessonId } = task
  const clipName = task.name ?? path.basename(task.file ?? said('name.picture'))
  const options: RunOptions = { programs: await context.mediaPrograms(), clipName, signal: run.signal }
  const work = path.join(paths.incoming, run.id)
  const extension = task.ofFrame ? '.png' : path.extname(task.file!).toLowerCase()
  const copy = path.join(work, `original${extension}`)
  fs.rmSync(work, { recursive: true, force: true })
  fs.mkdirSync(work, { recursive: true })
  try {
    run.say(phrase('step.copying'), 0)
    if (task.ofFrame) await writeFrame(context, task.ofFrame, copy, options)
    else await copyIn(task.file!, copy, clipName)
    const byteLength = fs.statSync(copy).size
    const hash = await hashOf(copy, { signal: run.signal })
    const inLesson = () =>
      db
        .select()
        .from(t.clip)
        .where(and(eq(t.clip.lessonId, lessonId), eq(t.clip.mediaHash, hash)))
        .get()
    const already = inLesson()
    if (already) return phrase('result.already', { clip: already.fileName })
    run.say(phrase('step.preparing'), 0.3)
    const { facts, parts, hasKnownColours } = await makeStillParts(copy, work, options)
    const media = { copy, work, clipName, hash, extension, byteLength, facts, posterFrame: 0, parts }
    const placed = await keepMedia(context, run, [media], options, () =>
      context.journal.run({ lessonId, label: phrase('edit.addFile', { file: clipName }) }, () => {
        if (!db.select().from(t.lesson).where(eq(t.lesson.id, lessonId)).get()) {
          throw new Problem('no-lesson.deletedBeforePicture', { where: clipName })
        }
        const twin = inLesson()
        if (twin) return phrase('result.already', { clip: twin.fileName })
        const clipId = randomUUID()
        const stillKind = task.stillKind ?? (task.ofFrame ? 'setup' : stillKindOf(clipName))
        db.insert(t.clip)
          .values({
            ...{ id: clipId, lessonId, mediaHash: hash, fileName: clipName, stillKind },
            ...{ captureRate: 25, captureRateHow: 'assumed', camera: 'other' },
          })
          .run()
        const blockId = firstBlock(db, lessonId)
        const swingId = insertSwing(db, { lessonId, blockId, position: 1e6, shotId: null })
        const viewId = randomUUID()
        db.insert(t.view).values({ id: viewId, swingId, clipId, fromFrame: 0, toFrame: 0 }).run()
        // What cues and drawings of a picture hang on.
        db.insert(t.moment)
          .values({
            ...{ id: randomUUID(), viewId, name: stillKind, frame: 0 },
            ...{ how: 'coach', confidence: 1, isConfirmed: true },
          })
          .run()
        renumber(db, lessonId)
        return hasKnownColours ? phrase('result.added') : phrase('result.addedColours')
      }),
    )
    const { setAside } = task
    if (setAside !== undefined) deleteSetAside(context.folder, (e) => e.name === setAside && e.hash === hash)
    return placed
  } finally {
    fs.rmSync(work, { recursive: true, force: true })
  }
}
