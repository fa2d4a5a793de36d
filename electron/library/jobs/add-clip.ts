import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import { rename } from 'node:fs/promises'
import path from 'node:path'
import { and, eq } from 'drizzle-orm'
import { z } from 'zod'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { copyIn, hashOf } from '../media/copy.ts'
import { makePoster, makeStrip } from '../media/pictures.ts'
import { probeClip, type ClipFacts } from '../media/probe.ts'
import { makeProxy, needsProxy } from '../media/proxy.ts'
import { Cancelled, type RunOptions } from '../media/run-ffmpeg.ts'
import { peakBinSeconds, soundPeaks } from '../media/sound-peaks.ts'
import { findMoments, type ClipMoments } from '../moments/find-moments.ts'
import { pairLesson } from '../queries/pair-lesson.ts'
import { placeClipSwings } from '../queries/place-clip-swings.ts'
import type { JobRun } from './queue.ts'

const taskSchema = z.object({
  file: z.string(),
  lessonId: z.string(),
  camera: z.enum(['face-on', 'down-the-line', 'other']).default('other'),
})

const videoExtensions = new Set([
  '.mp4',
  '.mov',
  '.m4v',
  '.mkv',
  '.webm',
  '.avi',
  '.mts',
  '.m2ts',
  '.3gp',
  '.hevc',
  '.ts',
  '.mpg',
  '.mpeg',
  '.wmv',
])

/** Extension kept with the stored copy: the coach's, if it is a plain one. */
const extensionOf = (file: string): string => {
  const extension = path.extname(file).toLowerCase()
  return videoExtensions.has(extension) ? extension : '.video'
}

const storedHow = {
  told: 'coach',
  tag: 'tag',
  container: 'file',
  motion: 'motion',
  assumed: 'assumed',
} as const

const findQuietly = async (
  file: string,
  run: JobRun,
  options: Parameters<typeof findMoments>[1],
): Promise<ClipMoments> => {
  try {
    return await findMoments(file, options)
  } catch (error) {
    if (run.signal.aborted) throw new Cancelled()
    throw error
  }
}

/**
 * Takes one clip into a lesson: copy, hash, probe, moments, proxy, thumbnails, sound peaks, then one edit of the
 * lesson. Everything is made in `incoming/` first, so a failure or a kill leaves nothing half done.
 */
export const addClip = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const task = taskSchema.parse(run.task)
  const { db, paths } = context
  const clipName = path.basename(task.file)
  const lesson = lessonRow(db, task.lessonId)
  const programs = await context.mediaPrograms()
  const options: RunOptions = { programs, clipName, signal: run.signal }
  const work = path.join(paths.incoming, run.id)
  const extension = extensionOf(task.file)
  const copy = path.join(work, `original${extension}`)
  const finished: string[] = []
  fs.rmSync(work, { recursive: true, force: true })
  fs.mkdirSync(work, { recursive: true })
  try {
    run.say('copying', 0)
    const byteLength = await copyIn(task.file, copy, clipName)
    run.say('checking', 0.05)
    const hash = await hashOf(copy, {
      signal: run.signal,
      onProgress: (share) => run.say('checking', 0.05 + 0.05 * share),
    })
    const already = db
      .select()
      .from(t.clip)
      .where(and(eq(t.clip.lessonId, task.lessonId), eq(t.clip.mediaHash, hash)))
      .get()
    if (already) return `already in this lesson as ${already.fileName}`

    run.say('reading', 0.1)
    const read = await probeClip(copy, options)
    run.say('finding the strike', 0.15)
    const moments = await findQuietly(copy, run, {
      ffmpegPath: programs.ffmpeg.file,
      ffprobePath: programs.ffprobe.file,
      micDistanceM: lesson.micDistanceM,
      temperatureC: lesson.temperatureC ?? undefined,
      signal: run.signal,
      onProgress: (share) => run.say('finding the strike', 0.15 + 0.35 * share),
    })
    // The decoder has the last word on what is a frame.
    const facts = moments.frames === read.frameCount ? read : await probeClip(copy, options, 'decoding')
    const known = db.select().from(t.media).where(eq(t.media.hash, hash)).get()
    if (!known) {
      const made = await makeParts(copy, work, facts, moments, run, options)
      const store = (from: string, to: string) => rename(from, to).then(() => finished.push(to))
      await store(copy, paths.original(hash, extension))
      if (made.proxy) await store(made.proxy, paths.proxy(hash))
      await store(made.poster, paths.poster(hash))
      await store(made.strip, paths.strip(hash))
      if (run.signal.aborted) throw new Cancelled()
      context.journal.run({ lessonId: task.lessonId, label: `add ${clipName}` }, () => {
        db.insert(t.media)
          .values({
            hash,
            extension,
            byteLength,
            codec: facts.codec,
            width: facts.width,
            height: facts.height,
            rotationDeg: facts.rotationDeg,
            frameCount: facts.frameCount,
            durationSeconds: facts.durationSeconds,
            playbackRate: facts.playbackRate,
            hasVariableRate: facts.hasVariableRate,
            recordedAt: facts.recordedAt,
            cameraTag: facts.cameraTag,
            hasSound: made.peaks !== null,
            hasProxy: made.proxy !== null,
            timestamps: Buffer.from(
              facts.atSeconds.buffer,
              facts.atSeconds.byteOffset,
              facts.atSeconds.byteLength,
            ),
            peaks: made.peaks,
            peakBinSeconds,
            addedAt: context.now().toISOString(),
          })
          .run()
        place()
      })
    } else {
      if (run.signal.aborted) throw new Cancelled()
      context.journal.run({ lessonId: task.lessonId, label: `add ${clipName}` }, place)
    }
    finished.length = 0
    return 'added'

    function place() {
      if (!db.select().from(t.lesson).where(eq(t.lesson.id, task.lessonId)).get()) {
        throw new Problem('no-lesson', 'the lesson was deleted while the clip was taken in', {
          where: clipName,
        })
      }
      const clipId = randomUUID()
      db.insert(t.clip)
        .values({
          id: clipId,
          lessonId: task.lessonId,
          mediaHash: hash,
          fileName: clipName,
          captureRate: moments.captureRate,
          captureRateHow: storedHow[moments.captureRateHow],
          camera: task.camera,
        })
        .run()
      const arrived = placeClipSwings(db, { lessonId: task.lessonId, clipId, facts, moments })
      pairLesson(db, task.lessonId, { arrived: new Set(arrived) })
    }
  } finally {
    for (const file of finished) fs.rmSync(file, { force: true })
    fs.rmSync(work, { recursive: true, force: true })
  }
}

/** Proxy, poster, thumbnails and sound peaks of a clip, written into `work`. */
const makeParts = async (
  copy: string,
  work: string,
  facts: ClipFacts,
  moments: ClipMoments,
  run: JobRun,
  options: RunOptions,
) => {
  const proxy = needsProxy(facts) ? path.join(work, 'proxy.mp4') : null
  if (proxy) {
    run.say('preparing', 0.5)
    await makeProxy(copy, proxy, facts, {
      ...options,
      onProgress: (share) => run.say('preparing', 0.5 + 0.35 * share),
    })
  }
  run.say('thumbnails', 0.85)
  const source = proxy ?? copy
  const strip = path.join(work, 'strip.jpg')
  const poster = path.join(work, 'poster.jpg')
  const impact = moments.moments.find((m) => m.name === 'impact')
  await makeStrip(source, strip, facts, options)
  await makePoster(
    source,
    poster,
    Math.min(facts.frameCount - 1, impact?.frame ?? Math.floor(facts.frameCount / 2)),
    facts,
    options,
  )
  run.say('sound', 0.95)
  return { proxy, strip, poster, peaks: await soundPeaks(copy, facts, options) }
}
