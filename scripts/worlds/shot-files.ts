import { judge, oddFile } from '../../tests/shared-core/shots/odd-files.ts'
import { share, worldTable, type WorldRun } from './support/world.ts'

export const name = 'Files of shot records'

/** How many files are wrong without a word, by what is odd about them. */
export const run = ({ small, seed, print }: WorldRun) => {
  const files = small ? 400 : 6000
  const counts = new Map<string, Record<'right' | 'said' | 'refused' | 'wrong', number>>()
  const wrong: string[] = []
  for (let k = 0; k < files; k++) {
    const file = oddFile(seed + k)
    const { verdict, why } = judge(file)
    for (const key of ['all files', ...new Set(file.oddities)]) {
      const row = counts.get(key) ?? { right: 0, said: 0, refused: 0, wrong: 0 }
      row[verdict]++
      counts.set(key, row)
    }
    if (verdict === 'wrong') wrong.push(`seed ${seed + k}: ${why} (${file.oddities.join(', ')})`)
  }
  print(
    `${files} files. Right: every value, club, sign and the order. Said: right but for what the reader says it assumed or left out. Refused: a problem instead of shots. Wrong: without a word.`,
  )
  print(
    worldTable(
      ['what is odd', 'files', 'right', 'said', 'refused', 'wrong'],
      [...counts]
        .sort((a, b) => (a[0] === 'all files' ? -1 : b[0] === 'all files' ? 1 : a[0] < b[0] ? -1 : 1))
        .map(([key, c]) => {
          const of = c.right + c.said + c.refused + c.wrong
          return [key, of, share(c.right, of), share(c.said, of), share(c.refused, of), c.wrong]
        }),
    ),
  )
  if (wrong.length > 0) print(wrong.slice(0, 20).join('\n'))
  return { files, wrong: counts.get('all files')!.wrong, refused: counts.get('all files')!.refused }
}
