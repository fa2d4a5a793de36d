import { orderWords } from '../../shared-core/shots/shot-order.ts'
import type { ShotsProblem, ShotsReading } from '../../shared-core/shots/read-shots.ts'

/** What a reader of a file met, a line each, as every command that rests on the file prints it. */
export const problemLines = (problems: readonly ShotsProblem[]): string[] =>
  problems.map((p) => `line ${p.line}${p.column ? `, ${p.column}` : ''}: ${p.message}`)

export const readingLines = (reading: Pick<ShotsReading, 'order' | 'problems'>): string[] => [
  `${orderWords(reading.order)}.`,
  ...problemLines(reading.problems),
]
