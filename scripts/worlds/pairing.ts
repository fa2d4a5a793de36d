import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { asc, eq } from 'drizzle-orm'
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import type { Db } from '../../electron/library/database/open.ts'
import * as t from '../../electron/library/database/schema.ts'
import { Library } from '../../electron/library/library.ts'
import { blocksFromShots } from '../../electron/library/queries/blocks-from-shots.ts'
import { insertShots } from '../../electron/library/queries/insert-shots.ts'
import { orderShots } from '../../electron/library/queries/order-shots.ts'
import { pairLesson } from '../../electron/library/queries/pair-lesson.ts'
import { placeClipSwings } from '../../electron/library/queries/place-clip-swings.ts'
import { readShots } from '../../shared-core/shots/read-shots.ts'
import { share, worldTable, type WorldRun } from './support/world.ts'

export const name = 'Clips and shots that arrive in any order'

/** From here on the window shows a pair without asking to check it. */
const shownAsSure = 0.5

type Scenario = {
  name: string
  arrival?: 'clips first' | 'shots first' | 'in turns' | 'a longer export later'
  /** Times in the file: to the second, to the minute, none but the day, none at all. */
  times?: 'seconds' | 'minutes' | 'date' | 'none'
  hours?: number
  driftPpm?: number
  missingShots?: number
  missingClips?: number
  /** Swings without a ball, filmed and not logged, for each real one. */
  practice?: number
  isNewestFirst?: boolean
  isDoubled?: boolean
  /** The clips name no time of recording. */
  clipsWithoutTime?: boolean
  /** Swings come as evenly as a machine hits them. */
  even?: boolean
  /** A pair the coach set, which must stay. */
  byHand?: boolean
}

const scenarios: readonly Scenario[] = [
  { name: 'clips first', arrival: 'clips first' },
  { name: 'shots first', arrival: 'shots first' },
  { name: 'in turns, each in any order', arrival: 'in turns' },
  { name: 'one export, then a longer one', arrival: 'a longer export later' },
  { name: 'clocks hours apart', hours: 9 },
  { name: 'clocks apart and drifting', hours: 2, driftPpm: 400 },
  { name: 'a fifth of the shots not logged', missingShots: 0.2 },
  { name: 'a third of the swings not filmed', missingClips: 0.33 },
  { name: 'practice swings filmed, too', practice: 0.5 },
  {
    name: 'practice swings, missing shots, in turns',
    practice: 0.3,
    missingShots: 0.15,
    arrival: 'in turns',
  },
  { name: 'every row twice', isDoubled: true },
  { name: 'newest first', isNewestFirst: true, arrival: 'in turns' },
  { name: 'times to the minute', times: 'minutes' },
  { name: 'date only', times: 'date' },
  { name: 'no times in the file', times: 'none' },
  { name: 'no times, a fifth not logged', times: 'none', missingShots: 0.2 },
  { name: 'clips without a time', clipsWithoutTime: true },
  { name: 'evenly spaced, a fifth not logged', even: true, missingShots: 0.2 },
  { name: 'a pair by hand before the rest', byHand: true, arrival: 'in turns', missingShots: 0.1 },
]

type Told = { swing: number; at: number; isFilmed: boolean; isLogged: boolean }
type Counts = {
  right: number
  wrong: number
  unsure: number
  alone: number
  missed: number
  pairs: number
  doubled: number
}

export const run = async ({ small, seed, print }: WorldRun) => {
  const lessons = small ? 2 : 25
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-pairing-'))
  const library = new Library({ folder })
  const { db, sqlite } = library.context
  // A crash here loses nothing worth keeping.
  sqlite.pragma('synchronous = OFF')
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  const results: { name: string; counts: Counts }[] = []
  let lost = 0
  let brokenByHand = 0
  try {
    for (const [s, scenario] of scenarios.entries()) {
      const counts: Counts = { right: 0, wrong: 0, unsure: 0, alone: 0, missed: 0, pairs: 0, doubled: 0 }
      for (let k = 0; k < lessons; k++) {
        const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-14' })
        sqlite.transaction(() => {
          const outcome = oneLesson(db, lessonId, scenario, seed + 1000 * s + k)
          for (const key of Object.keys(counts) as (keyof Counts)[]) counts[key] += outcome.counts[key]
          lost += outcome.lost
          brokenByHand += outcome.isByHandBroken ? 1 : 0
        })()
      }
      results.push({ name: scenario.name, counts })
    }
  } finally {
    await library.close()
    fs.rmSync(folder, { recursive: true, force: true })
  }
  const all = results.reduce((sum, { counts }) => ({ ...sum, ...Object.fromEntries(Object.entries(counts).map(([key, n]) => [key, sum[key as keyof Counts] + n])) }) as Counts, { right: 0, wrong: 0, unsure: 0, alone: 0, missed: 0, pairs: 0, doubled: 0 }) // prettier-ignore
  print(
    `${lessons} lessons a row. Of the filmed swings: right: the pair is the true one and shown as sure (${shownAsSure}), or the swing has no logged shot and stands alone; unsure: shown as to be checked, whatever it is; alone: has a shot but was left alone; wrong: shown as sure and is another's shot.`,
  )
  print(
    `Shots lost or taken twice: ${lost}. Pairs by hand that did not stay: ${brokenByHand}. Wrong among all filmed swings: ${share(all.wrong, all.pairs)}.`,
  )
  print(
    worldTable(
      ['how they came', 'filmed swings', 'right', 'unsure', 'alone', 'wrong'],
      [...results, { name: 'all', counts: all }].map(({ name: row, counts: c }) => [
        row, c.pairs, share(c.right, c.pairs), share(c.unsure, c.pairs), share(c.alone, c.pairs), share(c.wrong, c.pairs),
      ]),
    ),
  ) // prettier-ignore
  return { rows: results, all, lost, brokenByHand }
}

const oneLesson = (db: Db, lessonId: string, scenario: Scenario, seed: number) => {
  const generator = xoroshiro128plus(seed)
  for (let k = 0; k < 10; k++) uniformFloat64(generator)
  const random = () => uniformFloat64(generator)
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
  const shuffled = <T>(list: readonly T[]): T[] => list.map((one) => [random(), one] as const).sort((a, b) => a[0] - b[0]).map(([, one]) => one) // prettier-ignore

  // ------------------------------------------------ what happened
  const count = 12 + Math.floor(random() * 14)
  const told: Told[] = []
  const practice: number[] = []
  let elapsed = 0
  for (let k = 0; k < count; k++) {
    if (random() < (scenario.practice ?? 0)) {
      practice.push(elapsed + 8 + 4 * random())
      elapsed += 12
    }
    elapsed += scenario.even
      ? 30 + 0.5 * normal()
      : 14 - 25 * Math.log(1 - random()) + (k % 6 === 5 ? 60 + 90 * random() : 0)
    told.push({
      swing: k,
      at: elapsed,
      isFilmed: random() >= (scenario.missingClips ?? 0.05),
      isLogged: random() >= (scenario.missingShots ?? 0.03),
    })
  }
  const start = Date.UTC(2026, 4, 14, 9, Math.floor(random() * 60), Math.floor(random() * 60)) / 1000
  const offset = (2 * random() - 1) * 3600 * (scenario.hours ?? 0.2)
  const drift = ((2 * random() - 1) * (scenario.driftPpm ?? 60)) / 1e6

  // ------------------------------------------------ the device's file
  const two = (n: number) => String(n).padStart(2, '0')
  const times = scenario.times ?? 'seconds'
  const line = (one: Told): string => {
    const at = new Date(1000 * Math.round(start + one.at + offset + drift * one.at + 0.5 * normal()))
    const day = at.toISOString().slice(0, 10)
    const clock = `${two(at.getUTCHours())}:${two(at.getUTCMinutes())}`
    const told =
      times === 'seconds' ? `${day} ${clock}:${two(at.getUTCSeconds())},` : times === 'minutes' ? `${day} ${clock},` : times === 'date' ? `${day},` : ''
    // The ball's speed names the swing, so that the truth is in the record itself.
    return `${told}Driver,${(50 + one.swing / 10).toFixed(1)},${(40 + 2 * random()).toFixed(1)}`
  } // prettier-ignore
  const header = `${times === 'none' ? '' : 'Date,'}Club,Ball Speed (m/s),Club Speed (m/s)`
  const logged = told.filter((one) => one.isLogged).map((one) => ({ ...one, text: line(one) }))
  const exportOf = (list: readonly { text: string }[]) => {
    const shown = scenario.isNewestFirst ? [...list].reverse() : list
    return (
      [header, ...shown.flatMap((one) => (scenario.isDoubled ? [one.text, one.text] : [one.text]))].join(
        '\n',
      ) + '\n'
    )
  }
  const addShots = (list: readonly { text: string }[], fileName: string) => {
    if (list.length === 0) return
    const added = insertShots(db, lessonId, fileName, readShots(exportOf(list), { playingSide: 'right' }))
    if (added === 0) return
    orderShots(db, lessonId)
    pairLesson(db, lessonId)
    blocksFromShots(db, lessonId)
  }

  // ------------------------------------------------ the clips
  const films = [
    ...told.filter((one) => one.isFilmed).map((one) => ({ swing: one.swing as number | null, at: one.at })),
    ...practice.map((at) => ({ swing: null, at })),
  ].sort((a, b) => a.at - b.at)
  const clipNumber = new Map(films.map((film, i) => [film, i + 1]))
  const addClip = (film: (typeof films)[number]) => {
    const clipId = randomUUID()
    const timestamps = Buffer.from(new Float64Array([0, 1, 2]).buffer)
    const fileName = `IMG_${String(clipNumber.get(film)).padStart(4, '0')}.mp4`
    db.insert(t.media)
      .values({
        hash: clipId, extension: 'mp4', byteLength: 1, codec: 'h264', rotationDeg: 0, width: 64, height: 64, frameCount: 3, durationSeconds: 3, playbackRate: 1,
        hasVariableRate: false, hasSound: false, hasProxy: false, timestamps, peakBinSeconds: 0, addedAt: '2026-05-14',
        recordedAt: scenario.clipsWithoutTime ? null : new Date(1000 * (start + film.at - 1 + 0.3 * normal())).toISOString(),
      })
      .run() // prettier-ignore
    db.insert(t.clip)
      .values({ id: clipId, lessonId, mediaHash: clipId, fileName, captureRate: 1, captureRateHow: 'file', camera: 'other' })
      .run() // prettier-ignore
    const arrived = placeClipSwings(db, {
      lessonId,
      clipId,
      viewId: randomUUID(),
      facts: { frameCount: 3 } as Parameters<typeof placeClipSwings>[1]['facts'],
      moments: { swings: [], moments: [] } as unknown as Parameters<typeof placeClipSwings>[1]['moments'],
    })
    pairLesson(db, lessonId, { arrived: new Set(arrived) })
    return clipId
  }

  // ------------------------------------------------ they arrive
  const clipOf = new Map<string, number | null>()
  const takeClips = (list: readonly (typeof films)[number][]) => {
    for (const film of list) clipOf.set(addClip(film), film.swing)
  }
  let fixed: { swingId: string; shotId: string } | null = null
  const half = Math.ceil(logged.length / 2)
  switch (scenario.arrival ?? 'clips first') {
    case 'clips first':
      takeClips(shuffled(films))
      addShots(logged, 'all.csv')
      break
    case 'shots first':
      addShots(logged, 'all.csv')
      takeClips(films)
      break
    case 'a longer export later':
      addShots(logged.slice(0, half), 'first.csv')
      takeClips(films)
      addShots(logged, 'all.csv')
      break
    case 'in turns': {
      const mixed = shuffled(films)
      const third = Math.ceil(mixed.length / 3)
      takeClips(mixed.slice(0, third))
      addShots(logged.slice(half), 'second.csv')
      if (scenario.byHand) fixed = byHand(db, lessonId, clipOf)
      takeClips(mixed.slice(third, 2 * third))
      addShots(logged.slice(0, half), 'first.csv')
      takeClips(mixed.slice(2 * third))
    }
  }

  // ------------------------------------------------ what came of it
  const counts: Counts = { right: 0, wrong: 0, unsure: 0, alone: 0, missed: 0, pairs: 0, doubled: 0 }
  const swings = db
    .select()
    .from(t.swing)
    .where(eq(t.swing.lessonId, lessonId))
    .orderBy(asc(t.swing.position))
    .all()
  const shots = db.select().from(t.shot).where(eq(t.shot.lessonId, lessonId)).all()
  const swingOfShot = new Map(shots.map((shot) => [shot.id, Math.round((shot.ballSpeedMps! - 50) * 10)]))
  const isLogged = new Set(logged.map((one) => one.swing))
  const views = db
    .select()
    .from(t.view)
    .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
    .where(eq(t.clip.lessonId, lessonId))
    .all()
  for (const { view } of views) {
    const swing = swings.find((one) => one.id === view.swingId)!
    const truth = clipOf.get(view.clipId)!
    const hasShot = truth !== null && isLogged.has(truth)
    counts.pairs++
    if (swing.pairHow === 'coach') {
      counts.right++
    } else if (swing.shotId === null) {
      if (hasShot) counts.alone++
      else counts.right++
    } else if (swing.pairConfidence < shownAsSure) counts.unsure++
    else if (swingOfShot.get(swing.shotId) === truth) counts.right++
    else counts.wrong++
  } // prettier-ignore
  const isByHandBroken =
    fixed !== null && swings.find((one) => one.id === fixed.swingId)?.shotId !== fixed.shotId
  return { counts, lost: Math.abs(shots.length - logged.length), isByHandBroken }
}

/** The coach sets the first filmed swing's pair rightly, if both are there. */
const byHand = (db: Db, lessonId: string, clipOf: ReadonlyMap<string, number | null>) => {
  const shots = db.select().from(t.shot).where(eq(t.shot.lessonId, lessonId)).all()
  const views = db.select().from(t.view).innerJoin(t.clip, eq(t.clip.id, t.view.clipId)).where(eq(t.clip.lessonId, lessonId)).all()
  for (const { view } of views) {
    const truth = clipOf.get(view.clipId)
    const shot = shots.find((one) => Math.round((one.ballSpeedMps! - 50) * 10) === truth)
    if (!shot) continue
    pairLesson(db, lessonId, { byHand: { swingId: view.swingId, shotId: shot.id, refit: true } })
    return { swingId: view.swingId, shotId: shot.id }
  }
  return null
} // prettier-ignore
