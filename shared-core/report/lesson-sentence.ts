import { metricLabel, metricText, type UnitSystem } from '../units.ts'
import { comparisonRows, type ComparisonCell, type ComparisonRow } from './comparison-rows.ts'
import type { LessonReport } from './lesson-report.ts'
import { said } from '../wording/phrase.ts'

const carriesFirst = ['carryM', 'efficiency', 'ballSpeedMps', 'clubSpeedMps'] as const

const sureCells = (row: ComparisonRow): ComparisonCell[] =>
  carriesFirst.flatMap((metric) => row.cells.filter((c) => c.metric === metric && c.isSure))

const cellWords = (cell: ComparisonCell, units: UnitSystem): string => {
  const { metric, difference, interval } = cell
  const sd = interval ? (interval[1] - interval[0]) / 3.92 : null
  return `${metricLabel(metric)} ${metricText(metric, difference, units, { signed: true, sd })}`
}

/** Of two rows, the one that speaks of more carry, then of more efficiency, gained for sure. */
const gainOf = (row: ComparisonRow): number[] =>
  carriesFirst.map((metric) => row.cells.find((c) => c.metric === metric && c.isSure)?.difference ?? 0)

const moreGain = (a: ComparisonRow, b: ComparisonRow): number => {
  const [left, right] = [gainOf(a), gainOf(b)]
  for (let i = 0; i < left.length; i++) if (left[i] !== right[i]) return right[i]! - left[i]!
  return 0
}

const bestRow = (report: LessonReport): ComparisonRow | null =>
  comparisonRows(report)
    .filter((row) => row.isComparable && sureCells(row).length > 0)
    .sort(moreGain)[0] ?? null

/** The name of the block that was surely different from the baseline, and best; null if none was. */
export const betterBlock = (report: LessonReport): string | null => bestRow(report)?.after ?? null

/** Which block was better than the baseline and by how much, in one sentence; null where there is nothing to compare. */
export const betterBlockSentence = (report: LessonReport): string | null => {
  const rows = comparisonRows(report).filter((r) => r.isComparable)
  if (rows.length === 0) return null
  const best = bestRow(report)
  if (!best) return said('lesson.noneSure', { before: rows[0]!.before })
  const cells = sureCells(best).map((c) => cellWords(c, report.units))
  return said('lesson.better', { after: best.after, before: best.before, cells: cells.join(', ') })
}

/** What holds the carry back, in as few words as it can be said. */
const leakSentence = (report: LessonReport): string | null => {
  const held = report.holdingBack
  if (!held) return null
  const [sentence] = held.suspicion ? [held.sentence] : held.sentence.split(/[:;]/)
  return sentence ? `${sentence.trim().replace(/\.$/, '')}.` : null
}

/** The lesson in one line for the top of its face: what holds back, and which block was better by how much. */
export const lessonSentence = (report: LessonReport): string | null => {
  const parts = [leakSentence(report), betterBlockSentence(report)].filter((part) => part !== null)
  return parts.length > 0 ? parts.join(' ') : null
}
