import { describe, expect, test } from 'vitest'
import { soundInStep, strikeFrame, usualSoundSdSeconds } from '../../../shared-core/moments/strike-frame.ts'
import { chanceFrom, normal } from './synthetic-sound.ts'

const film = (rate: number) => ({
  real: Float64Array.from({ length: 200 }, (_, i) => i / rate),
  frameSeconds: 1 / rate,
  soundSdSeconds: usualSoundSdSeconds,
  inStep: 0.8,
})

describe('the last frame before a ball left', () => {
  test('a ball seen to go between two frames: a sound that runs 0.2 s late or early moves nothing', () => {
    for (const late of [-0.2, 0.2, 0.5]) {
      const heard = [{ atSeconds: 100.5 / 60 + late, chance: 0.95 }]
      const { frame, within } = strikeFrame({ lastSeen: 100, goneBy: 101 }, heard, film(60))
      expect(frame).toBe(100)
      expect(within).toBeGreaterThan(0.9)
    }
  })

  test('a club that covers it for seven frames: the sound tells where in there; without one it went in the first of them, for no club covers it so long', () => {
    const ball = { lastSeen: 100, goneBy: 107 }
    for (const at of [100, 102, 104, 106]) {
      const { frame, within } = strikeFrame(ball, [{ atSeconds: (at + 0.5) / 60, chance: 0.95 }], film(60))
      expect(Math.abs(frame - at)).toBeLessThanOrEqual(1)
      expect(within).toBeGreaterThan(0.75)
    }
    const silent = strikeFrame(ball, [], film(60))
    expect(silent.frame).toBe(102)
    const covered = strikeFrame({ lastSeen: 100, goneBy: 105 }, [], film(120))
    expect(covered.frame).toBe(102)
    expect(covered.within).toBeCloseTo((3 / 5) * 0.91, 2)
    expect(strikeFrame({ lastSeen: 100, goneBy: 101 }, [], film(60)).within).toBeGreaterThan(0.95)
  })

  test('what is said of it is as often right, with sounds of which one in five is out of step', () => {
    const chance = chanceFrom(5)
    let said = 0
    let right = 0
    const count = 3000
    for (let i = 0; i < count; i++) {
      const rate = [30, 60, 120, 240][i % 4]!
      const width = 1 + Math.floor(chance() * 8)
      const struck = (100 + chance() * width) / rate
      const late = chance() < 0.8 ? usualSoundSdSeconds * normal(chance) : 0.5 * (chance() - 0.5)
      const ball = { lastSeen: 100, goneBy: 100 + width }
      const { frame, within } = strikeFrame(ball, [{ atSeconds: struck + late, chance: 0.98 }], film(rate))
      said += within
      if (Math.abs(frame - Math.floor(struck * rate)) <= (rate === 240 ? 2 : 1)) right++
    }
    // It allows for balls that went before or after what was seen, of which there are none here: a little less is said.
    expect(right / count).toBeGreaterThan(said / count - 0.01)
    expect(right / count).toBeLessThan(said / count + 0.08)
  })
})

describe('a sound alone', () => {
  test('shows the very frame the less surely the closer frames are and the farther it is from the motion', () => {
    const sure = (rate: number, after: number | null) => soundInStep(film(rate), after)
    expect(sure(30, 0.05)).toBeGreaterThan(0.85)
    expect(sure(240, 0.05)).toBeLessThan(sure(60, 0.05))
    expect(sure(30, 0.25)).toBeLessThan(0.4)
    expect(sure(30, -0.2)).toBeLessThan(0.2)
    expect(sure(30, null)).toBeCloseTo(0.8, 2)
  })
})
