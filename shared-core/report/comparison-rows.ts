import { isSureChange } from '../change/comparison-cells.ts'
import type { CueMetric } from '../change/cue-report.ts'
import type { ShownMetric } from '../units.ts'
import type { LessonReport } from './lesson-report.ts'
import { pictureMetrics } from './lesson-picture.ts'

/** One cell of the table of comparisons: a metric's difference from the baseline, in the metric's own unit. */
export interface ComparisonCell {
  metric: ShownMetric
  difference: number | null
  interval: [number, number] | null
  isSure: boolean
}

/** A row of the lesson's table: one block against the baseline, a cell a metric. */
export interface ComparisonRow {
  /** Names of the blocks, the baseline first. */
  before: string
  after: string
  club: string | null
  isComparable: boolean
  cells: ComparisonCell[]
}

/** The comparisons as rows of a table, the same metrics in each; new metrics get a column by being named. */
export const comparisonRows = (
  report: Pick<LessonReport, 'comparisons'>,
  metrics: readonly ShownMetric[] = pictureMetrics,
): ComparisonRow[] =>
  report.comparisons.map(({ before, after, club, isComparable, metrics: found }) => ({
    before,
    after,
    club,
    isComparable,
    cells: metrics.map((metric) => {
      const row = found.find((m) => m.metric === metric)
      return {
        metric,
        difference: row?.difference ?? null,
        interval: row?.interval ?? null,
        isSure: row !== undefined && isSureChange(row),
      }
    }),
  }))

/** What the pictures give gets a column like any metric: tempo, brace, lead knee and head at impact. */
const pictureColumns: readonly ShownMetric[] = [
  'tempoRatio',
  'braceBeforeImpactSeconds',
  'leadKneeImpactDeg',
  'headAlongImpactWidths',
]

/** The same rows for what the pictures give; columns and rows without a value are left away. */
export const pictureRows = (report: Pick<LessonReport, 'measures'>): ComparisonRow[] => {
  if (report.measures === null) return []
  const rows = comparisonRows({ comparisons: report.measures.comparisons }, pictureColumns)
  const has = (metric: ShownMetric) =>
    rows.some((row) => row.cells.some((cell) => cell.metric === metric && cell.difference !== null))
  return rows
    .map((row) => ({ ...row, cells: row.cells.filter((cell) => has(cell.metric)) }))
    .filter((row) => row.cells.some((cell) => cell.difference !== null))
}

/** A row of the table by cue: the swings tagged with it against the others of the same blocks, a cell a metric. */
export interface CueRow {
  /** Key of the cue. */
  cue: string
  tagged: number
  untagged: number
  cells: ComparisonCell[]
}

/**
 * Every cue that stands on enough swings of a block, and not on others, for a difference to be told from chance at all, the most
 * tagged first: by what the player did, and by what the pictures give; columns without a value are left away.
 */
export const cueRows = (report: Pick<LessonReport, 'cues' | 'measures'>): CueRow[][] => [
  rowsByCue(report.cues.rows, ['clubSpeedMps', 'efficiency']),
  rowsByCue(report.measures?.cues.rows ?? [], pictureColumns),
]

const rowsByCue = (all: readonly CueMetric[], metrics: readonly ShownMetric[]): CueRow[] => {
  const found = all.filter((row) => row.difference !== null)
  const columns = metrics.filter((metric) => found.some((row) => row.metric === metric))
  return [...new Set(found.map((row) => row.cue))]
    .map((cue) => {
      const own = found.filter((row) => row.cue === cue)
      return {
        cue,
        tagged: Math.max(...own.map((row) => row.tagged)),
        untagged: Math.max(...own.map((row) => row.untagged)),
        cells: columns.map((metric) => {
          const row = own.find((each) => each.metric === metric)
          return {
            metric,
            difference: row?.difference ?? null,
            interval: row?.interval ?? null,
            isSure: row?.verdict === 'differs',
          }
        }),
      }
    })
    .filter((row) => row.cells.some((cell) => cell.interval !== null))
    .sort((a, b) => b.tagged - a.tagged)
}

/** Per metric the farthest end of any interval, so that the bars of a column can be compared. */
export const reachOf = (rows: readonly { cells: readonly ComparisonCell[] }[], metric: ShownMetric): number =>
  Math.max(
    0,
    ...rows.flatMap((row) =>
      row.cells
        .filter((c) => c.metric === metric)
        .flatMap((c) => [...(c.interval ?? []), c.difference ?? 0].map(Math.abs)),
    ),
  )
