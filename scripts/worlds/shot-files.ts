import { judge, type Judged } from '../../tests/shared-core/shots/judge-odd-file.ts'
import { oddFile } from '../../tests/shared-core/shots/odd-files.ts'
import { share, worldTable, type WorldRun } from './support/world.ts'

export const name = 'Files of shot records'

/** How many files are wrong without a word, by what is odd about them. */
export const run = ({ small, seed, print }: WorldRun) => {
  const files = small ? 400 : 6000
  const counts = new Map<string, Record<Judged['verdict'], number>>()
  const wrong: string[] = []
  let real = 0
  let leftOut = 0
  let unitsWrong = 0
  for (let k = 0; k < files; k++) {
    const file = oddFile(seed + k)
    const judged = judge(file)
    real += file.told.filter((t) => !t.isBroken).length
    leftOut += judged.leftOut
    if (judged.isUnitWrong) unitsWrong++
    for (const key of ['all files', ...new Set(file.oddities)]) {
      const row = counts.get(key) ?? { right: 0, said: 0, refused: 0, wrong: 0 }
      row[judged.verdict]++
      counts.set(key, row)
    }
    if (judged.verdict === 'wrong') {
      wrong.push(`seed ${seed + k}: ${judged.why} (${file.oddities.join(', ')})`)
    }
  }
  const { refused, ...all } = counts.get('all files')!
  print(
    `${files} files. Right: every value, club, block, time, sign and the order, with nothing assumed. Said: right but for what the reader says it assumed, kept unrecognised or left out; a value is wrong unless it is the file's number in the unit the reader says. Refused: a problem instead of shots. Wrong: without a word, a missing value included.`,
  )
  print(
    `Of ${real} shots that stand whole in the files, ${leftOut} were left out (each said). In ${unitsWrong} files an assumed unit was not the true one (said).`,
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
  return { files, right: all.right, wrong: all.wrong, refused, real, leftOut }
}
