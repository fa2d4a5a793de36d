import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import { stat } from 'node:fs/promises'
import path from 'node:path'
import { and, eq } from 'drizzle-orm'
import { z } from 'zod'
import type { Arriving, Clip } from '../../../shared-core/model/entities.ts'
import { answeredBefore, asTold } from '../../../shared-core/moments/answered-rate.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { deleteSetAside } from '../custody/set-aside.ts'
import { breaksOff } from '../media/breaks-off.ts'
import { copyIn, hashOf } from '../media/copy.ts'
import { fieldFacts, hasFields } from '../media/fields.ts'
import { probeClip, type ClipFacts } from '../media/probe.ts'
import { Cancelled, type RunOptions } from '../media/run-ffmpeg.ts'
import { whatIsMissing } from '../media/what-is-missing.ts'
import { videoExtensions } from '../media/video-extensions.ts'
import { findMoments, isHeardAhead, type ClipMoments } from '../moments/find-moments.ts'
import { clipsOf } from '../queries/open-lesson.ts'
import { pairLesson } from '../queries/pair-lesson.ts'
import { placeClipSwings } from '../queries/place-clip-swings.ts'
import { placeBySoundDelay, soundDelayOfCamera } from '../queries/sound-delay.ts'
import { peaksIn, peakSoundArgs, soundPeaks } from '../media/sound-peaks.ts'
import { posterArgs, stripArgs } from '../media/pictures.ts'
import { makeProxy, needsProxy, showsAtOnce } from '../media/proxy.ts'
import { orderWorkingCopy } from './working-copy.ts'
import { keepMedia, posterFrameOf } from './keep-media.ts'
import type { JobRun } from './queue.ts'
import { phrase, type Word } from '../../../shared-core/wording/phrase.ts'

const taskSchema = z.object({
  file: z.string(),
  lessonId: z.string(),
  camera: z.enum(['face-on', 'down-the-line', 'other']).default('other'),
  /** Name in `set-aside` that the clip is taken back from; it goes there once the lesson has it. */
  setAside: z.string().optional(),
  /** Name of the clip where the file's own is none that a coach knows. */
  name: z.string().optional(),
  /** Another program may still be writing it. */
  mayStillGrow: z.boolean().default(false),
})

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

/** What the system says of a file's state; null where it is not there any more. */
const stateOf = async (file: string): Promise<string | null> =>
  stat(file).then(
    ({ size, mtimeMs }) => `${size}|${mtimeMs}`,
    () => null,
  )

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

/** A film as it can be looked at before it stands in its lesson: nothing is known of it but what its file says. */
const arrivingOf = (
  film: {
    clipId: string
    viewId: string
    lessonId: string
    fileName: string
    hash: string
    byteLength: number
  },
  facts: ClipFacts,
  camera: Clip['camera'],
): Arriving => {
  const { clipId, viewId, ...file } = film
  const { codec, width, height, rotationDeg, frameCount, durationSeconds, playbackRate } = facts
  return {
    clip: {
      ...{ id: clipId, ...file, camera, codec, width, height, rotationDeg, frameCount },
      ...{ durationSeconds, playbackRate, hasVariableRate: facts.hasVariableRate },
      captureRate: facts.taggedCaptureRate ?? playbackRate,
      captureRateHow: facts.taggedCaptureRate === null ? 'assumed' : 'tag',
      ...{ recordedAt: facts.recordedAt, hasSound: facts.hasSound, hasProxy: false },
      slowPart: null,
      ...{ tiltDeg: 0, pixelsPerMeter: null, brightness: 0, contrast: 0, isMirrored: false, stillKind: null },
    },
    view: {
      ...{ id: viewId, swingId: viewId, clipId, fromFrame: 0, toFrame: frameCount - 1 },
      ...{ moments: [], cues: [], drawings: [] },
    },
  }
}

/** The working copy of an interlaced film, made first, for its pictures are the film's; null for any other. */
const fieldsOf = async (
  copy: string,
  work: string,
  stored: ClipFacts,
  run: JobRun,
  options: RunOptions,
): Promise<{ proxy: string | null; facts: ClipFacts; aheadSeconds: number }> => {
  const asFrames = { proxy: null, facts: stored, aheadSeconds: 0 }
  if (!(await hasFields(copy, stored, options))) return asFrames
  const proxy = path.join(work, 'proxy.mp4')
  const facts = fieldFacts(stored)
  try {
    const { firstSeconds } = await makeProxy(copy, proxy, facts, {
      ...options,
      onProgress: (share) => run.say(phrase('step.reading'), 0.1 + 0.05 * share),
    })
    return { proxy, facts, aheadSeconds: stored.firstSeconds - firstSeconds }
  } catch (error) {
    // A damaged film whose fields can't be counted is taken in as its frames, and said to be combed.
    if (!(error instanceof Problem && error.code === 'proxy-differs')) throw error
    return asFrames
  }
}

/**
 * Takes one clip into a lesson: copy, hash, probe, moments, proxy, thumbnails, sound peaks, then one edit of the
 * lesson. Everything is made in `incoming/` first, so a failure or a kill leaves nothing half done.
 */
export const addClip = async (context: LibraryContext, run: JobRun): Promise<Word> => {
  const task = taskSchema.parse(run.task)
  const { db, paths } = context
  const clipName = task.name ?? path.basename(task.file)
  const lesson = lessonRow(db, task.lessonId)
  const asked = context.mediaPrograms()
  // Awaited below; a file that can't be copied is told of first.
  asked.catch(() => {})
  const work = path.join(paths.incoming, run.id)
  const extension = extensionOf(task.file)
  const copy = path.join(work, `original${extension}`)
  const inLesson = (hash: string) =>
    db
      .select()
      .from(t.clip)
      .where(and(eq(t.clip.lessonId, task.lessonId), eq(t.clip.mediaHash, hash)))
      .get()
  /** A time alone may be set anew by whoever wrote it, and a file that went away was whole. */
  const hasGrown = async (): Promise<boolean> => {
    const now = task.mayStillGrow ? await stateOf(task.file) : null
    return now !== null && now !== before && (await hashOf(task.file, { signal: run.signal })) !== copied
  }
  let copied: string | null = null
  const ids = { clipId: randomUUID(), viewId: randomUUID() }
  fs.rmSync(work, { recursive: true, force: true })
  fs.mkdirSync(work, { recursive: true })
  const before = await stateOf(task.file)
  try {
    run.say(phrase('step.copying'), 0)
    const byteLength = await copyIn(task.file, copy, clipName)
    const programs = await asked
    const options: RunOptions = { programs, clipName, signal: run.signal }
    run.say(phrase('step.checking'), 0.05)
    const probing = probeClip(copy, options)
    // Awaited below; a file that can't be read to its end is told of first.
    probing.catch(() => {})
    const hash = await hashOf(copy, {
      signal: run.signal,
      onProgress: (share) => run.say(phrase('step.checking'), 0.05 + 0.05 * share),
    })
    const already = inLesson(hash)
    copied = hash
    const orderCopy = (facts: ClipFacts) =>
      orderWorkingCopy(context, { lessonId: task.lessonId, hash, clipName, facts })
    run.say(phrase('step.reading'), 0.1)
    const stored = await probing
    if (already) {
      if (needsProxy(stored)) orderCopy(stored)
      return phrase('result.already', { clip: already.fileName })
    }
    const fields = await fieldsOf(copy, work, stored, run, options)
    const { proxy, facts: read } = fields
    const isLookedAt = proxy === null && showsAtOnce(read)
    if (isLookedAt) {
      const original = paths.original(hash, extension)
      context.arriving.set(ids.clipId, { copy, original, extension, atSeconds: read.atSeconds })
      const file = { ...ids, lessonId: task.lessonId, fileName: clipName, hash, byteLength }
      run.show(arrivingOf(file, read, task.camera))
    }
    const strip = path.join(work, 'strip.jpg')
    // The picture of the impact follows with the working copy: a jump to it takes longer than this one.
    const middle = path.join(work, 'middle.jpg')
    const isMiddleEnough = isLookedAt && needsProxy(read)
    const sound = path.join(work, 'sound.pcm')
    const isHeard = proxy === null && isHeardAhead(stored)
    const listening = isHeard ? null : soundPeaks(copy, read, options)
    // Awaited below; a clip that can't be read for its moments is told of first.
    listening?.catch(() => {})
    run.say(phrase('step.impact'), 0.15)
    const moments = await findQuietly(proxy ?? copy, run, {
      ...(proxy
        ? { sound: { file: copy, aheadSeconds: fields.aheadSeconds } }
        : { known: stored, alsoOfSound: peakSoundArgs(sound, read) }),
      ffmpegPath: programs.ffmpeg.file,
      ffprobePath: programs.ffprobe.file,
      micDistanceM: lesson.micDistanceM,
      soundDelay: soundDelayOfCamera(db, task.lessonId, task.camera) ?? undefined,
      temperatureC: lesson.temperatureC ?? undefined,
      signal: run.signal,
      hasFpsMode: programs.hasFpsMode,
      also: [
        ...stripArgs(strip, read, programs),
        ...(isMiddleEnough ? posterArgs(middle, posterFrameOf(read, null), read, programs) : []),
      ],
      onProgress: (share) => run.say(phrase('step.impact'), 0.15 + 0.35 * share),
    })
    // The decoder has the last word on what is a frame.
    const isAsRead = moments.frames === read.frameCount
    const facts = isAsRead ? read : await probeClip(copy, options, 'decoding')
    if (isLookedAt && !isAsRead) {
      // Its frames are others than those that were looked at, and it will be looked at by its working copy.
      run.show(null)
      context.arriving.delete(ids.clipId)
      ids.clipId = randomUUID()
      ids.viewId = randomUUID()
    }
    const peaks = listening ? await listening : peaksIn(sound)
    const isProxyLater = isAsRead && needsProxy(facts) && showsAtOnce(facts)
    const missing = whatIsMissing(facts, moments.damagedFrames, await breaksOff(copy))
    const impact = moments.moments.find((m) => m.name === 'impact')
    const clip = {
      copy,
      work,
      clipName,
      hash,
      extension,
      byteLength,
      facts,
      posterFrame: impact?.frame ?? null,
      made:
        isAsRead && fs.existsSync(strip)
          ? { strip, peaks, poster: isProxyLater && fs.existsSync(middle) ? middle : null }
          : null,
      proxy,
      isProxyLater,
    }
    if (await hasGrown()) throw new Cancelled()
    const placed = await keepMedia(context, run, [clip], options, () =>
      context.journal.run(
        { lessonId: task.lessonId, label: phrase('edit.addFile', { file: clipName }) },
        place,
      ),
    )
    if (isProxyLater) orderCopy(facts)
    const { setAside } = task
    if (setAside !== undefined) deleteSetAside(context.folder, (e) => e.name === setAside && e.hash === hash)
    return placed

    function place(): Word {
      if (!db.select().from(t.lesson).where(eq(t.lesson.id, task.lessonId)).get()) {
        throw new Problem('no-lesson.deletedMeanwhile', { where: clipName })
      }
      const twin = inLesson(hash)
      if (twin) return phrase('result.already', { clip: twin.fileName })
      const { clipId, viewId } = ids
      db.insert(t.clip)
        .values({
          id: clipId,
          lessonId: task.lessonId,
          mediaHash: hash,
          fileName: clipName,
          captureRate: moments.captureRate,
          captureRateHow: storedHow[moments.captureRateHow],
          slowPart: moments.slowPart,
          camera: task.camera,
          strikes:
            moments.strikes.length > 0
              ? {
                  captureRate: moments.captureRate,
                  delaySeconds: moments.soundDelaySeconds,
                  strikes: moments.strikes,
                }
              : null,
        })
        .run()
      const clips = clipsOf(db, task.lessonId)
      const answer = answeredBefore(
        clips.find((c) => c.id === clipId)!,
        clips,
      )
      if (answer !== null) {
        db.update(t.clip).set(asTold(answer, facts.playbackRate)).where(eq(t.clip.id, clipId)).run()
      }
      const arrived = placeClipSwings(db, { lessonId: task.lessonId, clipId, viewId, facts, moments })
      placeBySoundDelay(db, task.lessonId, task.camera)
      pairLesson(db, task.lessonId, { arrived: new Set(arrived) })
      return missing === null ? phrase('result.added') : phrase('result.addedBut', { remarks: missing })
    }
  } catch (error) {
    // What was wrong with half a file is no matter: it comes again.
    if (!run.signal.aborted && (await hasGrown())) throw new Cancelled()
    throw error
  } finally {
    context.arriving.delete(ids.clipId)
    // Where somebody still looks at the file, some systems let it go a moment later.
    fs.rmSync(work, { recursive: true, force: true, maxRetries: 3, retryDelay: 50 })
  }
}
