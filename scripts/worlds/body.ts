import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { findFfmpeg } from '../../demo-media/encode.ts'
import type { Vec3 } from '../../demo-media/vector.ts'
import { findBody } from '../../electron/library/body/find-body.ts'
import { loadPoseModel } from '../../electron/library/body/pose-model.ts'
import type { framesToRead } from '../../shared-core/body/frames-to-read.ts'
import { handMarks, markOf, rightWithinSeconds, withinFrames } from '../../shared-core/body/body-marks.ts'
import { restingSpeedMps } from '../../shared-core/body/hand-marks.ts'
import { bodyMeasures, type BodyMeasures } from '../../shared-core/body/body-measures.ts'
import type { MeasureName } from '../../shared-core/model/measures.ts'
import type { BodyTrack } from '../../shared-core/body/body-track.ts'
import { tempoMeasures } from '../../shared-core/swing-measures/tempo-measures.ts'
import { frameNearest } from '../../shared-core/timing/clip-clock.ts'
import { filmBody, inPicture, inventedBody, pixelsPerMeterAt } from './support/body-film.ts'
import type { BodyFilm, FilmedBody } from './support/body-film.ts'
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

/** True values, angles as the picture shows them, lengths in metres in space. */
const truthOf = (film: BodyFilm): Partial<Record<MeasureName, number>> => {
  const { setup, top, impact, brace } = film.moments
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
    // In the capture the pelvis never stops before impact: no truth for a brace there.
    ...(film.ballAt ? { braceBeforeImpactSeconds: impact - brace } : {}),
  }
}

/** A film with the body points that were read in it. */
export interface ReadBody {
  readonly filmed: FilmedBody
  readonly track: BodyTrack
  readonly seconds: number
  readonly frames: number
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
  return { filmed, track: { ...track, frames }, seconds, frames: filmed.frames.length + 15 }
}

/** What is measured in a read film, against the truth. */
export const measureFilm = (
  film: BodyFilm,
  { filmed, track }: ReadBody,
): { errors: BodyError[]; found: BodyMeasures } => {
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
  const { tempoRatio } = tempoMeasures(marked, filmed.times, 'file', within)
  if (tempoRatio && marked.filter((m) => m.how === 'body' && m.name !== 'finish').length === 2) {
    const { value, sd } = tempoRatio
    note(`tempo ratio${kind}`, value - trueRatio, sd)
    if (film.ballAt && film.captureRate >= 100) note('tempo ratio, from 120/s', value - trueRatio, sd)
  }
  if (film.ballAt) {
    const { tempoRatio: alone } = tempoMeasures(filmed.motion, filmed.times, 'file')
    if (alone) note('tempo ratio, motion alone', alone.value - trueRatio, alone.sd)
  }
  return { errors, found }
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

export const run = async ({ small, seed, print }: WorldRun): Promise<BodyError[]> => {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'leadside-body-'))
  const model = await loadPoseModel()
  const errors: BodyError[] = []
  const rows: (string | number)[][] = []
  try {
    for (const index of small ? [0, 2] : Array.from({ length: fullFilms[480] }, (_, i) => i)) {
      // The small size: the figure large, the captured swing small.
      for (const height of small
        ? [index === 0 ? (1080 as const) : (480 as const)]
        : ([1080, 480] as const).filter((h) => index < fullFilms[h])) {
        const film = inventedBody(seed, index, height)
        const read = await readFilm(film, model, folder)
        const one = measureFilm(film, read)
        errors.push(...one.errors)
        rows.push([
          film.name,
          height,
          film.view,
          one.found.camera,
          film.isLeftHanded ? 'left' : 'right',
          film.captureRate,
          read.frames,
          (read.frames / read.seconds).toFixed(1),
        ])
      }
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
  print(worldTable(['film', 'height', 'filmed', 'taken as', 'side', 'rate', 'pictures', 'pictures/s'], rows))
  printErrors(errors, print)
  return errors
}

/** All that is said of the errors of some films. */
export const printErrors = (errors: readonly BodyError[], print: WorldRun['print']): void => {
  print(tableOfErrors(errors))
  print(
    'Right (takeaway within 80 ms, top 50, brace and release 60, finish 160) of those said at a confidence:',
  )
  print(reliabilityTable(errors))
  for (const which of [
    'tempo ratio, motion alone',
    'tempo ratio',
    'tempo ratio, from 120/s',
    'tempo ratio, captured',
  ]) {
    const own = errors.filter((e) => e.measure === which)
    print(
      `${which}: within 0.2 in ${share(own.filter((e) => Math.abs(e.error) <= 0.2).length, own.length)} of ${own.length}.`,
    )
  }
}
