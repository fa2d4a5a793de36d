import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { chance } from '../../demo-media/chance.ts'
import { findFfmpeg } from '../../demo-media/encode.ts'
import { followInClip } from '../../electron/library/following/follow-worker.ts'
import { loadPoseModel } from '../../electron/library/body/pose-model.ts'
import { findBody } from '../../electron/library/body/find-body.ts'
import type { BodyTrack } from '../../shared-core/body/body-track.ts'
import { framesToRead } from '../../shared-core/body/frames-to-read.ts'
import { median } from '../../shared-core/statistics/median.ts'
import { placeOn, type FollowMark } from '../../shared-core/following/followed-track.ts'
import { isSeenFromItsEnd, pointSpeed, type PointSpeed } from '../../shared-core/following/point-speed.ts'
import { filmPath, followedThings, withinM, type FollowedThing, type PathFilm } from './support/path-film.ts'
import { allPieces, share, worldTable, type WorldRun } from './support/world.ts'

export const name = 'Followed points: club head, hands, belt, head and ball of the figure'

/** What of a film the tables tell. */
type FilmFacts = Omit<PathFilm, 'truth' | 'clubHeadMps'> & { readonly trueMps: number }

/** One point of one film, followed from its mark, or with marks put where it was lost or wrong. */
export interface FollowedResult {
  readonly film: FilmFacts
  readonly thing: FollowedThing
  readonly marks: number
  /** Frames on which the thing can be seen. */
  readonly visible: number
  readonly right: number
  /** Claimed on frames on which it can't be seen, and still within the thing. */
  readonly rightHidden: number
  /** Claimed, and off the thing, or claimed where it is gone. */
  readonly wrong: number
  readonly errorsPx: readonly number[]
  /** The first frame that is missing or wrong where the thing can be seen; null if there is none. */
  readonly firstFault: number | null
  readonly isLossSaid: boolean
  /** Of the club head up to impact, metres a second, with the ruler at the ball and at the hands. */
  readonly speed: { readonly atBall: PointSpeed; readonly atHands: PointSpeed } | null
}

const maxMarks = 3

const timesOf = (film: PathFilm) => ({
  atSeconds: Float64Array.from({ length: film.frames }, (_, i) => i / film.captureRate),
  playbackRate: film.captureRate,
  captureRate: film.captureRate,
})

/** The body's points as a library reads them once it knows takeaway and impact. */
const readBody = (film: PathFilm, model: Awaited<ReturnType<typeof loadPoseModel>>): Promise<BodyTrack> =>
  findBody(model, {
    ffmpegPath: findFfmpeg(),
    clip: film.file,
    width: film.width,
    height: film.height,
    frames: framesToRead(
      {
        fromFrame: 0,
        toFrame: film.frames - 1,
        moments: [
          { name: 'takeaway', frame: film.takeawayFrame },
          { name: 'impact', frame: film.impactFrame },
        ],
      },
      timesOf(film),
    ),
  })

const factsOf = ({ truth: _truth, clubHeadMps, ...film }: PathFilm): FilmFacts => ({
  ...film,
  trueMps: clubHeadMps[film.impactFrame - 1]!,
})

const followThing = async (
  film: PathFilm,
  thing: FollowedThing,
  marks: readonly FollowMark[],
  body: BodyTrack,
): Promise<FollowedResult> => {
  const truth = film.truth[thing]
  const { track, lost } = await followInClip({
    ffmpegPath: findFfmpeg(),
    file: film.file,
    width: film.width,
    height: film.height,
    captureRate: film.captureRate,
    name: thing,
    marks,
    first: 0,
    last: film.frames - 1,
    body,
  })
  const within = withinM[thing] * film.pixelsPerMeter + 1
  const count = { visible: 0, right: 0, rightHidden: 0, wrong: 0 }
  const errorsPx: number[] = []
  let firstFault: number | null = null
  for (let frame = 0; frame < film.frames; frame++) {
    const found = placeOn(track, frame)
    const real = truth[frame]
    const error = found && real ? Math.hypot(found.x - real.x, found.y - real.y) : null
    const isRight = error !== null && error <= within
    if (error !== null) errorsPx.push(error)
    if (found && !isRight) count.wrong += 1
    if (!real) continue
    if (real.isSeen) count.visible += 1
    if (isRight) count[real.isSeen ? 'right' : 'rightHidden'] += 1
    else if (real.isSeen) firstFault ??= frame
  }
  const speedBy = (pixelsPerMeter: number) => {
    const upTo = [track, timesOf(film), film.impactFrame - 1, pixelsPerMeter] as const
    return isSeenFromItsEnd(...upTo) ? null : pointSpeed(...upTo)
  }
  const [atBall, atHands] =
    thing === 'club head' ? [speedBy(film.ballPixelsPerMeter), speedBy(film.pixelsPerMeter)] : []
  return {
    film: factsOf(film),
    thing,
    marks: marks.length,
    ...count,
    errorsPx,
    firstFault,
    isLossSaid: lost.length > 0,
    speed: atBall && atHands ? { atBall, atHands } : null,
  }
}

/** From one mark at the setup, then as a coach would go on: a mark on the first frame that is missing or wrong. */
export const followAsCoach = async (
  film: PathFilm,
  thing: FollowedThing,
  seed: number,
  body: BodyTrack,
): Promise<FollowedResult[]> => {
  const { between } = chance(seed * 31 + film.frames + followedThings.indexOf(thing))
  const truth = film.truth[thing]
  /** A mark is put a pixel or so beside the middle. */
  const markOn = (frame: number): FollowMark => ({
    frame,
    x: truth[frame]!.x + between(-1.5, 1.5),
    y: truth[frame]!.y + between(-1.5, 1.5),
  })
  const start = truth.findIndex((p, frame) => p?.isSeen && frame >= Math.round(0.1 * film.captureRate))
  if (start < 0) return []
  const marks = [markOn(start)]
  const results = [await followThing(film, thing, marks, body)]
  while (marks.length < maxMarks) {
    const fault = results.at(-1)!.firstFault
    if (fault === null || marks.some((m) => m.frame === fault)) break
    marks.push(markOn(fault))
    results.push(await followThing(film, thing, marks, body))
  }
  return results
}

const quantile = (values: readonly number[], q: number): string => {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted.length === 0
    ? '–'
    : sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))]!.toFixed(1)
}

const row = (label: string, own: readonly FollowedResult[]): (string | number)[] => {
  const sum = (of: (r: FollowedResult) => number) => own.reduce((total, r) => total + of(r), 0)
  const errors = own.flatMap((r) => r.errorsPx)
  const claimed = sum((r) => r.right + r.rightHidden + r.wrong)
  const incomplete = own.filter((r) => r.firstFault !== null)
  return [
    label,
    own.length,
    share(
      sum((r) => r.right),
      sum((r) => r.visible),
    ),
    share(
      sum((r) => r.wrong),
      claimed,
    ),
    quantile(errors, 0.5),
    quantile(errors, 0.9),
    `${incomplete.filter((r) => r.isLossSaid).length} of ${incomplete.length}`,
  ]
}

const head = ['', 'points', 'seen frames right', 'claimed wrongly', 'median px', '90 % px', 'loss said']

/** One film for `npm test`, or all: twenty at 480, one at 1080. */
const filmsOf = (small: boolean): (readonly [number, 480 | 1080])[] =>
  small ? [[2, 480]] : [...Array.from({ length: 20 }, (_, index) => [index, 480] as const), [2, 1080]]

export const run = async (world: WorldRun): Promise<FollowedResult[]> => {
  const { small, seed, print, piece = { index: 1, count: 1 } } = world
  const folder = mkdtempSync(path.join(os.tmpdir(), 'leadside-path-'))
  const found: { once: FollowedResult; helped: FollowedResult }[] = []
  try {
    const model = await loadPoseModel()
    const films = filmsOf(small).filter((_, i) => i % piece.count === piece.index - 1)
    for (const [index, height] of films) {
      const film = await filmPath(seed, index, height, folder)
      const body = await readBody(film, model)
      for (const thing of followedThings) {
        const results = await followAsCoach(film, thing, seed, body)
        if (results.length > 0) found.push({ once: results[0]!, helped: results.at(-1)! })
      }
      rmSync(film.file)
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
  const all = allPieces('path', world, found)
  if (!all) return found.map((f) => f.once)
  const once = all.map((f) => f.once)
  const helped = all.map((f) => f.helped)
  const by = (label: string, of: (r: FollowedResult) => boolean) => {
    const own = once.filter(of)
    return own.length === 0 ? [] : [row(label, own)]
  }
  print(
    'From one mark at the setup, with the body’s points read; a place is right within the thing (3 cm for the ball, 6 cm for the club head, 9 cm for the others).',
  )
  print(
    worldTable(head, [
      ...followedThings.flatMap((thing) => by(thing, (r) => r.thing === thing)),
      ...[240, 120, 60, 30].flatMap((rate) => by(`${rate} frames/s`, (r) => r.film.captureRate === rate)),
      ...by('480 high', (r) => r.film.height === 480),
      ...by('1080 high', (r) => r.film.height === 1080),
      ...by('tripod', (r) => r.film.shake === 'tripod'),
      ...by('by hand', (r) => r.film.shake === 'by hand'),
      ...by('somebody walks through', (r) => r.film.isCrossed),
    ]),
  )
  print(`With up to ${maxMarks - 1} more marks, each on the first frame that is missing or wrong.`)
  print(
    worldTable(
      [...head, 'marks'],
      followedThings.flatMap((thing) => {
        const own = helped.filter((r) => r.thing === thing)
        return own.length === 0
          ? []
          : [[...row(thing, own), (own.reduce((sum, r) => sum + r.marks, 0) / own.length).toFixed(1)]]
      }),
    ),
  )
  printSpeeds(
    helped.filter((r) => r.thing === 'club head'),
    print,
  )
  return once
}

const printSpeeds = (own: readonly FollowedResult[], print: WorldRun['print']) => {
  const told = own.flatMap(({ film, speed }) => (speed ? [{ film, ...speed }] : []))
  print(
    `Speed of the club head up to impact, from the picture, against its true speed in space: told in ${told.length} of ${own.length} films, by rate and by where the ruler lay.`,
  )
  const row = (label: string, of: (r: (typeof told)[number]) => PointSpeed, rates: readonly number[]) => {
    const films = told.filter((r) => rates.includes(r.film.captureRate))
    const off = films.map((r) => of(r).speedMps / r.film.trueMps - 1)
    const within = (sds: number) =>
      films.filter((r) => Math.abs(of(r).speedMps - r.film.trueMps) <= sds * of(r).sdMps).length
    return [
      label,
      films.length,
      percent(median(off)),
      percent(median(off.map(Math.abs))),
      percent(Math.max(...off.map(Math.abs))),
      percent(median(films.map((r) => of(r).sdMps / of(r).speedMps))),
      `${within(1)} of ${films.length}`,
      `${within(2)} of ${films.length}`,
    ]
  }
  const rows = [[240], [120], [60, 30]].flatMap((rates) =>
    told.some((r) => rates.includes(r.film.captureRate))
      ? [
          row(`${rates.join(' and ')} frames/s, ruler at the ball`, (r) => r.atBall, rates),
          row(`${rates.join(' and ')} frames/s, ruler at the hands`, (r) => r.atHands, rates),
        ]
      : [],
  )
  print(
    worldTable(
      ['', 'films', 'off, median', 'off either way, median', 'most', '± said', 'within ±', 'within 2 ±'],
      rows,
    ),
  )
}

const percent = (value: number): string => `${(100 * value).toFixed(0)} %`
