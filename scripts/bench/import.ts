import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { Library } from '../../electron/library/library.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { stripLayout } from '../../shared-core/model/strip-layout.ts'
import { fastClip, writeFastClip } from './support/fast-clip.ts'
import { loadNote, type Measurement } from './support/measurement.ts'

/** Taking in one clip against the ffmpeg command lines that its parts need at least, run one after another. */
export async function bench(): Promise<Measurement[]> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-bench-import-'))
  const steps: { name: string; atMs: number }[] = []
  const library = new Library({
    folder: path.join(folder, 'library'),
    emit: (name, body) => {
      if (name !== 'job.changed') return
      const step = (body as { step: string }).step
      if (step && steps.at(-1)?.name !== step) steps.push({ name: step, atMs: performance.now() })
    },
  })
  try {
    const programs = await findMediaPrograms(null)
    const ffmpeg = programs.ffmpeg.file
    const clip = path.join(folder, 'clip.mp4')
    writeFastClip(ffmpeg, clip, 1)

    const begin = performance.now()
    bareCommands(ffmpeg, programs.hasFpsMode ? '-fps_mode' : '-vsync', clip, folder)
    const bareMs = performance.now() - begin

    const { id: studentId } = await library.ask('student.create', { name: 'Robin Example', side: 'right' })
    const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-01' })
    const start = performance.now()
    const { jobIds } = await library.ask('clips.add', { lessonId, files: [clip] })
    const job = await library.context.jobs.ended(jobIds[0]!)
    const standing = performance.now()
    if (job.state !== 'done') throw new Error(`the clip was not taken in: ${job.problem?.what ?? job.state}`)
    await library.context.jobs.idle()
    const end = performance.now()
    const many = await takeInMany(library, lessonId, ffmpeg, folder)
    const parts = steps.map((step, i) => ({
      name: step.name,
      ms: (steps[i + 1]?.atMs ?? end) - step.atMs,
    }))
    const partsText = parts
      .filter((part) => part.ms >= 100)
      .map((part) => `${part.name} ${(part.ms / 1000).toFixed(1)} s`)
      .join(', ')
    return [
      {
        name: 'a clip stands in its lesson, impact marked (1080p, 240 frames/s, 2.5 s)',
        value: (standing - start) / 1000,
        unit: 's',
        note: `${partsText}; aim 3 s; ${loadNote()}`,
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
    writeFastClip(ffmpeg, file, i + 2)
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
  const { every, count } = stripLayout(fastClip.frames)
  const x264 = ['-c:v', 'libx264', '-preset', 'veryfast', '-crf', '18', '-pix_fmt', 'yuv420p']
  const keys = ['-g', '8', '-keyint_min', '8', '-sc_threshold', '0', '-bf', '0', '-movflags', '+faststart']
  run('-i', clip, '-an', timing, 'passthrough', ...x264, ...keys, proxy)
  const strip = `select='not(mod(n\\,${every}))',scale=-2:72,tile=${count}x1`
  run('-i', proxy, timing, 'passthrough', '-vf', strip, '-frames:v', '1', path.join(folder, 'bare-strip.jpg'))
  const poster = `select='eq(n\\,${fastClip.frames / 2})',scale=-2:360`
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
