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
import { phrase } from '../../../shared-core/wording/phrase.ts'

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
  /** Parts that were made while the clip was read for its moments; a poster of its middle where the right one follows with the working copy. */
  made?: { strip: string; peaks: Buffer | null; poster: string | null } | null
  /** All parts, where they are not those of a film. */
  parts?: Awaited<ReturnType<typeof makeParts>>
  /** The working copy, where it was made already. */
  proxy?: string | null
  /** The original is looked at until the working copy follows. */
  isProxyLater?: boolean
}

/** A clip whose parts this job made; its row is written with whatever speaks of it. */
interface MadeMedia extends NewMedia {
  made: Awaited<ReturnType<typeof makeParts>>
}

/** The job's word on one of several clips: which it is, and how far all of them are. */
const oneOf = (run: JobRun, i: number, all: number): Pick<JobRun, 'say'> => ({
  say: (step, progress) =>
    all === 1
      ? run.say(step, progress)
      : run.say(
          phrase('step.oneOf', { step, n: i + 1, all }),
          0.5 + (0.5 * (i + 2 * ((progress ?? 0.5) - 0.5))) / all,
        ),
})

/**
 * Makes the parts of clips and keeps them in the library, once whoever else takes one of them in has done so; then runs
 * `place`, in one transaction with the clips' records. What fails takes away only what it made itself.
 */
export const keepMedia = async <T>(
  context: LibraryContext,
  run: JobRun,
  all: readonly NewMedia[],
  options: Omit<RunOptions, 'clipName'>,
  place: () => T,
): Promise<T> => {
  const { db, paths, journal } = context
  const finished: string[] = []
  const store = async (from: string, to: string) => {
    // The same bytes may lie there already, left by a kill, and be somebody's only copy.
    if (fs.existsSync(to) && fs.statSync(to).size === fs.statSync(from).size) return
    await rename(from, to)
    finished.push(to)
  }
  const isKept = (hash: string) =>
    db.select({ hash: t.media.hash }).from(t.media).where(eq(t.media.hash, hash)).get() !== undefined
  // In one order everywhere: two jobs that take in the same clips never wait for each other.
  const sorted = all.toSorted((a, b) => (a.hash < b.hash ? -1 : 1))
  try {
    const mine: MadeMedia[] = []
    for (const [i, media] of sorted.entries()) {
      if (!(await claimMedia(context, media.hash, run))) continue
      const said = oneOf(run, i, sorted.length)
      const made = media.parts ?? (await makeParts(media, said, { ...options, clipName: media.clipName }))
      mine.push({ ...media, made })
    }
    for (const { hash, extension, copy, made } of mine) {
      await store(copy, paths.original(hash, extension))
      if (made.proxy) await store(made.proxy, paths.proxy(hash))
      await store(made.poster, paths.poster(hash))
      await store(made.strip, paths.strip(hash))
    }
    if (run.signal.aborted) throw new Cancelled()
    const placed = journal.alone(() => {
      const here = new Set(mine.map((media) => media.hash))
      for (const { hash, clipName } of sorted) {
        if (here.has(hash) || isKept(hash)) continue
        throw new Problem('gone.clipMeanwhile', { where: clipName })
      }
      for (const media of mine) {
        db.insert(t.media).values(rowOf(media, context.now())).run()
        releaseClaim(context, media.hash, run.id)
      }
      return place()
    })
    finished.length = 0
    return placed
  } catch (error) {
    for (const file of finished) fs.rmSync(file, { force: true })
    try {
      for (const { hash } of sorted) releaseClaim(context, hash, run.id)
    } catch {
      // The database can't be written to; the claim ends with the job. What went wrong is told below.
    }
    throw error
  }
}

const rowOf = ({ hash, extension, byteLength, facts, made }: MadeMedia, now: Date) => ({
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
  showsFields: facts.showsFields,
  timestamps: Buffer.from(facts.atSeconds.buffer, facts.atSeconds.byteOffset, facts.atSeconds.byteLength),
  peaks: made.peaks,
  peakBinSeconds,
  addedAt: now.toISOString(),
})

/** The frame of a poster: the impact's, or the middle where none is known. */
export const posterFrameOf = ({ frameCount }: Pick<ClipFacts, 'frameCount'>, impact: number | null): number =>
  Math.min(frameCount - 1, impact ?? Math.floor(frameCount / 2))

/** Proxy, poster, thumbnails and sound peaks of a clip, written into its work folder. */
export const makeParts = async (
  media: Pick<NewMedia, 'copy' | 'work' | 'facts' | 'posterFrame' | 'made' | 'proxy' | 'isProxyLater'>,
  run: Pick<JobRun, 'say'>,
  options: RunOptions,
) => {
  const { copy, work, facts, posterFrame, made, isProxyLater } = media
  const isWanted = needsProxy(facts) && !isProxyLater
  const proxy = media.proxy ?? (isWanted ? path.join(work, 'proxy.mp4') : null)
  if (proxy && !media.proxy) {
    run.say(phrase('step.preparing'), 0.5)
    await makeProxy(copy, proxy, facts, {
      ...options,
      onProgress: (share) => run.say(phrase('step.preparing'), 0.5 + 0.35 * share),
    })
  }
  run.say(phrase('step.thumbnails'), 0.85)
  const source = proxy ?? copy
  const strip = made?.strip ?? path.join(work, 'strip.jpg')
  const poster = made?.poster ?? path.join(work, 'poster.jpg')
  if (!made) await makeStrip(source, strip, facts, options)
  if (!made?.poster) await makePoster(source, poster, posterFrameOf(facts, posterFrame), facts, options)
  run.say(phrase('step.sound'), 0.95)
  return { proxy, strip, poster, peaks: made ? made.peaks : await soundPeaks(copy, facts, options) }
}
