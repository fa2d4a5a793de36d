import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { findFfmpeg } from '../../demo-media/encode.ts'
import type { Vec3 } from '../../demo-media/vector.ts'
import { findBody } from '../../electron/library/body/find-body.ts'
import { loadPoseModel } from '../../electron/library/body/pose-model.ts'
import { handMarks } from '../../shared-core/body/body-marks.ts'
import { restingSpeedMps } from '../../shared-core/body/hand-marks.ts'
import { bodyMeasures, type BodyMeasures } from '../../shared-core/body/body-measures.ts'
import type { MeasureName } from '../../shared-core/model/measures.ts'
import type { BodyTrack } from '../../shared-core/body/body-track.ts'
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
): Promise<ReadBody> => {
  const filmed = await filmBody(film, folder)
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
  return { filmed, track, seconds, frames: filmed.frames.length + 15 }
}

/** What is measured in a read film, against the truth. */
export const measureFilm = (
  film: BodyFilm,
  { filmed, track }: ReadBody,
): { errors: BodyError[]; found: BodyMeasures } => {
  const { heightPx: height } = film.camera
  const impact = filmed.moments.find((m) => m.name === 'impact')!
  const late = filmed.at[impact.frame]! - film.moments.impact
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
  const marks = handMarks({
    track,
    times: filmed.times,
    moments: filmed.motion,
    side: film.isLeftHanded ? 'left' : 'right',
    tiltDeg: 0,
  })
  const markOf = (name: string) => marks.find((m) => m.name === name)
  const byMotion = (name: string) => {
    const mark = filmed.motion.find((m) => m.name === name)!
    return filmed.at[mark.frame]! - filmed.at[filmed.motion.find((m) => m.name === 'impact')!.frame]!
  }
  for (const [name, is] of [
    ['takeaway', takeaway],
    ['top', top],
    ...(film.ballAt ? [['finish', handsAtRest(film)] as const] : []),
  ] as const) {
    const mark = markOf(name)
    if (mark) note(name + kind, mark.atSeconds + late - (is - struck), mark.sdSeconds)
  }
  const ratio = (t: number, u: number) => (u - t) / -(u + late)
  const trueRatio = (top - takeaway) / (struck - top)
  const frameSd = 1 / film.captureRate / Math.sqrt(12)
  const [t, u] = [markOf('takeaway'), markOf('top')]
  if (t && u) {
    const r = ratio(t.atSeconds, u.atSeconds)
    const sd = Math.hypot(t.sdSeconds, (1 + r) * u.sdSeconds, r * frameSd) / -u.atSeconds
    note(`tempo ratio${kind}`, r - trueRatio, sd)
    if (film.ballAt && film.captureRate >= 100) note('tempo ratio, from 120/s', r - trueRatio, sd)
  }
  if (film.ballAt) {
    note('tempo ratio, motion alone', ratio(byMotion('takeaway'), byMotion('top')) - trueRatio, 0.5)
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

/** Films of the full world, each at both sizes. */
export const fullFilms = 16

export const run = async ({ small, seed, print }: WorldRun): Promise<BodyError[]> => {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'leadside-body-'))
  const model = await loadPoseModel()
  const errors: BodyError[] = []
  const rows: (string | number)[][] = []
  try {
    for (const index of small ? [0, 2] : Array.from({ length: fullFilms }, (_, i) => i)) {
      // The small size: the figure large, the captured swing small.
      for (const height of small
        ? [index === 0 ? (1080 as const) : (480 as const)]
        : ([1080, 480] as const)) {
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
  print(tableOfErrors(errors))
  const ratios = (which: string) => errors.filter((e) => e.measure === which)
  for (const which of ['tempo ratio, motion alone', 'tempo ratio', 'tempo ratio, from 120/s']) {
    const own = ratios(which)
    print(`${which}: within 0.2 in ${share(own.filter((e) => Math.abs(e.error) <= 0.2).length, own.length)}.`)
  }
  return errors
}
