import { bare } from './unit.ts'

const averageWords = [
  'average',
  'averages',
  'avg',
  'mean',
  'median',
  'std dev',
  'std deviation',
  'stdev',
  'stddev',
  'standard deviation',
  'sd',
  'consistency',
  'summary',
  'durchschnitt',
  'mittelwert',
  'mittel',
  'schnitt',
  'standardabweichung',
  'stdabw',
  'std abweichung',
  'promedio',
  'media',
  'desviación estándar',
  'desviación típica',
  'moyenne',
  'écart type',
  'écart-type',
  'médiane',
  'mediana',
]
/** These may also be names or blocks, so they count only where no club or text but a number was to be expected. */
const extremeWords = [
  'min',
  'max',
  'minimum',
  'maximum',
  'total',
  'sum',
  'count',
  'range',
  'best',
  'summe',
  'gesamt',
  'anzahl',
  'total:',
  'suma',
  'somme',
]

const spelled = (words: readonly string[]) => new Set(words.map((w) => bare(w).replace(/[-:]/g, '')))
const averages = spelled(averageWords)
const extremes = spelled(extremeWords)

/**
 * The word that makes a line a footer ("Average", "Std. Dev.") and no shot, or null. Such a word must fill a whole
 * cell and be the first text of the line.
 */
export const summaryRowWord = (cells: readonly string[]): string | null => {
  const first = cells.find((cell) => cell.trim() !== '')
  const firstWord = cells.find((cell) => /\p{L}{2}/u.test(cell))
  for (const cell of [first, firstWord]) {
    if (cell === undefined) continue
    const text = bare(cell).replace(/[-:]/g, '')
    if (averages.has(text)) return cell.trim()
  }
  return first !== undefined &&
    cells[0] === first &&
    extremes.has(bare(first).replace(/[-:]/g, '')) &&
    /:|^[a-z]+$/i.test(first.trim())
    ? first.trim()
    : null
}
