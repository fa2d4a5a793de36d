import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import v8 from 'node:v8'
import { findFfmpeg } from '../../demo-media/encode.ts'
import type { Vec3 } from '../../demo-media/vector.ts'
import { findBody } from '../../electron/library/body/find-body.ts'
import { loadPoseModel } from '../../electron/library/body/pose-model.ts'
import type { framesToRead } from '../../shared-core/body/frames-to-read.ts'
import { handMarks, markOf, rightWithinSeconds, withinFrames } from '../../shared-core/body/body-marks.ts'
import { slowedShare } from '../../shared-core/body/body-moments.ts'
import { restingSpeedMps } from '../../shared-core/body/hand-marks.ts'
import { bodyMeasures, type BodyMeasures } from '../../shared-core/body/body-measures.ts'
import type { MeasureName } from '../../shared-core/model/measures.ts'
import type { BodyTrack } from '../../shared-core/body/body-track.ts'
import { strikeInstant } from '../../shared-core/moments/strike-instant.ts'
import { tempoMeasures } from '../../shared-core/swing-measures/tempo-measures.ts'
import { frameNearest, realClock } from '../../shared-core/timing/clip-clock.ts'
import { clipOf, filmBody, inPicture, inventedBody, pixelsPerMeterAt } from './support/body-film.ts'
import type { BodyClip, BodyFilm } from './support/body-film.ts'
import { impactByHands, impactReliability, impactTable, type HandsTold } from './support/impact-by-hands.ts'
import { share, worldTable, type WorldRun } from './support/world.ts'

export const name = 'Body: measures against the figure’s own joints and a motion capture'

/** One measured value against its truth, and what was said of its error. */
export interface BodyError {
  readonly measure: string
  readonly height: number
  readonly film: string
  readonly error: number
  readonly sd: number
}

/** What was told of one film. */
export interface FilmTold {
  readonly isFigure: boolean
  readonly isFaceOn: boolean
  readonly rate: number
  /** The tempo's ratio against its truth; null where it was not told by the body. */
  readonly ratio: { readonly error: number; readonly sd: number } | null
  /** Whether the pelvis slows down before the strike, and whether a brace was told; null down the line, where it is not looked for. */
  readonly brace: { readonly is: boolean; readonly isTold: boolean } | null
  /** What the hands tell of the impact by themselves. */
  readonly byHands: readonly HandsTold[]
}

const angleInPicture = (film: BodyFilm, a: Vec3, v: Vec3, b: Vec3): number => {
  const [p, q, r] = [a, v, b].map((point) => inPicture(film, point)) as [
    { x: number; y: number },
    { x: number; y: number },
    { x: number; y: number },
  ]
  const one = Math.atan2(p.y - q.y, p.x - q.x)
  const two = Math.atan2(r.y - q.y, r.x - q.x)
  const turn = Math.abs(((one - two) * 180) / Math.PI) % 360
  return turn > 180 ? 360 - turn : turn
}

/**
 * When the pelvis has slowed down to its share for good (`braceOf`); null where it slides on past the strike, and in the capture, whose pelvis
 * never slows before it.
 */
const bracesAt = ({ ballAt, jointsAt, moments: { top, impact } }: BodyFilm): number | null => {
  if (!ballAt) return null
  const hips = (t: number) => (jointsAt(t).leadHip[0] + jointsAt(t).trailHip[0]) / 2
  const [step, until] = [0.002, impact + 0.08]
  const speeds = Array.from({ length: Math.round((until - top + 0.2) / step) }, (_, i) => {
    const t = until - i * step
    return { t, speed: (hips(t + step) - hips(t - step)) / (2 * step) }
  })
  const most = Math.max(...speeds.map((s) => s.speed))
  const last = speeds.findIndex((s) => s.speed > slowedShare * most)
  return last > 0 ? speeds[last]!.t : null
}

/** True values, angles as the picture shows them, lengths in metres in space. */
const truthOf = (film: BodyFilm): Partial<Record<MeasureName, number>> => {
  const { setup, top, impact } = film.moments
  const brace = bracesAt(film)
  const joints = { setup: film.jointsAt(setup), top: film.jointsAt(top), impact: film.jointsAt(impact) }
  const knee = (t: number) => {
    const j = film.jointsAt(t)
    return angleInPicture(film, j.leadHip, j.leadKnee, j.leadAnkle)
  }
  const along = (key: 'head' | 'pelvis', at: 'top' | 'impact') => joints[at][key][0] - joints.setup[key][0]
  return {
    leadKneeSetupDeg: knee(setup),
    leadKneeTopDeg: knee(top),
    leadKneeImpactDeg: knee(impact),
    leadKneeStraighteningDegPerS: (knee(impact) - knee(impact - 0.07)) / 0.07,
    headAlongTopWidths: along('head', 'top'),
    headAlongImpactWidths: along('head', 'impact'),
    headUpImpactWidths: joints.impact.head[1] - joints.setup.head[1],
    pelvisAlongImpactWidths: along('pelvis', 'impact'),
    ...(brace === null ? {} : { braceBeforeImpactSeconds: impact - brace }),
  }
}

/** The body points that were read in a film, and how long that took. */
export interface ReadBody {
  readonly track: BodyTrack
  readonly seconds: number
  readonly pictures: number
}

/** Renders one film at one size and reads the body in it. */
export const readFilm = async (
  film: BodyFilm,
  model: Awaited<ReturnType<typeof loadPoseModel>>,
  folder: string,
  plan?: typeof framesToRead,
): Promise<ReadBody> => {
  const filmed = await filmBody(film, folder, plan)
  const { widthPx: width, heightPx: height } = film.camera
  const start = performance.now()
  const track = await findBody(model, {
    ffmpegPath: findFfmpeg(),
    clip: filmed.file,
    width,
    height,
    frames: filmed.frames,
  })
  const seconds = (performance.now() - start) / 1000
  rmSync(filmed.file)
  // Told in frames of the whole clip, as the library reads it.
  const frames = Int32Array.from(track.frames, (f) => filmed.clipFrames[f]!)
  return { track: { ...track, frames }, seconds, pictures: filmed.frames.length + 15 }
}

/** What {@link readFilm} reads, kept in a folder from run to run where one is given: to go on with a long run, never after the reader changed. */
const keptFilm = async (file: string | null, read: () => Promise<ReadBody>): Promise<ReadBody> => {
  if (file && existsSync(file)) return v8.deserialize(readFileSync(file)) as ReadBody
  const found = await read()
  if (file) {
    mkdirSync(path.dirname(file), { recursive: true })
    writeFileSync(file, v8.serialize(found))
  }
  return found
}

/** What is measured in a read film, against the truth. */
export const measureFilm = (
  film: BodyFilm,
  track: BodyTrack,
  filmed: BodyClip = clipOf(film),
): { errors: BodyError[]; told: FilmTold; found: BodyMeasures } => {
  const { heightPx: height } = film.camera
  const impact = filmed.moments.find((m) => m.name === 'impact')!
  const secondOf = (frame: number) => filmed.startSeconds + filmed.times.atSeconds[frame]!
  const late = secondOf(impact.frame) - film.moments.impact
  const scale = pixelsPerMeterAt(film, film.jointsAt(film.moments.setup).pelvis)
  const found = bodyMeasures({
    track,
    times: filmed.times,
    moments: filmed.moments,
    side: film.isLeftHanded ? 'left' : 'right',
    camera: 'other',
    tiltDeg: 0,
    pixelsPerMeter: scale,
  })
  const truth = truthOf(film)
  const errors: BodyError[] = []
  const note = (measure: string, error: number, sd: number) =>
    errors.push({ measure, height, film: film.name, error, sd })
  for (const [measure, value] of Object.entries(found.values) as [
    MeasureName,
    { value: number; sd: number },
  ][]) {
    const real = truth[measure]
    if (real === undefined) continue
    const inMetres = measure.endsWith('Widths')
    const factor = inMetres ? (found.shoulderWidthM ?? NaN) : 1
    note(measure, value.value * factor - real, value.sd * factor)
  }
  const brace = found.moments.find((m) => m.name === 'brace')
  if (brace && truth.braceBeforeImpactSeconds !== undefined) {
    note('brace', brace.atSeconds + late + truth.braceBeforeImpactSeconds, brace.sdSeconds)
  }
  const release = found.moments.find((m) => m.name === 'release')
  if (release && film.ballAt) {
    note(
      'release',
      release.atSeconds + late - (film.moments.release - film.moments.impact),
      release.sdSeconds,
    )
  }
  // Takeaway, top and finish with what the motion said of them; the captured player never stands still and turns for 0.2 s.
  const kind = film.ballAt ? '' : ', captured'
  const { takeaway, top, impact: struck } = film.moments
  const side = film.isLeftHanded ? ('left' as const) : ('right' as const)
  const input = { track, times: filmed.times, side, tiltDeg: 0 }
  const marks = handMarks({ ...input, moments: filmed.motion })
  for (const [name, is] of [
    ['takeaway', takeaway],
    ['top', top],
    ...(film.ballAt ? [['finish', handsAtRest(film)] as const] : []),
  ] as const) {
    const mark = marks.find((m) => m.name === name)
    if (mark) note(name + kind, mark.atSeconds + late - (is - struck), mark.sdSeconds)
  }
  // As the library does it: the marks stand on frames, and tempo counts within them.
  const trueRatio = (top - takeaway) / (struck - top)
  const marked = filmed.motion.map((m) => {
    const own = marks.find((mark) => mark.name === m.name)
    return own ? { ...m, how: 'body', frame: frameNearest(filmed.times, impact.frame, own.atSeconds) } : m
  })
  const within = withinFrames({ ...input, moments: marked })
  const sounding = strikeInstantOf(film, filmed, impact.frame)
  const { tempoRatio } = tempoMeasures(marked, filmed.times, 'file', { ...within, impact: sounding })
  const isByBody = marked.filter((m) => m.how === 'body' && m.name !== 'finish').length === 2
  if (tempoRatio && isByBody) note(`tempo ratio${kind}`, tempoRatio.value - trueRatio, tempoRatio.sd)
  if (film.ballAt) {
    const { tempoRatio: alone } = tempoMeasures(filmed.motion, filmed.times, 'file', { impact: sounding })
    if (alone) note('tempo ratio, motion alone', alone.value - trueRatio, alone.sd)
  }
  const byHands = impactByHands(film, track, filmed)
  const [{ seen } = { seen: null }] = byHands
  if (seen) note(`impact by hands${kind}`, seen.error, seen.sd)
  const told: FilmTold = {
    isFigure: film.ballAt !== null,
    isFaceOn: film.view === 'face-on',
    rate: film.captureRate,
    ratio: isByBody && tempoRatio ? { error: tempoRatio.value - trueRatio, sd: tempoRatio.sd } : null,
    brace:
      film.view === 'face-on' && film.ballAt
        ? { is: truth.braceBeforeImpactSeconds !== undefined, isTold: brace !== undefined }
        : null,
    byHands,
  }
  return { errors, told, found }
}

/** When within its frame the strike of a film was, by its sound; its clock starts with the clip. */
const strikeInstantOf = (film: BodyFilm, { times, startSeconds }: BodyClip, frame: number) => {
  if (!film.heard) return undefined
  const real = realClock(times).map((t, _, all) => t - all[0]!)
  const heardAtSeconds = film.heard.atSeconds - startSeconds
  const strike = { impact: frame, ball: null, sounds: [{ heardAtSeconds, weight: 1 }] }
  return strikeInstant(strike, frame, real, film.heard.delay) ?? undefined
}

/** Real seconds from takeaway at which the hands have come to rest: slower than `restingSpeedMps` from there on. */
const handsAtRest = (film: BodyFilm): number => {
  const step = 0.01
  for (let t = film.moments.finish; t > film.moments.impact; t -= step) {
    const [a, b] = [film.jointsAt(t).leadHand, film.jointsAt(t - step).leadHand]
    if (Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) / step > restingSpeedMps) return t
  }
  return film.moments.impact
}

const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1] ?? NaN

/** Units of the tables: degrees, centimetres, milliseconds. */
const shownAs = (measure: string): [number, string] =>
  measure.endsWith('Widths')
    ? [100, 'cm']
    : measure.endsWith('PerS')
      ? [1, '°/s']
      : measure.endsWith('Deg')
        ? [1, '°']
        : measure.startsWith('tempo')
          ? [1, '']
          : [1000, 'ms']

export const tableOfErrors = (errors: readonly BodyError[]): string => {
  const measures = [...new Set(errors.map((e) => e.measure))]
  const heights = [...new Set(errors.map((e) => e.height))].sort((a, b) => b - a)
  return worldTable(
    [
      'measure',
      'height',
      'films',
      'median error',
      '90 % within',
      'median signed',
      'within 1 sd said',
      'within 2',
    ],
    measures.flatMap((measure) =>
      heights.flatMap((height) => {
        const own = errors.filter((e) => e.measure === measure && e.height === height)
        if (own.length === 0) return []
        const [factor, unit] = shownAs(measure)
        const sizes = own.map((e) => Math.abs(e.error) * factor)
        const inside = (most: number) => own.filter((e) => Math.abs(e.error) <= most * e.sd).length
        const digits = measure.startsWith('tempo') ? 2 : 1
        return [
          [
            measure,
            height,
            own.length,
            `${median([...sizes]).toFixed(digits)} ${unit}`,
            `${sizes.sort((a, b) => a - b)[Math.min(sizes.length - 1, Math.floor(sizes.length * 0.9))]!.toFixed(digits)} ${unit}`,
            `${median(own.map((e) => e.error * factor)).toFixed(digits)} ${unit}`,
            `${inside(1)} of ${own.length}`,
            `${inside(2)} of ${own.length}`,
          ],
        ]
      }),
    ),
  )
}

/** From where on a confidence counts as said in the rows of the reliability table. */
const confidenceSteps = [0.9, 0.8, 0.65, 0.5, 0]

/** How often a mark was right (within twice its aim) of those said at a confidence, by moment. */
export const reliabilityTable = (errors: readonly BodyError[]): string =>
  worldTable(
    ['moment', ...confidenceSteps.map((low) => (low === 0 ? 'below' : `said ${100 * low} % and more`))],
    (['takeaway', 'top', 'brace', 'release', 'finish'] as const).map((name) => {
      const own = errors
        .filter((e) => e.measure === name || e.measure === `${name}, captured`)
        .map((e) => ({
          isRight: Math.abs(e.error) <= rightWithinSeconds[name],
          said: markOf(name, { atSeconds: 0, sdSeconds: e.sd }).confidence,
        }))
      return [
        name,
        ...confidenceSteps.map((low, i) => {
          const there = own.filter((m) => m.said >= low && m.said < (confidenceSteps[i - 1] ?? 2))
          return there.length === 0 ? '–' : `${there.filter((m) => m.isRight).length}/${there.length}`
        }),
      ]
    }),
  )

/** Films of the full world at 480 high, and how many of them at 1080, too. */
export const fullFilms = { 480: 16, 1080: 10 } as const

/** Films of a run: figure and captured player at both sizes; in the small one the figure large and the captured player small. */
const filmsOf = (small: boolean): { index: number; height: 480 | 1080 }[] =>
  small
    ? [
        { index: 0, height: 1080 },
        { index: 2, height: 480 },
      ]
    : Array.from({ length: fullFilms[480] }, (_, index) =>
        ([1080, 480] as const).filter((h) => index < fullFilms[h]).map((height) => ({ index, height })),
      ).flat()

/**
 * A full run takes a quarter of an hour: LEADSIDE_FILM_READINGS may name a folder that keeps what was read, LEADSIDE_WORLD_MINUTES stop it after so many
 * minutes; the next run goes on from there.
 */
export const run = async ({ small, seed, print }: WorldRun): Promise<BodyError[]> => {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'leadside-body-'))
  const kept = process.env['LEADSIDE_FILM_READINGS']
  const end = performance.now() + 60_000 * Number(process.env['LEADSIDE_WORLD_MINUTES'] ?? Infinity)
  let model: Awaited<ReturnType<typeof loadPoseModel>> | undefined
  const errors: BodyError[] = []
  const told: FilmTold[] = []
  const rows: (string | number)[][] = []
  const films = filmsOf(small)
  try {
    for (const { index, height } of films) {
      if (performance.now() > end) {
        throw new Error(`${rows.length} of ${films.length} films are read: run it again to go on.`)
      }
      const film = inventedBody(seed, index, height)
      const read = await keptFilm(
        kept ? path.join(kept, `body-${seed}-${index}-${height}.bin`) : null,
        async () => readFilm(film, (model ??= await loadPoseModel()), folder),
      )
      const one = measureFilm(film, read.track)
      errors.push(...one.errors)
      told.push(one.told)
      rows.push([
        film.name,
        height,
        film.view,
        one.found.camera,
        film.isLeftHanded ? 'left' : 'right',
        film.captureRate,
        read.pictures,
        (read.pictures / read.seconds).toFixed(1),
      ])
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
  print(worldTable(['film', 'height', 'filmed', 'taken as', 'side', 'rate', 'pictures', 'pictures/s'], rows))
  printErrors(errors, told, print)
  return errors
}

/** All that is said of the errors of some films. */
export const printErrors = (
  errors: readonly BodyError[],
  told: readonly FilmTold[],
  print: WorldRun['print'],
): void => {
  print(tableOfErrors(errors))
  print(
    'Right (takeaway within 80 ms, top 50, brace and release 60, finish 160) of those said at a confidence:',
  )
  print(reliabilityTable(errors))
  print(
    'Tempo ratio by body and sound: right within 0.2. Not told: takeaway or top was not seen by the body (the motion alone says it with a ± of a half).',
  )
  print(tempoTable(told))
  const byHands = told.flatMap((t) => t.byHands)
  print(
    'Impact by the hands’ return alone, sound and ball taken away, at the film’s own rate and thinned out to 30 and 15 frames a second. Right: within a frame, from 200/s within two. Told by the motion: as far off as with the top, at 30 %.',
  )
  print(impactTable(byHands))
  print(impactReliability(byHands))
  const braces = told.flatMap(({ brace }) => (brace ? [brace] : []))
  const [slowing, sliding] = [true, false].map((is) => braces.filter((b) => b.is === is))
  const toldOf = (own: typeof braces) => `${own.filter((b) => b.isTold).length} of ${own.length}`
  print(
    `A brace was told in ${toldOf(slowing!)} films whose pelvis slows down before the strike, in ${toldOf(sliding!)} whose pelvis slides on.`,
  )
}

/** The aim of the tempo's ratio. */
const ratioAim = 0.2

/** How often a tempo's ratio was right where it was told as surely as the aim, and held where it was told with a wider ±; by how it was filmed. */
export const tempoTable = (ratios: readonly FilmTold[]): string => {
  const kinds: [string, (r: FilmTold) => boolean][] = [
    ['figure face on, from 120/s', (r) => r.isFigure && r.isFaceOn && r.rate >= 120],
    ['figure face on, 60/s', (r) => r.isFigure && r.isFaceOn && r.rate === 60],
    ['figure face on, 30/s', (r) => r.isFigure && r.isFaceOn && r.rate === 30],
    ['figure down the line', (r) => r.isFigure && !r.isFaceOn],
    ['captured face on', (r) => !r.isFigure && r.isFaceOn],
    ['captured down the line', (r) => !r.isFigure && !r.isFaceOn],
    ['all', () => true],
  ]
  return worldTable(
    [
      'tempo ratio',
      'films',
      '± of at most 0.2: right',
      'wrong',
      'wider ±: within 0.2',
      'within twice the ±',
      'outside',
      'not told',
      'within 0.2 of all told',
    ],
    kinds.flatMap(([name, isOwn]) => {
      const own = ratios.filter(isOwn)
      if (own.length === 0) return []
      const told = own.flatMap((r) => (r.ratio ? [r.ratio] : []))
      const isRight = (r: (typeof told)[number]) => Math.abs(r.error) <= ratioAim
      const sure = told.filter((r) => r.sd <= ratioAim)
      const wide = told.filter((r) => r.sd > ratioAim)
      const held = wide.filter((r) => !isRight(r) && Math.abs(r.error) <= 2 * r.sd).length
      const right = wide.filter(isRight).length
      return [
        [
          ...[name, own.length, sure.filter(isRight).length, sure.filter((r) => !isRight(r)).length],
          ...[right, held, wide.length - right - held, own.length - told.length],
          share(told.filter(isRight).length, told.length),
        ],
      ]
    }),
  )
}
