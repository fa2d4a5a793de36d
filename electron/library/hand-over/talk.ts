import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import { z } from 'zod'
import { readDrawings, type Drawing } from '../../../shared-core/drawing/drawing.ts'
import { defaultStyle } from '../../../shared-core/drawing/shape-base.ts'
import { definitionOf, shapes } from '../../../shared-core/drawing/shapes.ts'
import type { PageClip } from '../../../shared-core/hand-over/page.ts'
import {
  talkPictures,
  talkTimelineSchema,
  type TalkEntry,
  type TalkPicture,
} from '../../../shared-core/hand-over/talk-timeline.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../library.ts'
import type { JobRun } from '../jobs/queue.ts'
import { Cancelled, runFfmpeg, type RunOptions } from '../media/run-ffmpeg.ts'
import { lessonView } from '../queries/lesson-view.ts'
import { framePicture } from '../scene/frame-picture.ts'
import { renderScene, type Picture } from '../scene/raster.ts'
import { paintedFrame } from '../scene/still.ts'
import { clipSource } from './content.ts'
import { mirroredScene } from './mirrored-scene.ts'
import { phoneOutput, type ClipSource } from './slow-clip.ts'
import { ByContent, mirrored } from './stills.ts'

const taskSchema = z.object({
  lessonId: z.string(),
  name: z.string(),
  soundFile: z.string(),
  timeline: talkTimelineSchema,
})

/** Pictures change on this grid; also the one that ffmpeg gives to still pictures, so nothing is rounded twice. */
const rate = 25
const size = { width: 1280, height: 720 }
const soundRate = 48_000
/** What a voice is brought to: EBU R 128 s1 allows up to -16 LUFS for phones; -1.5 dB true peak. */
const evenLoudness = 'loudnorm=I=-16:TP=-1.5:LRA=11'

/** Makes one MP4 of a recording: the voice, evened out, and the pictures as they appeared. The result is its id. */
export const saveTalk = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const task = taskSchema.parse(run.task)
  const programs = await context.mediaPrograms()
  const id = randomUUID()
  const work = path.join(context.paths.incoming, `talk-${id}`)
  fs.mkdirSync(work, { recursive: true })
  const options: RunOptions = { programs, clipName: task.name || 'talk-through', signal: run.signal }
  try {
    if (!fs.existsSync(task.soundFile)) {
      throw new Problem('no-sound', 'the recording is no longer there', { toDo: 'Record the talk again' })
    }
    run.say('evening out the voice', 0)
    const sound = path.join(work, 'voice.pcm')
    await runFfmpeg(
      'reading the recording',
      (command) =>
        command
          .input(task.soundFile)
          .outputOptions(['-map', '0:a:0', '-vn', '-af', `aresample=async=1:first_pts=0,${evenLoudness}`])
          .outputOptions(['-ar', String(soundRate), '-ac', '1', '-f', 's16le'])
          .output(sound),
      options,
    )
    const soundSeconds = fs.statSync(sound).size / 2 / soundRate
    if (soundSeconds < 0.2) {
      throw new Problem('no-sound', 'the recording holds no sound', {
        toDo: 'Check that a microphone is connected and allowed, and record the talk again',
      })
    }
    const pictures = talkPictures(task.timeline, soundSeconds, rate)
    const list = await paintPictures(context, task.lessonId, pictures, work, run, options)
    run.say('putting voice and pictures together', 0.6)
    const made = path.join(work, 'talk.mp4')
    const frames = pictures.reduce((sum, picture) => sum + picture.frames, 0)
    await runFfmpeg(
      'writing the talk-through',
      (command) =>
        command
          .input(list)
          .inputOptions(['-f', 'concat', '-safe', '0'])
          .input(sound)
          .inputOptions(['-f', 's16le', '-ar', String(soundRate), '-ac', '1'])
          .complexFilter(
            [
              `[0:v]fps=${rate}:start_time=0,tpad=stop_mode=clone:stop=${frames},trim=end_frame=${frames},format=yuv420p[v]`,
            ],
            'v',
          )
          .outputOptions(['-map', '1:a:0', '-c:a', 'aac', '-b:a', '112k', '-tune', 'stillimage'])
          .outputOptions(phoneOutput(rate).filter((option) => option !== '-an'))
          .output(made),
      {
        ...options,
        durationSeconds: soundSeconds,
        onProgress: (share) => run.say('putting voice and pictures together', 0.6 + 0.4 * share),
      },
    )
    if (run.signal.aborted) throw new Cancelled()
    const fileName = `${id}.mp4`
    fs.renameSync(path.join(work, '0.jpg'), path.join(context.paths.talks, `${id}.jpg`))
    fs.renameSync(made, path.join(context.paths.talks, fileName))
    context.db
      .insert(t.talkThrough)
      .values({
        id,
        lessonId: task.lessonId,
        name: task.name,
        fileName,
        durationSeconds: soundSeconds,
        recordedAt: context.now().toISOString(),
      })
      .run()
    return id
  } finally {
    fs.rmSync(work, { recursive: true, force: true })
  }
}

/** Paints each distinct picture once; the list for ffmpeg names them with their lengths. */
const paintPictures = async (
  context: LibraryContext,
  lessonId: string,
  pictures: readonly TalkPicture[],
  work: string,
  run: JobRun,
  options: RunOptions,
): Promise<string> => {
  const lesson = lessonView(context, lessonId)
  const sources = new Map<string, ClipSource>()
  const frames = new ByContent<Picture>(8)
  const files = new Map<string, string>()
  const rows = ['ffconcat version 1.0']
  let last = ''
  for (const [i, { entry, frames: lasts }] of pictures.entries()) {
    const key = JSON.stringify([entry.viewId, entry.frame, entry.drawings, entry.pointer])
    let file = files.get(key)
    if (!file) {
      run.say('painting the pictures', 0.05 + (0.55 * i) / pictures.length)
      let source = sources.get(entry.viewId)
      if (!source) {
        source = clipSource(context, lesson, entry.viewId, { momentIds: [], slowBy: 1, holdSeconds: 0 })
        sources.set(entry.viewId, source)
      }
      const from = source
      const facts = {
        width: from.width,
        height: from.height,
        atSeconds: Float64Array.from(from.time.atSeconds),
      }
      const picture = await frames.get([from.file, entry.frame], () =>
        framePicture(from.file, entry.frame, facts, { ...options, clipName: from.clipName }),
      )
      file = `${files.size}.jpg`
      fs.writeFileSync(path.join(work, file), onCanvas(from, picture, entry))
      files.set(key, file)
    }
    rows.push(`file '${file}'`, `duration ${(lasts / rate).toFixed(6)}`)
    last = file
  }
  // The demuxer takes the last length only if something follows.
  rows.push(`file '${last}'`)
  const list = path.join(work, 'pictures.txt')
  fs.writeFileSync(list, `${rows.join('\n')}\n`)
  return list
}

/** One picture as it was seen, on the talk's canvas, as JPEG. */
const onCanvas = (source: ClipSource, picture: Picture, entry: TalkEntry): Buffer => {
  const asDrawing = (shape: unknown, id: string): Drawing[] =>
    readDrawings([
      {
        id,
        viewId: entry.viewId,
        momentId: null,
        fromFrame: entry.frame,
        toFrame: entry.frame,
        shape,
        order: 0,
        isHidden: false,
      },
    ]).drawings
  // What is covered stays covered, whatever the window says it showed.
  const covers = source.drawings.filter((d) => definitionOf(d.shape).hides !== undefined)
  const seen = entry.drawings
    ? [...covers, ...entry.drawings.flatMap((shape, i) => asDrawing(shape, `seen-${i}`))]
    : [...source.drawings]
  const radius = Math.min(source.width, source.height) / 24
  const pointer = entry.pointer
    ? asDrawing(
        shapes.circle.create([entry.pointer, { x: entry.pointer.x + radius, y: entry.pointer.y }], {
          ...defaultStyle,
          widthPx: Math.max(3, radius / 5),
        }),
        'pointer',
      )
    : []
  const scene = { drawings: [...seen, ...pointer], cues: source.cues }
  const scale = Math.min(size.width / source.width, size.height / source.height)
  const longest = Math.round(scale * Math.max(source.width, source.height))
  const painted = source.isMirrored
    ? paintedFrame(mirrored(picture), { ...mirroredScene(source, scene), frame: entry.frame }, longest)
    : paintedFrame(picture, { ...scene, frame: entry.frame, options: source.sceneOptions }, longest)
  const rgba = new Uint8Array(size.width * size.height * 4)
  for (let at = 0; at < rgba.length; at += 4) rgba.set([0x14, 0x18, 0x1b, 255], at)
  const own = painted.rgba()
  const [left, top] = [(size.width - painted.width) >> 1, (size.height - painted.height) >> 1]
  const width = Math.min(painted.width, size.width)
  for (let y = 0; y < Math.min(painted.height, size.height); y++) {
    const at = y * painted.width * 4
    rgba.set(own.subarray(at, at + width * 4), ((Math.max(0, top) + y) * size.width + Math.max(0, left)) * 4)
  }
  return renderScene([], { frameSize: size, background: { ...size, rgba } }).jpeg(92)
}

/** A talk-through as it stands in the page; null if it is gone. */
export const talkClip = (
  context: LibraryContext,
  id: string,
): { clip: PageClip; file: string; byteLength: number } | null => {
  const talk = context.db.select().from(t.talkThrough).where(eq(t.talkThrough.id, id)).get()
  if (!talk) return null
  const file = path.join(context.paths.talks, talk.fileName)
  if (!fs.existsSync(file)) {
    throw new Problem('no-file', 'the file of a talk-through is missing', {
      where: talk.name || 'talk-through',
      toDo: 'Take it out of the hand-over, or record it again',
    })
  }
  const poster = path.join(context.paths.talks, `${id}.jpg`)
  const seconds = Math.round(talk.durationSeconds)
  const length = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`
  return {
    file,
    byteLength: fs.statSync(file).size,
    clip: {
      title: talk.name || 'Talked through',
      file: null,
      posterBase64: fs.existsSync(poster) ? fs.readFileSync(poster).toString('base64') : null,
      ...size,
      speed: length,
      text: `${talk.name || 'Talked through'}: your coach speaks to the pictures, ${length} minutes`,
      caption: 'with your coach’s voice',
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
