import { orderWords } from '../../shared-core/shots/shot-order.ts'
import type { ShotColumn, ShotsProblem, ShotsReading } from '../../shared-core/shots/read-shots.ts'

/** What a reader of a file met, a line each, as every command that rests on the file prints it. */
export const problemLines = (problems: readonly ShotsProblem[]): string[] =>
  problems.map((p) => `line ${p.line}${p.column ? `, ${p.column}` : ''}: ${p.message}`)

export const readingLines = (reading: Pick<ShotsReading, 'order' | 'problems'>): string[] => [
  `${orderWords(reading.order)}.`,
  ...problemLines(reading.problems),
]

/** What a column was taken as, for the coach who looks at a file. */
export const columnWords = ({ target, unit, how, sideOf }: ShotColumn): string => {
  if (sideOf !== null) return `the side of ${sideOf}`
  if (how === 'second') return 'kept beside the shot (another column gives this number)'
  if (target === null) return 'not recognised'
  const assumed =
    how === 'assumed'
      ? ' (no unit in the file, assumed from the size of the values: check)'
      : how === 'like'
        ? ' (no unit in the file, assumed as in another column: check)'
        : ''
  return `${target}${unit ? ` in ${unit}` : ''}${assumed}`
}
