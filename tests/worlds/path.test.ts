import { describe, expect, it } from 'vitest'
import { run } from '../../scripts/worlds/path.ts'

describe('points followed through a made film', () => {
  it('are hardly ever claimed where they are not, and where one is lost it is said', async () => {
    const results = await run({ small: true, seed: 20_270_102, print: (text) => console.log(text) })
    expect(results.length).toBeGreaterThan(3)
    const claimed = results.reduce((sum, r) => sum + r.right + r.rightHidden + r.wrong, 0)
    const wrong = results.reduce((sum, r) => sum + r.wrong, 0)
    expect(wrong / claimed).toBeLessThan(0.05)
    for (const r of results) {
      if (r.firstFault !== null && r.wrong === 0) expect(r.isLossSaid).toBe(true)
    }
    const head = results.find((r) => r.thing === 'head')!
    expect(head.right / head.visible).toBeGreaterThan(0.9)
  }, 120_000)
})
