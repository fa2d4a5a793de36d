import { expect, test } from 'vitest'
import { run, tableOfErrors } from '../../scripts/worlds/body.ts'
import { median } from '../../shared-core/statistics/median.ts'

// The aims of the full world (scripts/worlds/body.ts), on its small size: a figure at 1080 and a real captured swing at 480 high.
test('body measures meet the true joints of a figure and of a motion capture', async () => {
  const errors = await run({ small: true, seed: 4, print: (text) => console.log(text) })
  console.log(tableOfErrors(errors))
  const sizes = (names: readonly string[]) =>
    errors.filter((e) => names.includes(e.measure)).map((e) => Math.abs(e.error))
  const knee = sizes(['leadKneeSetupDeg', 'leadKneeTopDeg', 'leadKneeImpactDeg'])
  const headM = sizes(['headAlongTopWidths', 'headAlongImpactWidths'])
  expect(knee).toHaveLength(6)
  // Where the ears are not seen there is a gap, no value.
  expect(headM.length).toBeGreaterThanOrEqual(3)
  expect(median(knee)).toBeLessThanOrEqual(4)
  expect(median(headM)).toBeLessThanOrEqual(0.015)
  // Where neither ball nor sound told it, the hands tell the impact.
  const impacts = sizes(['impact by hands', 'impact by hands, captured'])
  expect(impacts).toHaveLength(2)
  expect(Math.max(...impacts)).toBeLessThanOrEqual(0.025)
  // What was said of the error holds, as far as two films can show it.
  const within = errors.filter((e) => Math.abs(e.error) <= 2 * e.sd).length
  expect(within / errors.length).toBeGreaterThanOrEqual(0.8)
}, 600_000)
