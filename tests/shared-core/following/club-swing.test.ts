import { describe, expect, it } from 'vitest'
import { clubSwing, innerShare, outerShare, rays } from '../../../shared-core/following/club-swing.ts'

const captureRate = 120
const frames = 60
const samples = 80
const step = (outerShare - innerShare) / samples
const degree = Math.PI / 180

/** A club that goes back slowly, stops and comes down ever faster, to 2,000 degrees a second; degrees. */
const angleAt = (frame: number): number =>
  frame < 20 ? 90 - 5 * frame : -10 + Math.max(0, frame - 25) ** 2 * (250 / 35 ** 2)
const endAt = (frame: number): number => 1 + 0.15 * Math.sin(frame / 12)

/** Looks of a shaft along one ray, laid into those of a frame. */
const put = (looks: Uint8Array, frame: number, degrees: number, end: number, strength = 230) => {
  const ray = ((Math.round(degrees) % rays) + rays) % rays
  for (let k = 0; k < samples; k++) {
    if (innerShare + (k + 1) * step <= end) looks[(frame * rays + ray) * samples + k] = strength
  }
}

const sightOf = (seen: (frame: number) => boolean, more: (looks: Uint8Array) => void = () => undefined) => {
  const looks = new Uint8Array(frames * rays * samples)
  for (let frame = 0; frame < frames; frame++) {
    if (seen(frame)) put(looks, frame, angleAt(frame), endAt(frame))
  }
  more(looks)
  return { frames, samples, looks }
}

const offDegrees = (angle: number, degrees: number): number => {
  const d = angle - degrees * degree
  return Math.abs(Math.atan2(Math.sin(d), Math.cos(d))) / degree
}

const pins = new Map([[2, { angle: angleAt(2) * degree, endShare: endAt(2) }]])

describe('a club that turns about the hands', () => {
  it('is found on every frame, to a degree and to a fiftieth of its length', () => {
    const swing = clubSwing(
      sightOf(() => true),
      captureRate,
      pins,
    )
    swing.forEach((s, frame) => {
      expect(offDegrees(s.angle, angleAt(frame))).toBeLessThan(1.1)
      expect(Math.abs(s.endShare - endAt(frame))).toBeLessThan(0.021)
      expect(s.seen).toBeGreaterThan(0.3)
    })
  })

  it('is found again on the far side of a gap, and says that it was not seen in the gap', () => {
    const swing = clubSwing(
      sightOf((frame) => frame < 30 || frame > 36),
      captureRate,
      pins,
    )
    for (const frame of [28, 29, 38, 45, 55]) {
      expect(offDegrees(swing[frame]!.angle, angleAt(frame))).toBeLessThan(1.1)
      expect(swing[frame]!.seen).toBeGreaterThan(0.3)
    }
    for (const frame of [31, 33, 35]) expect(swing[frame]!.seen).toBe(0)
  })

  it('is not a longer thing that stands still, nor one that jumps', () => {
    const swing = clubSwing(
      sightOf(
        () => true,
        (looks) => {
          // A leg that moved a little, longer than the club, on half of the frames; and flashes all round, longer and brighter.
          for (let frame = 20; frame < 50; frame++) put(looks, frame, 100, 1.4, 160)
          for (let frame = 0; frame < frames; frame += 3) put(looks, frame, 200 + 37 * frame, 1.6, 255)
        },
      ),
      captureRate,
      pins,
    )
    for (const frame of [5, 15, 22, 27, 52, 58]) {
      expect(offDegrees(swing[frame]!.angle, angleAt(frame))).toBeLessThan(1.6)
    }
  })

  it('is as sure as nothing else explains the frames: two shafts alike leave little between them', () => {
    const alone = clubSwing(
      sightOf(() => true),
      captureRate,
      pins,
    )
    const twins = clubSwing(
      sightOf(
        () => true,
        (looks) => {
          for (let frame = 0; frame < frames; frame++) put(looks, frame, angleAt(frame) + 40, endAt(frame))
        },
      ),
      captureRate,
      new Map(),
    )
    expect(alone[30]!.margin).toBeGreaterThan(0.3)
    expect(twins[30]!.margin).toBeLessThan(0.05)
  })

  it('lies where the head was marked, whatever else is seen there', () => {
    const marked = new Map([[10, { angle: (angleAt(10) + 60) * degree, endShare: 0.8 }]])
    const swing = clubSwing(
      sightOf(() => true),
      captureRate,
      marked,
    )
    expect(offDegrees(swing[10]!.angle, angleAt(10) + 60)).toBeLessThan(4)
    expect(Math.abs(swing[10]!.endShare - 0.8)).toBeLessThan(0.06)
  })
})
