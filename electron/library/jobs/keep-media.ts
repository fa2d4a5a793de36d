import fs from 'node:fs'
import { rename } from 'node:fs/promises'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { makePoster, makeStrip } from '../media/pictures.ts'
import type { ClipFacts } from '../media/probe.ts'
import { makeProxy, needsProxy } from '../media/proxy.ts'
import { Cancelled, type RunOptions } from '../media/run-ffmpeg.ts'
import { peakBinSeconds, soundPeaks } from '../media/sound-peaks.ts'
import { claimMedia, releaseClaim } from './claim-media.ts'
import type { JobRun } from './queue.ts'

/** A clip as it lies in `incoming/`, hashed and read. */
export interface NewMedia {
  copy: string
  /** Folder in which its parts are made. */
  work: string
  clipName: string
  hash: string
  extension: string
  byteLength: number
  facts: ClipFacts
  /** Frame of the poster; null for the middle. */
  posterFrame: number | null
  /** Parts that were made while the clip was read for its moments. */
  made?: { strip: string; peaks: Buffer | null } | null
  /** The original is looked at until the working copy follows. */
  isProxyLater?: boolean
}

/**
 * Makes the parts of a clip and keeps it in the library, once whoever else takes the same clip in has done so; then runs
 * `place`, in one transaction with the clip's record. What fails takes away only what it made itself.
 */
export const keepMedia = async <T>(
  context: LibraryContext,
  run: JobRun,
  media: NewMedia,
  options: RunOptions,
  place: () => T,
): Promise<T> => {
  const { db, paths, journal } = context
  const { hash, extension, facts } = media
  const finished: string[] = []
  const store = async (from: string, to: string) => {
    // The same bytes may lie there already, left by a kill, and be somebody's only copy.
    if (fs.existsSync(to) && fs.statSync(to).size === fs.statSync(from).size) return
    await rename(from, to)
    finished.push(to)
  }
  try {
    if (!(await claimMedia(context, hash, run))) {
      return journal.alone(() => {
        if (!db.select({ hash: t.media.hash }).from(t.media).where(eq(t.media.hash, hash)).get()) {
          throw new Problem('gone', 'the same clip was deleted while this one was taken in', {
            where: media.clipName,
            toDo: 'Try it again',
          })
        }
        return place()
      })
    }
    const made = await makeParts(media, run, options)
    await store(media.copy, paths.original(hash, extension))
    if (made.proxy) await store(made.proxy, paths.proxy(hash))
    await store(made.poster, paths.poster(hash))
    await store(made.strip, paths.strip(hash))
    if (run.signal.aborted) throw new Cancelled()
    const placed = journal.alone(() => {
      db.insert(t.media)
        .values({
          hash,
          extension,
          byteLength: media.byteLength,
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
      releaseClaim(context, hash, run.id)
      return place()
    })
    finished.length = 0
    return placed
  } catch (error) {
    for (const file of finished) fs.rmSync(file, { force: true })
    try {
      releaseClaim(context, hash, run.id)
    } catch {
      // The database can't be written to; the claim ends with the job. What went wrong is told below.
    }
    throw error
  }
}

/** Proxy, poster, thumbnails and sound peaks of a clip, written into its work folder. */
export const makeParts = async (
  media: Pick<NewMedia, 'copy' | 'work' | 'facts' | 'posterFrame' | 'made' | 'isProxyLater'>,
  run: Pick<JobRun, 'say'>,
  options: RunOptions,
) => {
  const { copy, work, facts, posterFrame, made, isProxyLater } = media
  const proxy = needsProxy(facts) && !isProxyLater ? path.join(work, 'proxy.mp4') : null
  if (proxy) {
    run.say('preparing', 0.5)
    await makeProxy(copy, proxy, facts, {
      ...options,
      onProgress: (share) => run.say('preparing', 0.5 + 0.35 * share),
    })
  }
  run.say('thumbnails', 0.85)
  const source = proxy ?? copy
  const strip = made?.strip ?? path.join(work, 'strip.jpg')
  const poster = path.join(work, 'poster.jpg')
  if (!made) await makeStrip(source, strip, facts, options)
  const middle = Math.floor(facts.frameCount / 2)
  await makePoster(source, poster, Math.min(facts.frameCount - 1, posterFrame ?? middle), facts, options)
  run.say('sound', 0.95)
  return { proxy, strip, poster, peaks: made ? made.peaks : await soundPeaks(copy, facts, options) }
}
