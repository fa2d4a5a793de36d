import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import { z } from 'zod'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import type { PageClip } from '../../../shared-core/hand-over/page.ts'
import {
  talkSegments,
  talkTimelineSchema,
  type TalkSegment,
} from '../../../shared-core/hand-over/talk-timeline.ts'
import type { Say } from '../../../shared-core/wording/say.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import type { JobRun } from '../jobs/queue.ts'
import { isDiskFull } from '../disk-full.ts'
import { Cancelled, type RunOptions } from '../media/run-ffmpeg.ts'
import { guestPicture, openLesson } from '../queries/open-lesson.ts'
import { renderScene } from '../scene/raster.ts'
import { clipSource } from './content.ts'
import type { ClipSource } from './clip-source.ts'
import {
  TalkFrames,
  paintTalkPicture,
  pictureKey,
  pointerOn,
  readPicture,
  talkSize,
} from './talk-pictures.ts'
import { toYuv, withRing, writeTalkVideo, type Size, type YuvPicture } from './talk-video.ts'
import { evenVoice } from './talk-voice.ts'
import { said, phrase } from '../../../shared-core/wording/phrase.ts'

const taskSchema = z.object({
  lessonId: z.string(),
  name: z.string(),
  soundFile: z.string(),
  timeline: talkTimelineSchema,
})

/** Frames per second of every talk-through. */
export const talkRate = 30

const noRoom = (error: unknown) => (isDiskFull(error) ? new Problem('no-room', {}, { cause: error }) : error)

/**
 * Makes one MP4 of a recording: the voice, evened out, and the pictures as they appeared. The result is its id.
 * @throws Problem `no-sound`, `gone`, `no-file`, `no-room`, `media`, `bad-timeline`; Cancelled. Nothing half done stays.
 */
export const saveTalk = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const task = taskSchema.parse(run.task)
  const programs = await context.mediaPrograms()
  // Done again after a kill it replaces what was left, and a kill right at the end has left nothing to do.
  const id = run.id
  if (context.db.select().from(t.talkThrough).where(eq(t.talkThrough.id, id)).get()) return id
  const work = path.join(context.paths.incoming, id)
  const clipName = task.name || 'talk-through'
  const options: RunOptions = { programs, clipName, signal: run.signal }
  const fileName = `${id}.mp4`
  const kept = [`${id}.jpg`, fileName].map((name) => path.join(context.paths.talks, name))
  try {
    fs.rmSync(work, { recursive: true, force: true })
    fs.mkdirSync(work, { recursive: true })
    if (!fs.existsSync(task.soundFile)) {
      throw new Problem('no-sound.recordingGone')
    }
    run.say(said('handOver.eveningVoice'), 0)
    const voice = await evenVoice(task.soundFile, work, options)
    const segments = talkSegments(task.timeline, voice.durationSeconds, talkRate)
    const pictures = await paintPictures(context, task.lessonId, segments, work, run, options)
    const made = path.join(work, 'talk.mp4')
    await writeTalkVideo(made, voice.file, pictures.each(), pictures.size, talkRate, options)
    if (run.signal.aborted) throw new Cancelled()
    fs.renameSync(pictures.poster, kept[0]!)
    fs.renameSync(made, kept[1]!)
    context.db
      .insert(t.talkThrough)
      .values({
        id,
        lessonId: task.lessonId,
        name: task.name,
        fileName,
        durationSeconds: voice.durationSeconds,
        recordedAt: context.now().toISOString(),
      })
      .run()
  } catch (error) {
    for (const file of kept) fs.rmSync(file, { force: true })
    throw noRoom(error)
  } finally {
    fs.rmSync(work, { recursive: true, force: true })
  }
  dropRecording(task.soundFile)
  return id
}

/** The window's own temporary recording is not needed any more; a file from elsewhere is the coach's. */
const dropRecording = (file: string) => {
  if (path.basename(path.dirname(file)) === 'leadside-recordings') fs.rmSync(file, { force: true })
}

interface PaintedTalk {
  size: Size
  poster: string
  each(): AsyncGenerator<{ picture: YuvPicture; frames: number }>
}

/** Paints each distinct picture once, into the work folder; `each` reads them in their order with the pointer on them. */
const paintPictures = async (
  context: LibraryContext,
  lessonId: string,
  segments: readonly TalkSegment[],
  work: string,
  run: JobRun,
  options: RunOptions,
): Promise<PaintedTalk> => {
  const sources = sourcesOf(context, lessonId)
  const wanted = new Map<ClipSource, Set<number>>()
  const want = (viewId: string, frame: number) => {
    const source = sources(viewId)
    const frames = wanted.get(source) ?? new Set<number>()
    wanted.set(source, frames.add(frame))
  }
  for (const { event } of segments) {
    want(event.viewId, event.frame)
    if (event.second) want(event.second.viewId, event.second.frame)
  }
  const size = talkSize(
    segments.map(({ event: { viewId, second } }) =>
      second
        ? ([sources(viewId), sources(second.viewId), second.arrangement] as const)
        : ([sources(viewId)] as const),
    ),
  )
  const frames = new TalkFrames(work, options)
  let read = 0
  for (const [source, list] of wanted) {
    run.say(said('handOver.readingFrames'), 0.05 + (0.15 * read++) / wanted.size)
    await frames.prepare(source, list)
  }
  const files = new Map<string, string>()
  for (const [i, { event }] of segments.entries()) {
    const key = pictureKey(event)
    if (files.has(key)) continue
    run.say(said('handOver.painting'), 0.2 + (0.3 * i) / segments.length)
    if (run.signal.aborted) throw new Cancelled()
    const picture = await paintTalkPicture(event, size, sources, frames)
    const file = path.join(work, `picture-${files.size}.jpg`)
    fs.writeFileSync(file, renderScene([], { frameSize: size, background: picture }).jpeg(95))
    files.set(key, file)
  }
  const each = async function* (): AsyncGenerator<{ picture: YuvPicture; frames: number }> {
    const last: { key?: string; plain?: YuvPicture } = {}
    for (const [i, { event, frames: lasts }] of segments.entries()) {
      run.say(said('handOver.joining'), 0.5 + (0.5 * i) / segments.length)
      const key = pictureKey(event)
      if (last.key !== key || !last.plain) {
        last.plain = toYuv(await readPicture(files.get(key)!))
        last.key = key
      }
      const at = pointerOn(event, size, sources)
      yield { picture: at ? withRing(last.plain, at) : last.plain, frames: lasts }
    }
  }
  return { size, poster: files.get(pictureKey(segments[0]!.event))!, each }
}

/** The lesson with a view of another lesson that was beside its own on the Stage, kept as a comparison or not. */
const withGuest = (context: LibraryContext, lesson: OpenLesson, viewId: string): OpenLesson => {
  const isOwn = lesson.swings.some((swing) => swing.views.some((view) => view.id === viewId))
  if (isOwn || lesson.guests.some((g) => g.swing.views[0]?.id === viewId)) return lesson
  try {
    const guest = guestPicture(context.db, viewId)
    if (lessonRow(context.db, guest.lesson.id).studentId !== lesson.student.id) {
      throw new Problem('other-student.talk')
    }
    return { ...lesson, guests: [...lesson.guests, guest] }
  } catch (error) {
    if (!(error instanceof Problem) || error.code !== 'gone') throw error
    throw new Problem('gone.talkSwing')
  }
}

/** Sources of the talk's views, each read once. */
const sourcesOf = (context: LibraryContext, lessonId: string): ((viewId: string) => ClipSource) => {
  const lesson = openLesson(context, lessonId)
  const known = new Map<string, ClipSource>()
  return (viewId) => {
    const found = known.get(viewId)
    if (found) return found
    const source = clipSource(context, withGuest(context, lesson, viewId), viewId, {
      momentIds: [],
      slowBy: 1,
      holdSeconds: 0,
    })
    known.set(viewId, source)
    return source
  }
}

/** Width and height of a JPEG, from its frame header (ITU-T T.81, B.2.2). */
const jpegSize = (bytes: Buffer): Size | null => {
  for (let at = 2; at + 9 < bytes.length;) {
    const marker = bytes.readUInt16BE(at)
    if (marker >= 0xffc0 && marker <= 0xffc2) {
      return { height: bytes.readUInt16BE(at + 5), width: bytes.readUInt16BE(at + 7) }
    }
    at += 2 + bytes.readUInt16BE(at + 2)
  }
  return null
}

/** Path of a talk-through's MP4; null if there is no such talk-through, or its file is gone. */
export const talkFile = (context: LibraryContext, id: string): string | null => {
  const talk = context.db.select().from(t.talkThrough).where(eq(t.talkThrough.id, id)).get()
  const file = talk && path.join(context.paths.talks, talk.fileName)
  return file && fs.existsSync(file) ? file : null
}

/** A talk-through as it stands in the page; null if it is gone. */
export const talkClip = (
  context: LibraryContext,
  id: string,
  say: Say,
): { clip: PageClip; file: string; byteLength: number } | null => {
  const talk = context.db.select().from(t.talkThrough).where(eq(t.talkThrough.id, id)).get()
  if (!talk) return null
  const file = path.join(context.paths.talks, talk.fileName)
  if (!fs.existsSync(file)) {
    throw new Problem('no-file.talk', { where: talk.name || phrase('record.talk') })
  }
  const poster = path.join(context.paths.talks, `${id}.jpg`)
  const picture = fs.existsSync(poster) ? fs.readFileSync(poster) : null
  const seconds = Math.round(talk.durationSeconds)
  const length = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`
  return {
    file,
    byteLength: fs.statSync(file).size,
    clip: {
      title: talk.name || say('page.talk'),
      file: null,
      posterBase64: picture?.toString('base64') ?? null,
      ...((picture && jpegSize(picture)) ?? { width: 1280, height: 720 }),
      speed: length,
      text: say('page.talkText', { title: talk.name || say('page.talk'), length }),
      caption: say('page.talkCaption'),
      holds: [],
    },
  }
}

/** Takes a talk-through out of the library with its files; written packages keep theirs. */
export const removeTalk = (context: LibraryContext, id: string): void => {
  const talk = context.db.select().from(t.talkThrough).where(eq(t.talkThrough.id, id)).get()
  if (!talk) return
  context.db.delete(t.talkThrough).where(eq(t.talkThrough.id, id)).run()
  for (const name of [talk.fileName, `${id}.jpg`]) {
    fs.rmSync(path.join(context.paths.talks, name), { force: true })
  }
}
