import { expect, test } from 'vitest'
import { run } from '../../scripts/worlds/pairing.ts'

// The small size; the full table, with the aim itself (1 % wrong), is in pairing.md.
test('clips and shots that arrive in any order: no shot is lost, pairs by hand stay, a pair shown as sure is the true one', async () => {
  const lines: string[] = []
  const { rows, all, lost, brokenByHand } = await run({
    small: true,
    seed: 20_270_101,
    print: (text) => lines.push(text),
  })
  console.log(lines.join('\n'))
  expect(lost).toBe(0)
  expect(brokenByHand).toBe(0)
  expect(all.wrong / all.pairs).toBeLessThanOrEqual(0.02)
  // Where both sides tell the second, nearly all are found, whatever came first.
  for (const name of ['clips first', 'shots first', 'in turns, each in any order', 'newest first']) {
    const { right, pairs } = rows.find((row) => row.name === name)!.counts
    expect(right / pairs, name).toBeGreaterThan(0.9)
  }
})
