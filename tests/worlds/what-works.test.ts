import { expect, test } from 'vitest'
import { run } from '../../scripts/worlds/what-works.ts'

// The small size with room for chance; the full table is in what-works.md.
test('across students of known answers the summary covers the truth, and nothing is told of what does nothing', () => {
  const tables: string[] = []
  const outcomes = run({ small: true, seed: 4_700_000, print: (text) => tables.push(text) })
  console.log(tables.join('\n'))
  // What comes with any later block, and a slow start, are in the summary against the baseline, but not told of the focus.
  const fair = outcomes.filter(({ label }) => !/faster later|by need/.test(label))
  const sum = (of: (one: (typeof fair)[number]) => number) => fair.reduce((all, one) => all + of(one), 0)
  expect(sum((one) => one.spoken)).toBeGreaterThan(250)
  expect(sum((one) => one.covered) / sum((one) => one.spoken)).toBeGreaterThanOrEqual(0.93)
  expect(sum((one) => one.falselyTold) / sum((one) => one.coaches)).toBeLessThanOrEqual(0.05)
  const unfair = outcomes.filter((one) => !fair.includes(one))
  expect(unfair.length).toBe(2)
  for (const one of unfair) expect(one.falselyTold / one.coaches, one.label).toBeLessThanOrEqual(0.1)
  // Thirty students who differ: a metre a second is mostly found.
  expect(fair.find(({ label }) => label.startsWith('30 students, +1'))!.found).toBeGreaterThan(24)
})
