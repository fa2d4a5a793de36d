import { expect, test } from 'vitest'
import { run as runBudget } from '../../scripts/worlds/lesson-budget.ts'
import { run as runPlaySpeed } from '../../scripts/worlds/play-speed.ts'
import { run as runVerdict } from '../../scripts/worlds/verdict.ts'

// The small sizes with room for chance; the full tables, with the aims themselves, are in verdict.md and lesson-budget.md.
test('strike or speed on worlds with known truth: what must not be said is not said, and most of what must be is', () => {
  const tables: string[] = []
  const outcomes = runVerdict({ small: true, seed: 4_400_000, print: (text) => tables.push(text) })
  console.log(tables.join('\n'))
  for (const { name, strike, speed } of outcomes) {
    const where = `${name}: strike ${strike} %, speed ${speed} %`
    if (name.includes('1.30') || name.includes('0.10 below')) {
      expect(strike, where).toBeGreaterThanOrEqual(80)
      expect(speed, where).toBe(0)
    } else if (name.includes('1.47') || name.includes('as the best do')) {
      expect(speed, where).toBeGreaterThanOrEqual(60)
      expect(strike, where).toBeLessThanOrEqual(5)
    } else {
      expect(speed, where).toBeLessThanOrEqual(10)
    }
  }
})

/**
 * Aims that the budget does not reach, with what 300 lessons of comparisons showed instead, in %. A drift is a difference that is really there:
 * what holds is that it isn't told without its drift. They may not get worse; a row that reaches its aim is taken out.
 */
const notReached: Readonly<Record<string, number>> = {
  'drift +2 mph': 15.7,
  'drift −2 mph': 15.7,
  '+3 mph in the last of 8 + 8 + 8, good device': 59,
}

test('lessons without an effect are rarely told of one, and effects worth having are found', () => {
  const tables: string[] = []
  const outcomes = runBudget({ small: true, seed: 4_500_000, print: (text) => tables.push(text) })
  console.log(tables.join('\n'))
  for (const { name, percent, aim } of outcomes) {
    const wanted = Number(aim.match(/\d+/)![0])
    const reached = notReached[name] ?? wanted
    if (reached !== wanted) console.log(`aim not reached: ${name}, wanted ${aim}, known ${reached} %`)
    // Sixty lessons: three standard errors of room.
    if (aim.startsWith('≤')) expect(percent, name).toBeLessThanOrEqual(reached + 10)
    else expect(percent, name).toBeGreaterThanOrEqual(reached - 20)
  }
})

test('the interval of the best speed covers the truth, and the speed given does not err towards danger', () => {
  const { spoken, covered, slowEnough } = runPlaySpeed({ small: true, seed: 4_600_000, print: console.log })
  expect(spoken).toBeGreaterThan(20)
  expect(covered / spoken).toBeGreaterThanOrEqual(0.9)
  expect(slowEnough / spoken).toBeGreaterThanOrEqual(0.9)
})
