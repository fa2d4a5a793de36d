import { z } from 'zod'

/**
 * The numeric metrics of one shot, SI units and degrees, null where the device gave none.
 *
 * Signs, for every player: directions are + to the right of the target line seen from behind the ball.
 * `spinAxisDeg` + tilts the axis so that the ball curves right. `attackDeg` + is upward.
 * `impactXMm` is the strike's place on the face, + towards the toe; `impactYMm` + towards the crown; both
 * from the face centre.
 */
export const metricNames = [
  'clubSpeedMps',
  'ballSpeedMps',
  'launchDeg',
  'launchDirectionDeg',
  'spinRpm',
  'spinAxisDeg',
  'carryM',
  'totalM',
  'sideM',
  'apexM',
  'descentDeg',
  'flightSeconds',
  'attackDeg',
  'clubPathDeg',
  'faceDeg',
  'dynamicLoftDeg',
  'impactXMm',
  'impactYMm',
] as const

export type MetricName = (typeof metricNames)[number]

/** A shot’s numbers, SI, degrees and rpm; null where nothing was recorded. */
export type ShotMetrics = Record<MetricName, number | null>

const metric = z.number().finite().nullable()

/** The numbers of a shot. */
export const shotMetricsSchema = z.object(
  Object.fromEntries(metricNames.map((name) => [name, metric])) as Record<MetricName, typeof metric>,
)

/** Something about a value that a coach should look at; never a reason to drop the shot. */
export const shotFlagSchema = z.object({
  metric: z.string(),
  code: z.enum(['impossible', 'unlikely', 'inconsistent']),
  message: z.string(),
})
export type ShotFlag = z.infer<typeof shotFlagSchema>

/** A unit that no file stated: taken from the size of the values or from another column, until the coach confirms it. */
export const assumedUnitSchema = z.object({ metric: z.enum(metricNames), unit: z.string() })
export type AssumedUnit = z.infer<typeof assumedUnitSchema>

/** One row of a file of shot records, as the reader of shared-core/shots returns it. */
export const shotReadingSchema = shotMetricsSchema.extend({
  /** Line in the file, 1-based, as a text editor counts (the line where the record starts). */
  line: z.number().int().positive(),
  /** Club code (model/club.ts) or the file's own word; null if the file names none. */
  club: z.string().nullable(),
  /** Wall time of the device, ISO 8601 as precise as the file gives it, without zone if the file gives none. */
  at: z.string().nullable(),
  /** Text of a column named block (or session part), if any. */
  block: z.string().nullable(),
  /** Columns that were not recognised, by their header, as text. */
  other: z.record(z.string(), z.string()),
  flags: z.array(shotFlagSchema),
})
export type ShotReading = z.infer<typeof shotReadingSchema>

/** A shot of which nothing is known. */
export const noMetrics = (): ShotMetrics =>
  Object.fromEntries(metricNames.map((name) => [name, null])) as ShotMetrics
