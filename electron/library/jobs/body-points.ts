import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import { z } from 'zod'
import { handMarks, isCoachs, type BodyMark } from '../../../shared-core/body/body-marks.ts'
import { bodyMeasures } from '../../../shared-core/body/body-measures.ts'
import { mergeTracks, type BodyTrack } from '../../../shared-core/body/body-track.ts'
import { framesToRead } from '../../../shared-core/body/frames-to-read.ts'
import {
  framesToLook,
  isOpenToHands,
  momentsByReturn,
  returnInView,
} from '../../../shared-core/body/impact-by-hands.ts'
import { frameAfter, frameNearest, type ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { modelName } from '../body/model-files.ts'
import { readBody } from '../body/read-body.ts'
import type { Square } from '../body/square-frames.ts'
import type { LibraryContext } from '../context.ts'
import { asFloat64 } from '../database/float64.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { clipWithMedia } from '../queries/clip-with-media.ts'
import { isDrawnOn } from '../queries/drawn-on.ts'
import { bodyOfClip, readTrack } from '../queries/body-of-clip.ts'
import { proposeImpact } from './propose-impact.ts'
import { followLostAnew } from './begin-following.ts'
import type { JobRun } from './queue.ts'
import { phrase, type Word } from '../../../shared-core/wording/phrase.ts'
import { picturesFile } from '../queries/pictures-file.ts'

const taskSchema = z.object({ clipId: z.string() })

const bytesOf = (array: Int32Array | Float32Array): Buffer =>
  Buffer.from(array.buffer, array.byteOffset, array.byteLength)

const timesOf = (clip: typeof t.clip.$inferSelect, media: typeof t.media.$inferSelect): ClipTimes => ({
  atSeconds: asFloat64(media.timestamps),
  playbackRate: media.playbackRate,
  captureRate: clip.captureRate,
  slowPart: clip.slowPart,
})

const viewsOf = ({ db }: LibraryContext, clipId: string) =>
  db
    .select()
    .from(t.view)
    .where(eq(t.view.clipId, clipId))
    .all()
    .map((view) => ({
      ...view,
      moments: momentsOf(db, view.id),
    }))

const momentsOf = (db: Db, viewId: string) =>
  db.select().from(t.moment).where(eq(t.moment.viewId, viewId)).all()

/**
 * Reads the body points of one clip, swing by swing, keeps them, and proposes moments where no coach has marked them. What
 * was read before is not read again; what the coach set by hand is not touched.
 */
export const readBodyPoints = async (context: LibraryContext, run: JobRun): Promise<Word> => {
  const { clipId } = taskSchema.parse(run.task)
  const { clip, media } = clipWithMedia(context.db, clipId)
  const { ffmpeg } = await context.mediaPrograms()
  const times = timesOf(clip, media)
  const isThere = () => {
    const there = new Set(readTrack(context.db, media.hash).frames)
    return (frame: number) => there.has(frame)
  }
  const views = viewsOf(context, clipId)
  let total = 0
  for (const [v, view] of views.entries()) {
    let square: Square | undefined
    const read = async (wanted: Int32Array, from: number, to: number) => {
      const isRead = isThere()
      const frames = wanted.filter((frame) => !isRead(frame))
      if (frames.length === 0) return
      const progress = (share: number) =>
        run.say(phrase('step.body'), (v + from + share * (to - from)) / views.length)
      progress(0)
      const found = await readBody(
        {
          ...{ ffmpegPath: ffmpeg.file, clip: picturesFile(context.paths, media), frames, square },
          ...{ width: media.width, height: media.height },
        },
        { signal: run.signal, onProgress: progress },
      )
      if (run.signal.aborted) throw new Cancelled()
      keep(context, media.hash, found)
      square = found.square ?? undefined
      total += frames.length
    }
    // Where nothing tells the impact well, the hands' return is looked for first: read densely round a wrong guess it would be missed.
    const { side } = studentOf(context, clip.lessonId)
    const returnIn = () =>
      returnInView(
        { ...clip, track: ownTrack(context, clip, media), times, side, isRateGuessed: isRateOpen(clip) },
        view,
      )
    const isOpen = isOpenToHands(view.moments.find((m) => m.name === 'impact'))
    let seen = isOpen ? returnIn() : null
    if (isOpen && !seen) {
      await read(framesToLook(view, times), 0, lookShare)
      seen = returnIn()
    }
    await read(
      seen
        ? framesToRead({ ...view, moments: momentsByReturn(view.moments, seen) }, seen.times)
        : framesToRead(view, times),
      isOpen ? lookShare : 0,
      1,
    )
  }
  const body = propose(context, clipId)
  if (total > 0) followLostAnew(context, clipId)
  for (const { lessonId } of context.db
    .select({ lessonId: t.clip.lessonId })
    .from(t.clip)
    .where(eq(t.clip.mediaHash, media.hash))
    .all()) {
    context.journal.bump(lessonId)
  }
  return body
}

/** The part of a reading that the first look for the return takes. */
const lookShare = 0.35

const studentOf = ({ db }: LibraryContext, lessonId: string) => {
  const lesson = db.select().from(t.lesson).where(eq(t.lesson.id, lessonId)).get()!
  return db.select().from(t.student).where(eq(t.student.id, lesson.studentId)).get()!
}

const ownTrack = (
  { db }: LibraryContext,
  clip: { id: string; captureRate: number },
  media: { hash: string },
) => bodyOfClip(db, { id: clip.id, hash: media.hash, captureRate: clip.captureRate })

/** Nobody and nothing has said how fast was filmed. */
const isRateOpen = (clip: { captureRateHow: string }) => clip.captureRateHow === 'assumed'

const keep = (context: LibraryContext, mediaHash: string, track: BodyTrack) => {
  const { db } = context
  db.transaction(() => {
    const whole = mergeTracks(readTrack(db, mediaHash), track)
    const row = {
      model: modelName,
      frames: bytesOf(whole.frames),
      points: bytesOf(whole.points),
      shifts: whole.shifts ? bytesOf(whole.shifts) : null,
      readAt: context.now().toISOString(),
    }
    db.insert(t.bodyPoints)
      .values({ mediaHash, ...row })
      .onConflictDoUpdate({ target: t.bodyPoints.mediaHash, set: row })
      .run()
  })
}

/** The setup is shown this long before the takeaway, real seconds (own choice, as where it is found by motion). */
const setupBeforeTakeaway = 0.1

/**
 * Proposes moments from the body: takeaway, top and finish are set anew, with what the motion said, where no coach has marked, confirmed
 * or drawn on them; brace and release are added. One edit, undone like any other.
 */
const propose = (context: LibraryContext, clipId: string): Word => {
  const { db, journal } = context
  // The lesson may have changed while the points were read.
  const { clip, media } = clipWithMedia(context.db, clipId)
  const { side } = studentOf(context, clip.lessonId)
  const times = timesOf(clip, media)
  const track = ownTrack(context, clip, media)
  let proposed = 0
  type Marked = ReturnType<typeof viewsOf>[number]['moments'][number]

  const set = (
    view: { id: string; fromFrame: number; toFrame: number },
    moments: readonly Marked[],
    mark: { name: Marked['name']; frame: number; confidence: number },
  ): boolean => {
    const there = moments.find((m) => m.name === mark.name)
    const { name, frame, confidence } = mark
    if (frame < view.fromFrame || frame > view.toFrame) return false
    if (!there) {
      db.insert(t.moment)
        .values({ id: randomUUID(), viewId: view.id, name, frame, how: 'body', confidence })
        .run()
      return true
    }
    if (isCoachs(there) || isDrawnOn(db, there.id)) return false
    if (there.frame === frame && there.how === 'body') return false
    db.update(t.moment).set({ frame, how: 'body', confidence }).where(eq(t.moment.id, there.id)).run()
    return true
  }

  journal.run(
    { lessonId: clip.lessonId, label: phrase('edit.proposeMoments', { clip: clip.fileName }) },
    () => {
      for (const old of viewsOf(context, clipId)) {
        if (proposeImpact(context, old, { clip, media, track, times, side })) proposed += 1
        const view = { ...old, moments: momentsOf(db, old.id) }
        const impact = view.moments.find((m) => m.name === 'impact')
        if (!impact) continue
        const isImpactSure = isCoachs(impact) ? 1 : 0.5 + impact.confidence / 2
        const place = (mark: BodyMark) => ({
          name: mark.name,
          frame: frameNearest(times, impact.frame, mark.atSeconds),
          confidence: Math.round(100 * mark.confidence * isImpactSure) / 100,
        })
        // Set once: what was weighed with the motion already is no second witness.
        const open = view.moments.filter((m) => m.how !== 'body' || m.name === 'impact')
        const hands = handMarks({ ...clip, track, times, moments: open, side }).map(place)
        const order = ['takeaway', 'top', 'impact', 'finish']
        const frameOf = (name: string) =>
          hands.find((h) => h.name === name)?.frame ?? view.moments.find((m) => m.name === name)?.frame
        const frames = order.flatMap((name) => frameOf(name) ?? [])
        const isInOrder = frames.every((frame, i) => i === 0 || frame > frames[i - 1]!)
        if (isInOrder) {
          for (const mark of hands) {
            const before = view.moments.find((m) => m.name === mark.name)
            if (before?.how === 'body') continue
            if (!set(view, view.moments, mark)) continue
            proposed += 1
            if (mark.name !== 'takeaway') continue
            const setup = frameAfter(times, mark.frame, -setupBeforeTakeaway)
            if (setup < mark.frame) {
              set(view, view.moments, {
                name: 'setup',
                frame: setup,
                confidence: Math.round(90 * mark.confidence) / 100,
              })
            }
          }
        }
        const now = momentsOf(db, view.id)
        const found = bodyMeasures({ ...clip, track, times, moments: now, side })
        for (const mark of found.moments.map(place)) {
          if (now.some((m) => m.name === mark.name)) continue
          if (set(view, now, mark)) proposed += 1
        }
      }
    },
  )
  if (track.frames.length === 0) return phrase('result.bodyNobody')
  return phrase(proposed > 0 ? 'result.bodyProposed' : 'result.bodyRead')
}
