import { orderWords } from '../../shared-core/shots/shot-order.ts'
import type { ShotColumn, ShotsProblem, ShotsReading } from '../../shared-core/shots/read-shots.ts'
import { readingLinesTexts } from '../../shared-core/wording/command-line/reading-lines.ts'

/** What a reader of a file met, a line each, as every command that rests on the file prints it. */
export const problemLines = (problems: readonly ShotsProblem[]): string[] =>
  problems.map((p) =>
    readingLinesTexts('lineLineColumnMessage', {
      line: p.line,
      column: p.column ? `, ${p.column}` : '',
      message: p.message,
    }),
  )

export const readingLines = (reading: Pick<ShotsReading, 'order' | 'problems'>): string[] => [
  `${orderWords(reading.order)}.`,
  ...problemLines(reading.problems),
]

/** What a column was taken as, for the coach who looks at a file. */
export const columnWords = ({ target, unit, how, sideOf }: ShotColumn): string => {
  if (sideOf !== null) return readingLinesTexts('sideSideOf', { sideOf })
  if (how === 'second') return readingLinesTexts('keptBesideShotAnother')
  if (target === null) return readingLinesTexts('notRecognised')
  const assumed =
    how === 'assumed'
      ? readingLinesTexts('noUnitInFile')
      : how === 'like'
        ? readingLinesTexts('noUnitInFileAssumed')
        : ''
  return `${target}${unit ? readingLinesTexts('inUnit', { unit }) : ''}${assumed}`
}
