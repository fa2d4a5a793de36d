import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { Library } from '../../electron/library/library.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import type { Job, OpenLesson } from '../../shared-core/model/entities.ts'
import { stripLayout } from '../../shared-core/model/strip-layout.ts'
import { fastClip, writeFastClip } from './support/fast-clip.ts'
import { loadNote, type Measurement } from './support/measurement.ts'

/** What a camera at 240 frames a second writes of one swing. */
const clipSeconds = 3

/** Taking in one clip, as it arrives in a live lesson's folder, against the ffmpeg command lines that its parts need at least, run one after another. */
export async function bench(): Promise<Measurement[]> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-bench-import-'))
  const steps: { name: string; atMs: number }[] = []
  let changed = () => {}
  let lookedAtMs: number | null = null
  const library = new Library({
    folder: path.join(folder, 'library'),
    emit: (name, body) => {
      if (name === 'lesson.changed') changed()
      if (name !== 'job.changed') return
      const { step, arriving } = body as Job
      if (arriving) lookedAtMs ??= performance.now()
      if (step && steps.at(-1)?.name !== step) steps.push({ name: step, atMs: performance.now() })
    },
  })
  try {
    const programs = await findMediaPrograms(null)
    const ffmpeg = programs.ffmpeg.file
    const clip = path.join(folder, 'clip.mp4')
    writeFastClip(ffmpeg, clip, 1, clipSeconds)

    const begin = performance.now()
    bareCommands(ffmpeg, programs.hasFpsMode ? '-fps_mode' : '-vsync', clip, folder)
    const bareMs = performance.now() - begin

    const { id: studentId } = await library.ask('student.create', { name: 'Robin Example', side: 'right' })
    const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-01' })
    // The device's line is there before the camera has closed its file.
    const camera = path.join(folder, 'camera')
    const shots = path.join(folder, 'shots.csv')
    fs.mkdirSync(camera)
    fs.writeFileSync(shots, 'Club,Club Speed (mph),Ball Speed (mph)\nDriver,100,148\n')
    await library.ask('live.start', { lessonId, clipsFolder: camera, shotsPath: shots })
    const lessonWith = async (isThere: (lesson: OpenLesson) => boolean) => {
      for (;;) {
        const next = new Promise<void>((resolve) => (changed = resolve))
        const lesson = await library.ask('lesson.open', { lessonId })
        if (isThere(lesson)) return
        await next
      }
    }
    await lessonWith((lesson) => lesson.shots.length === 1)
    steps.length = 0
    lookedAtMs = null
    const start = performance.now()
    fs.renameSync(clip, path.join(camera, 'clip.mp4'))
    await lessonWith(({ swings }) =>
      swings.some(
        (s) => s.shotId !== null && s.views.some((v) => v.moments.some((m) => m.name === 'impact')),
      ),
    )
    const standing = performance.now()
    await library.context.jobs.idle()
    const end = performance.now()
    const copiedAtMs = steps[steps.findIndex((step) => step.name.startsWith('copying')) + 1]!.atMs
    const parts = steps.map((step, i) => ({
      name: step.name,
      ms: (steps[i + 1]?.atMs ?? end) - step.atMs,
    }))
    await library.ask('live.stop', { lessonId })
    const many = await takeInMany(library, lessonId, ffmpeg, folder)
    const partsText = parts
      .filter((part) => part.ms >= 100)
      .map((part) => `${part.name} ${(part.ms / 1000).toFixed(1)} s`)
      .join(', ')
    return [
      {
        name: `from the file is whole to its swing stands, paired, impact marked (1080p, 240 frames/s, ${clipSeconds} s)`,
        value: (standing - start) / 1000,
        unit: 's',
        note: `until it was seen to be whole ${((steps[0]!.atMs - start) / 1000).toFixed(1)} s, ${partsText}; aim 3 s; ${loadNote()}`,
      },
      {
        name: 'copied to it can be looked at (the window’s part: bench window-arrival)',
        value: ((lookedAtMs ?? NaN) - copiedAtMs) / 1000,
        unit: 's',
        note: 'aim 1 s to its first picture on the Stage',
      },
      {
        name: 'all of it done, its working copy too',
        value: (end - start) / 1000,
        unit: 's',
        note: 'aim 6 s',
      },
      {
        name: `${manyClips} such clips at once, all done`,
        value: many.doneMs / 1000,
        unit: 's',
        note: `standing in the lesson after ${(many.standingMs / 1000).toFixed(1)} s; 30 clips at that pace ${(((many.doneMs / manyClips) * 30) / 60_000).toFixed(1)} min, aim 3 min`,
      },
      { name: 'bare ffmpeg: copy, thumbnails, poster, sound', value: bareMs / 1000, unit: 's' },
      { name: 'taking in against bare ffmpeg', value: (end - start) / bareMs, unit: '×' },
    ]
  } finally {
    await library.close()
    fs.rmSync(folder, { recursive: true, force: true })
  }
}

const manyClips = 4

/** Several other clips at once, as from a card. */
const takeInMany = async (library: Library, lessonId: string, ffmpeg: string, folder: string) => {
  const files = Array.from({ length: manyClips }, (_, i) => {
    const file = path.join(folder, `clip-${i + 2}.mp4`)
    writeFastClip(ffmpeg, file, i + 2, clipSeconds)
    return file
  })
  const start = performance.now()
  const { jobIds } = await library.ask('clips.add', { lessonId, files })
  for (const id of jobIds) await library.context.jobs.ended(id)
  const standingMs = performance.now() - start
  await library.context.jobs.idle()
  return { standingMs, doneMs: performance.now() - start }
}

/** The same work as the library's jobs ask of ffmpeg, without finding moments and without checking anything. */
const bareCommands = (ffmpeg: string, timing: string, clip: string, folder: string) => {
  const run = (...args: string[]) => execFileSync(ffmpeg, ['-v', 'error', '-nostdin', '-y', ...args])
  const proxy = path.join(folder, 'bare.mp4')
  const { every, count } = stripLayout(clipSeconds * fastClip.rate)
  const x264 = ['-c:v', 'libx264', '-preset', 'ultrafast', '-qp', '22', '-pix_fmt', 'yuv420p']
  const keys = ['-g', '4', '-keyint_min', '4', '-sc_threshold', '0', '-bf', '0', '-movflags', '+faststart']
  run('-i', clip, '-an', timing, 'passthrough', ...x264, ...keys, proxy)
  const strip = `select='not(mod(n\\,${every}))',scale=-2:72,tile=${count}x1`
  run('-i', proxy, timing, 'passthrough', '-vf', strip, '-frames:v', '1', path.join(folder, 'bare-strip.jpg'))
  const poster = `select='eq(n\\,${(clipSeconds * fastClip.rate) / 2})',scale=-2:360`
  run(
    '-i',
    proxy,
    timing,
    'passthrough',
    '-vf',
    poster,
    '-frames:v',
    '1',
    path.join(folder, 'bare-poster.jpg'),
  )
  run('-i', clip, '-vn', '-ac', '1', '-ar', '16000', '-f', 's16le', path.join(folder, 'bare.pcm'))
}

if (import.meta.main) console.table(await bench())
