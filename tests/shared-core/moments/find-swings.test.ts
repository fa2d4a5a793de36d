import { describe, expect, test } from 'vitest'
import { frameAtOrBefore } from '../../../shared-core/moments/frame-at.ts'
import type { GreyFrame } from '../../../shared-core/moments/motion-curve.ts'
import { evenTimes, sceneFrames, usualScene } from './synthetic-scene.ts'
import type { Scene } from './synthetic-scene.ts'
import { addHiss, addNeighbour, addStrike, addVoice, addWind, chanceFrom } from './synthetic-sound.ts'
import { impactsOf, swingsOf } from './whole-clip.ts'

const small = (changes: Partial<Scene>): Scene =>
  usualScene({ width: 108, height: 144, ballRadius: 1.7, ...changes })
const delay = 3 / 343.2

const track = (rate: number, seconds: number, start: number) => {
  const chance = chanceFrom(start)
  const pcm = new Float32Array(Math.round(rate * seconds))
  addWind(pcm, rate, 0.04, chance)
  addHiss(pcm, 0.001, chance)
  return { pcm, rate, chance }
}

describe('impact', () => {
  test('is right within a frame in varied clips with sound, and unsure where it is wrong', () => {
    let right = 0
    let surelyWrong = 0
    const runs = 36
    for (let start = 1; start <= runs; start++) {
      const chance = chanceFrom(start * 101)
      const rate = [24, 25, 30, 60, 120][start % 5]!
      const impactSeconds = 1.7 + 0.6 * chance()
      const scene = small({
        impactSeconds,
        start,
        mirrored: chance() < 0.5,
        noise: 1 + 3 * chance(),
        ground: 70 + 60 * chance(),
        ...(start % 9 === 0 ? { walker: { from: 0.3, to: 3 } } : {}),
      })
      let times = evenTimes(rate, impactSeconds + 1.2)
      if (start % 4 === 0) {
        times = times.map((t) => t + ((chance() - 0.5) * 0.6) / rate).filter(() => chance() > 0.05)
      }
      const sound = track([8000, 16_000, 22_050, 48_000][start % 4]!, impactSeconds + 1.5, start)
      const gain = 0.05 + 0.4 * chance()
      addStrike(sound.pcm, sound.rate, impactSeconds + delay, gain, chance, start % 2 ? 'driver' : 'iron')
      addVoice(sound.pcm, sound.rate, 0.1, impactSeconds - 0.3, 0.3 * gain, chance)
      // Up to twice as loud as the strike itself, before or after it.
      if (start % 3 === 0) {
        addNeighbour(
          sound.pcm,
          sound.rate,
          impactSeconds + (chance() - 0.5) * 2.6,
          gain * (0.3 + 1.7 * chance()),
          chance,
        )
      }
      const swings = swingsOf([...sceneFrames(scene, times)], sound)
      const best = impactsOf(swings).sort((a, b) => b.confidence - a.confidence)[0]
      const error = Math.abs((best?.frame ?? Infinity) - frameAtOrBefore(times, impactSeconds))
      if (error <= 1) right++
      else if (best!.confidence >= 0.5) surelyWrong++
    }
    console.log(
      `impact in drawn clips with sound: ${right} of ${runs} within one frame, ${surelyWrong} wrong and sure`,
    )
    expect(right / runs).toBeGreaterThanOrEqual(0.95)
    expect(surelyWrong).toBe(0)
  })

  test('is not the louder neighbour, before or after it, because the golfer was not swinging then', () => {
    for (const apart of [-1.1, -0.6, 0.7, 1.2]) {
      const scene = small({ impactSeconds: 2 })
      const times = evenTimes(30, 3.6)
      const sound = track(16_000, 3.6, 4)
      addStrike(sound.pcm, sound.rate, 2 + delay, 0.1, sound.chance)
      addStrike(sound.pcm, sound.rate, 2 + apart, 0.3, sound.chance)
      const [impact] = impactsOf(swingsOf([...sceneFrames(scene, times)], sound, { watchBall: false }))
      expect(impact!.frame).toBe(60)
      expect(impact!.how).toBe('sound')
    }
  })

  test('needs no sound where the ball is seen to leave', () => {
    const scene = small({ impactSeconds: 2.01 })
    const [impact] = impactsOf(swingsOf([...sceneFrames(scene, evenTimes(60, 3.5))], null))
    expect(impact!.how).toBe('motion')
    expect(Math.abs(impact!.frame - 120)).toBeLessThanOrEqual(1)
    expect(impact!.confidence).toBeGreaterThan(0.5)
  })

  test('is unsure when only the swing is seen', () => {
    const scene = small({ impactSeconds: 2, hasBall: false })
    const [impact] = impactsOf(swingsOf([...sceneFrames(scene, evenTimes(60, 3.5))], null))
    expect(impact!.confidence).toBeLessThan(0.5)
    expect(Math.abs(impact!.frame - 120)).toBeLessThan(12)
  })

  test('when nothing moves, a strike is heard on its frame but never sure, and two alike sounds leave it less so', () => {
    const still = small({ impactSeconds: 100 })
    const frames = [...sceneFrames(still, evenTimes(30, 3))]
    const one = track(48_000, 3, 9)
    addStrike(one.pcm, one.rate, 1.5 + delay, 0.3, one.chance)
    const [alone] = impactsOf(swingsOf(frames, one))
    expect(alone!.frame).toBe(45)
    expect(alone!.confidence).toBeLessThan(0.5)
    addStrike(one.pcm, one.rate, 2.2 + delay, 0.3, one.chance)
    const [unsure] = impactsOf(swingsOf(frames, one))
    expect(unsure!.confidence).toBeLessThan(alone!.confidence)
  })

  test('moves with the microphone: 12 m is 26 ms earlier than 3 m', () => {
    const still = small({ impactSeconds: 100 })
    const frames = [...sceneFrames(still, evenTimes(120, 2))]
    const sound = track(48_000, 2, 5)
    addStrike(sound.pcm, sound.rate, 1 + 12 / 343.2, 0.3, sound.chance)
    expect(impactsOf(swingsOf(frames, sound, { micDistanceM: 12 }))[0]!.frame).toBe(120)
    expect(impactsOf(swingsOf(frames, sound))[0]!.frame).toBe(123)
    expect(impactsOf(swingsOf(frames, sound, { audioLateSeconds: 9 / 343.2 }))[0]!.frame).toBe(120)
  })

  test('at a high rate is named by the ball when the microphone stands elsewhere than told', () => {
    const scene = small({ impactSeconds: 1.5 })
    const sound = track(48_000, 2.6, 6)
    addStrike(sound.pcm, sound.rate, 1.5 + 7 / 343.2, 0.3, sound.chance)
    const [impact] = impactsOf(swingsOf([...sceneFrames(scene, evenTimes(240, 2.5))], sound))
    expect(Math.abs(impact!.frame - 360)).toBeLessThanOrEqual(1)
    expect(impact!.how).toBe('sound+motion')
  })
})

describe('a long take', () => {
  const take = (scenes: Scene[]): GreyFrame[] => {
    const frames: GreyFrame[] = []
    scenes.forEach((scene, k) => {
      for (const frame of sceneFrames(scene, evenTimes(30, 4))) {
        frames.push({ ...frame, index: frames.length, atSeconds: frame.atSeconds + 4 * k })
      }
    })
    return frames
  }

  test('gives each struck swing with its own moments, in order, and leaves out the practice swing', () => {
    const frames = take([
      small({ impactSeconds: 2 }),
      small({ impactSeconds: 2.2, struck: false }),
      small({ impactSeconds: 2.1, start: 3 }),
    ])
    const sound = track(16_000, 12, 8)
    addStrike(sound.pcm, sound.rate, 2 + delay, 0.3, sound.chance)
    addStrike(sound.pcm, sound.rate, 10.1 + delay, 0.2, sound.chance)
    const swings = swingsOf(frames, sound)
    expect(impactsOf(swings).map((m) => m.frame)).toEqual([60, 303])
    for (const swing of swings) {
      const order = swing.moments.map((m) => m.frame)
      expect(order).toEqual([...order].sort((a, b) => a - b))
      expect(swing.fromFrame).toBeLessThanOrEqual(order[0]!)
      expect(swing.toFrame).toBeGreaterThanOrEqual(order.at(-1)!)
      expect(swing.moments.map((m) => m.name)).toEqual(['setup', 'takeaway', 'top', 'impact', 'finish'])
    }
    expect(swings[0]!.toFrame).toBeLessThan(swings[1]!.fromFrame)
  })

  test('without sound still gives both swings from the ball', () => {
    const swings = swingsOf(
      take([small({ impactSeconds: 2 }), small({ impactSeconds: 2.1, start: 3 })]),
      null,
    )
    expect(impactsOf(swings).map((m) => m.frame)).toEqual([60, 183])
  })
})

test('a clip in which nothing happens has no swings', () => {
  const still = small({ impactSeconds: 100 })
  expect(swingsOf([...sceneFrames(still, evenTimes(30, 2))], null)).toEqual([])
  expect(swingsOf([], null)).toEqual([])
})
