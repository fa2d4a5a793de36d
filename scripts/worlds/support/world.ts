import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'

/** What a world gets: its size, where chance starts (same seed, same world), and where its tables go. */
export interface WorldRun {
  /** The size that runs in `npm test`. */
  small: boolean
  seed: number
  /** Takes markdown, a paragraph or a table at a time. */
  print: (text: string) => void
  /** Only a part of it is made, the index-th of so many from 1; a world that can't be cut leaves it out of account. */
  piece?: { readonly index: number; readonly count: number }
}

/**
 * What each piece of a world found, kept until all are there; then all of it, in order, and null before. Without pieces what
 * was found itself.
 */
export function allPieces<T>(world: string, { seed, piece }: WorldRun, found: readonly T[]): T[] | null {
  if (!piece) return [...found]
  const folder = path.join(import.meta.dirname, '..', '..', '..', '.leadside', 'worlds')
  mkdirSync(folder, { recursive: true })
  const fileOf = (index: number) => path.join(folder, `${world}-${seed}-${index}-of-${piece.count}.json`)
  writeFileSync(fileOf(piece.index), JSON.stringify(found))
  const files = Array.from({ length: piece.count }, (_, i) => fileOf(i + 1))
  if (!files.every((file) => existsSync(file))) return null
  const all = files.flatMap((file) => JSON.parse(readFileSync(file, 'utf8')) as T[])
  for (const file of files) rmSync(file)
  return all
}

/** Rows as a markdown table, columns lined up for reading as plain text. */
export function worldTable(head: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  const cells = rows.map((row) => row.map(String))
  const widths = head.map((title, i) =>
    Math.max(3, title.length, ...cells.map((row) => (row[i] ?? '').length)),
  )
  const line = (row: readonly string[]): string =>
    `| ${widths.map((w, i) => (row[i] ?? '').padEnd(w)).join(' | ')} |`
  return ['', line(head), line(widths.map((w) => '-'.repeat(w))), ...cells.map(line), ''].join('\n')
}

/** "93 %" of the counted; "–" where nothing was counted. */
export const share = (hits: number, of: number): string =>
  of === 0 ? '–' : `${Math.round((1000 * hits) / of) / 10} %`
