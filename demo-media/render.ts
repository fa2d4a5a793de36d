import { spawn } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { clipSound, stretchSound, wavOf } from './clip-sound.ts'
import { framesOf, planFilm } from './clip-film.ts'
import type { Film } from './clip-film.ts'
import { clipTruth } from './clip-truth.ts'
import { encode, findFfmpeg } from './encode.ts'
import { earlierLessons, earlierStory } from './earlier-lessons.ts'
import { lessonStory } from './lesson-story.ts'
import { demoLesson, people } from './scenario.ts'
import type { ClipKind } from './scenario.ts'
import { decimalCommaCsv, deviceCsv } from './shot-records.ts'

/**
 * Makes the demo's media again: `node demo-media/render.ts [--clip NAME]… [--records-only]`.
 * With names, only those clips (and no records). Prints each file as it is ready.
 */
const folder = path.dirname(fileURLToPath(import.meta.url))
const fileOfKind = (kind: ClipKind): string => `${kind.name}.${kind.container}`
const fileOf = (film: Film): string => fileOfKind(film.kind)
const json = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`

const { swings, clips } = demoLesson()
const lessonFilms = clips.map(({ kind, swings: shown }) => planFilm(kind, shown))
const earlier = earlierLessons()
const films = [
  ...lessonFilms,
  ...earlier.flatMap((lesson) => lesson.clips.map(({ kind, swings: shown }) => planFilm(kind, shown))),
]

const renderClip = async (film: Film): Promise<void> => {
  const { kind } = film
  const slow = kind.captureRate / kind.playbackRate
  const impactOf = (k: number): number =>
    film.filmed[k]!.takeawayAtSeconds + film.filmed[k]!.motion.moments.impact
  let wav: Buffer | null = null
  if (kind.sound !== 'none') {
    const sound = clipSound({
      seconds: film.seconds,
      strikes: film.filmed.map(({ swing }, k) => ({
        atSeconds: impactOf(k),
        club: swing.spec.club,
        mishit: swing.mishit,
      })),
      microphoneM: kind.microphoneM,
      neighbourAtSeconds: kind.neighbourSeconds === null ? null : impactOf(0) + kind.neighbourSeconds,
      draw: film.draw,
    })
    wav = wavOf(slow === 1 ? sound : stretchSound(sound, slow))
  }
  const truth = clipTruth(film, fileOf(film))
  await encode({
    ffmpeg: findFfmpeg(),
    file: path.join(folder, fileOf(film)),
    codec: kind.codec,
    widthPx: kind.widthPx,
    heightPx: kind.heightPx,
    rotated: kind.rotated,
    frameTimes: film.fileTimes,
    playbackRate: kind.playbackRate,
    variableRate: kind.variableRate,
    crf: kind.codec === 'hevc' ? 25 : 23,
    wav,
    creationTime: truth.creationTime,
    frames: framesOf(film, () => undefined),
  })
  writeFileSync(path.join(folder, `${kind.name}.truth.json`), json(truth))
  console.log(`${fileOf(film)}  ${truth.frames} frames`)
}

const writeRecords = (): void => {
  mkdirSync(path.join(folder, 'earlier'), { recursive: true })
  writeFileSync(path.join(folder, 'shots-device.csv'), deviceCsv(swings, people.student))
  writeFileSync(
    path.join(folder, 'shots-decimal-comma.csv'),
    decimalCommaCsv(swings, `Shot list, ${people.venue}, ${people.student}`),
  )
  for (const film of films) {
    writeFileSync(path.join(folder, `${film.kind.name}.truth.json`), json(clipTruth(film, fileOf(film))))
  }
  writeFileSync(path.join(folder, 'lesson.json'), json(lessonStory(swings, lessonFilms, fileOf)))
  for (const { plan, swings: hit } of earlier) {
    const file = path.join(folder, 'earlier', `${plan.date}-shots.csv`)
    writeFileSync(file, deviceCsv(hit, people.student, { withBlocks: true }))
  }
  writeFileSync(path.join(folder, 'earlier', 'lessons.json'), json(earlierStory(fileOfKind)))
  console.log('shots-device.csv, shots-decimal-comma.csv, lesson.json; those of the earlier lessons')
}

/** One process per clip, as many at a time as there are processors. */
const renderAll = async (): Promise<void> => {
  const waiting = [...films].sort((a, b) => b.captureTimes.length - a.captureTimes.length)
  const work = async (): Promise<void> => {
    for (let film = waiting.shift(); film; film = waiting.shift()) {
      const { name } = film.kind
      const child = spawn(process.execPath, [fileURLToPath(import.meta.url), '--clip', name], {
        stdio: 'inherit',
      })
      const code = await new Promise<number | null>((resolve) => child.on('close', resolve))
      if (code !== 0) throw new Error(`rendering ${name} failed`)
    }
  }
  await Promise.all(Array.from({ length: Math.min(4, os.availableParallelism()) }, work))
}

const wanted = process.argv.flatMap((word, i) => (word === '--clip' ? [process.argv[i + 1] ?? ''] : []))
if (wanted.length > 0) {
  for (const name of wanted) {
    const film = films.find((f) => f.kind.name === name)
    if (!film) throw new Error(`no clip "${name}"; there are ${films.map((f) => f.kind.name).join(', ')}`)
    await renderClip(film)
  }
} else {
  writeRecords()
  if (!process.argv.includes('--records-only')) await renderAll()
}
