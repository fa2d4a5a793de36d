/** What a world gets: its size, where chance starts (same seed, same world), and where its tables go. */
export interface WorldRun {
  /** The size that runs in `npm test`. */
  small: boolean
  seed: number
  /** Takes markdown, a paragraph or a table at a time. */
  print: (text: string) => void
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
