import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  filled,
  filledAbout,
  fitScale,
  largerArrangement,
  placement,
} from '../../renderer/stage-engine/viewport.ts'
import { playerBox } from '../../shared-core/body/player-box.ts'

const picture = { width: 1920, height: 1080 }
const canvas = { width: 500, height: 800 }

test('a picture that fills its place is framed on the player, as far as there is picture', () => {
  const player = { x: 500, y: 250, width: 300, height: 600 }
  const view = filledAbout(player)(picture, canvas)
  const { x, scaleX } = placement(view, picture, canvas, false)
  expect(x + (player.x + player.width / 2) * scaleX).toBeCloseTo(canvas.width / 2, 6)
  // The ball lies before the feet, lower in the picture.
  const low = filledAbout(player)(picture, { width: 1600, height: 500 })
  const place = placement(low, picture, { width: 1600, height: 500 }, false)
  expect(place.y + (player.y + 1.25 * player.height) * place.scaleY).toBeLessThanOrEqual(500)
  expect(place.y + (player.y - 0.1 * player.height) * place.scaleY).toBeGreaterThanOrEqual(0)
  // At the very edge of the picture the edge stays where it is: no black beside it.
  const atEdge = filledAbout({ ...player, x: 0 })(picture, canvas)
  expect(placement(atEdge, picture, canvas, false).x).toBeCloseTo(0, 6)
})

test('whoever stands anywhere in the picture is whole in sight, and half of the picture at least', () => {
  fc.assert(
    fc.property(
      fc.record({ width: fc.integer({ min: 200, max: 900 }), height: fc.integer({ min: 200, max: 900 }) }),
      fc.tuple(
        fc.nat(1000),
        fc.nat(1000),
        fc.integer({ min: 60, max: 900 }),
        fc.integer({ min: 60, max: 900 }),
      ),
      (room, [x, y, w, h]) => {
        const player = { x: (x * (1920 - w)) / 1000, y: (y * (1080 - h)) / 1000, width: w, height: h }
        const view = filledAbout(player)(picture, room)
        expect(view.scale).toBeLessThanOrEqual(2 * fitScale(picture, room) + 1e-9)
        expect(view.scale).toBeGreaterThanOrEqual(fitScale(picture, room) - 1e-9)
        const place = placement(view, picture, room, false)
        expect(place.x + player.x * place.scaleX).toBeGreaterThanOrEqual(-1e-6)
        expect(place.x + (player.x + player.width) * place.scaleX).toBeLessThanOrEqual(room.width + 1e-6)
        expect(place.y + player.y * place.scaleY).toBeGreaterThanOrEqual(-1e-6)
        expect(place.y + (player.y + player.height) * place.scaleY).toBeLessThanOrEqual(room.height + 1e-6)
      },
    ),
  )
})

test('where nobody knows where the player is, nothing is cut above or below, and half of the width at most', () => {
  const sides = fc.integer({ min: 200, max: 2000 })
  fc.assert(
    fc.property(
      fc.record({ width: sides, height: sides }),
      fc.record({ width: sides, height: sides }),
      (clip, room) => {
        const view = filled(clip, room)
        expect(clip.height * view.scale).toBeLessThanOrEqual(room.height + 1e-6)
        expect(clip.width * view.scale).toBeLessThanOrEqual(2 * room.width + 1e-6)
        expect(view.scale).toBeGreaterThanOrEqual(fitScale(clip, room) - 1e-9)
      },
    ),
  )
})

test('two swings stand one above the other only where the players are larger so', () => {
  const two = [picture, picture].map((size) => ({ size, startView: filled }))
  expect(largerArrangement(two, { width: 824, height: 530 })).toBe('side')
  expect(largerArrangement(two, { width: 530, height: 900 })).toBe('stacked')
  // About as large either way, and the whole picture is in sight one above the other only.
  expect(largerArrangement(two, { width: 743, height: 868 })).toBe('stacked')
  const upright = { width: 1080, height: 1920 }
  const phones = [upright, upright].map((size) => ({ size, startView: filled }))
  expect(largerArrangement(phones, { width: 530, height: 900 })).toBe('side')
  // A small player in a wide picture is larger across the whole width: side by side, half of the width is in sight at most.
  const small = filledAbout({ x: 860, y: 500, width: 200, height: 300 })
  const wide = { width: 3000, height: 1000 }
  const far = [wide, wide].map((size) => ({ size, startView: small }))
  expect(largerArrangement(far, { width: 900, height: 700 })).toBe('stacked')
})

test('the player’s place comes from the points that were read, single stray ones left out, and from nothing else', () => {
  const frames = Int32Array.from({ length: 10 }, (_, i) => i)
  const points = new Float32Array(10 * 17 * 3)
  for (let k = 0; k < 170; k++) points.set([400 + (k % 17) * 10, 200 + (k % 10) * 50, 0.9], 3 * k)
  points.set([1900, 1000, 0.9], 0)
  points.set([0, 0, 0.1], 3)
  const box = playerBox({ frames, points })!
  expect(box.x).toBe(400)
  expect(box.x + box.width).toBe(560)
  expect(box.y + box.height).toBe(650)
  expect(playerBox({ frames: frames.slice(0, 2), points: points.slice(0, 102) })).toBeNull()
})
