import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { chance } from '../../demo-media/chance.ts'
import { findFfmpeg } from '../../demo-media/encode.ts'
import { followInClip } from '../../electron/library/following/follow-worker.ts'
import { placeOn, type FollowMark } from '../../shared-core/following/followed-track.ts'
import { pointSpeed } from '../../shared-core/following/point-speed.ts'
import { filmPath, followedThings, withinM, type FollowedThing, type PathFilm } from './support/path-film.ts'
import { share, worldTable, type WorldRun } from './support/world.ts'

export const name = 'Followed points: club head, hands, head, knee and ball of the figure'

/** One point of one film, followed from its mark, or with marks put where it was lost or wrong. */
export interface FollowedResult {
  readonly film: PathFilm
  readonly thing: FollowedThing
  readonly marks: number
  /** Frames on which the thing can be seen. */
  readonly visible: number
  readonly right: number
  /** Claimed, and off the thing. */
  readonly wrong: number
  /** Claimed where the thing is hidden or gone. */
  readonly claimedHidden: number
  readonly errorsPx: readonly number[]
  /** The first frame that is missing or wrong where the thing can be seen; null if there is none. */
  readonly firstFault: number | null
  readonly isLossSaid: boolean
  readonly speed: { readonly found: number; readonly sd: number; readonly true: number } | null
}

const maxMarks = 4

const followThing = async (
  film: PathFilm,
  thing: FollowedThing,
  marks: readonly FollowMark[],
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
  })
  const within = withinM[thing] * film.pixelsPerMeter + 1
  const count = { visible: 0, right: 0, wrong: 0, claimedHidden: 0 }
  const errorsPx: number[] = []
  let firstFault: number | null = null
  for (let frame = 0; frame < film.frames; frame++) {
    const found = placeOn(track, frame)
    const real = truth[frame]
    if (real) count.visible += 1
    if (found && real) {
      const error = Math.hypot(found.x - real.x, found.y - real.y)
      errorsPx.push(error)
      if (error <= within) count.right += 1
      else count.wrong += 1
      if (error > within) firstFault ??= frame
    } else if (found) count.claimedHidden += 1
    else if (real) firstFault ??= frame
  }
  const found =
    thing === 'club head'
      ? pointSpeed(
          track,
          {
            atSeconds: Float64Array.from({ length: film.frames }, (_, i) => i / film.captureRate),
            playbackRate: film.captureRate,
            captureRate: film.captureRate,
          },
          film.impactFrame - 1,
          film.pixelsPerMeter,
        )
      : null
  return {
    film,
    thing,
    marks: marks.length,
    ...count,
    errorsPx,
    firstFault,
    isLossSaid: lost.length > 0,
    speed: found && {
      found: found.speedMps,
      sd: found.sdMps,
      true: film.clubHeadMps[film.impactFrame - 1]!,
    },
  }
}

/** From one mark at the setup, then as a coach would go on: a mark on the first frame that is missing or wrong. */
export const followAsCoach = async (
  film: PathFilm,
  thing: FollowedThing,
  seed: number,
): Promise<FollowedResult[]> => {
  const { between } = chance(seed * 31 + film.frames + followedThings.indexOf(thing))
  const truth = film.truth[thing]
  /** A mark is put a pixel or so beside the middle. */
  const markOn = (frame: number): FollowMark => ({
    frame,
    x: truth[frame]!.x + between(-1.5, 1.5),
    y: truth[frame]!.y + between(-1.5, 1.5),
  })
  const start = truth.findIndex((p, frame) => p !== null && frame >= Math.round(0.1 * film.captureRate))
  if (start < 0) return []
  const marks = [markOn(start)]
  const results = [await followThing(film, thing, marks)]
  while (marks.length < maxMarks) {
    const fault = results.at(-1)!.firstFault
    if (fault === null || marks.some((m) => m.frame === fault)) break
    marks.push(markOn(fault))
    results.push(await followThing(film, thing, marks))
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
  const claimed = sum((r) => r.right + r.wrong + r.claimedHidden)
  const incomplete = own.filter((r) => r.firstFault !== null)
  return [
    label,
    own.length,
    share(
      sum((r) => r.right),
      sum((r) => r.visible),
    ),
    share(
      sum((r) => r.wrong + r.claimedHidden),
      claimed,
    ),
    quantile(errors, 0.5),
    quantile(errors, 0.9),
    `${incomplete.filter((r) => r.isLossSaid).length} of ${incomplete.length}`,
  ]
}

const head = ['', 'points', 'seen frames right', 'claimed wrongly', 'median px', '90 % px', 'loss said']

export const run = async ({ small, seed, print }: WorldRun): Promise<FollowedResult[]> => {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'leadside-path-'))
  const once: FollowedResult[] = []
  const helped: FollowedResult[] = []
  try {
    const films = small
      ? ([[2, 480]] as const)
      : ([
          [0, 480],
          [1, 480],
          [2, 480],
          [3, 480],
          [4, 480],
          [5, 480],
          [6, 480],
          [2, 1080],
        ] as const)
    for (const [index, height] of films) {
      const film = await filmPath(seed, index, height, folder)
      for (const thing of followedThings) {
        const results = await followAsCoach(film, thing, seed)
        if (results.length === 0) continue
        once.push(results[0]!)
        helped.push(results.at(-1)!)
      }
      rmSync(film.file)
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
  const by = (label: string, of: (r: FollowedResult) => boolean) => {
    const own = once.filter(of)
    return own.length === 0 ? [] : [row(label, own)]
  }
  print(
    'From one mark at the setup; a place is right within the thing (3 cm for the ball, 6 to 9 cm for the others).',
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
  print('Speed of the club head just before impact, from the picture, against its true speed in space.')
  print(
    worldTable(
      ['film', 'frames/s', 'found m/s', '± said', 'true m/s', 'off'],
      helped
        .filter((r) => r.thing === 'club head')
        .map(({ film, speed }) => [
          film.name,
          film.captureRate,
          speed ? speed.found.toFixed(1) : 'not told',
          speed ? speed.sd.toFixed(1) : '',
          film.clubHeadMps[film.impactFrame - 1]!.toFixed(1),
          speed ? `${(100 * (speed.found / speed.true - 1)).toFixed(0)} %` : '',
        ]),
    ),
  )
  return once
}
