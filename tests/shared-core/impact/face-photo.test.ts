import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { faceAxes, placeOnFace, type FaceMarks } from '../../../shared-core/impact/face-photo.ts'

/** A right-hander's driver, sole down, toe on the left: 400 px for 100 mm. */
const marks: FaceMarks = { toe: { x: 100, y: 300 }, heel: { x: 500, y: 300 }, lengthMm: 100 }

describe('a photo of the face', () => {
  test('gives millimetres towards the toe and up, from the middle of the two marks', () => {
    const middle = placeOnFace({ x: 300, y: 300 }, marks, 'right')!
    expect(Math.hypot(middle.xMm, middle.yMm)).toBe(0)
    expect(placeOnFace({ x: 260, y: 300 }, marks, 'right')!.xMm).toBeCloseTo(10, 9)
    expect(placeOnFace({ x: 300, y: 260 }, marks, 'right')!.yMm).toBeCloseTo(10, 9)
  })

  test('a left-hander’s photo is the mirror image', () => {
    const mirrored = { toe: { x: 500, y: 300 }, heel: { x: 100, y: 300 }, lengthMm: 100 }
    const place = placeOnFace({ x: 340, y: 280 }, mirrored, 'left')!
    expect(place.xMm).toBeCloseTo(10, 9)
    expect(place.yMm).toBeCloseTo(5, 9)
  })

  test('turning and enlarging the photo changes no place', () => {
    const coordinate = fc.double({ min: -400, max: 400, noNaN: true })
    fc.assert(
      fc.property(
        coordinate,
        coordinate,
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: 0.2, max: 5, noNaN: true }),
        (x, y, angle, size) => {
          const turn = (p: { x: number; y: number }) => ({
            x: size * (p.x * Math.cos(angle) - p.y * Math.sin(angle)) + 70,
            y: size * (p.x * Math.sin(angle) + p.y * Math.cos(angle)) - 30,
          })
          const turned = { ...marks, toe: turn(marks.toe), heel: turn(marks.heel) }
          const [plain, other] = [
            placeOnFace({ x, y }, marks, 'right')!,
            placeOnFace(turn({ x, y }), turned, 'right')!,
          ]
          expect(other.xMm).toBeCloseTo(plain.xMm, 6)
          expect(other.yMm).toBeCloseTo(plain.yMm, 6)
        },
      ),
    )
  })

  test('two marks on one place, or no length, give no scale', () => {
    expect(faceAxes({ ...marks, heel: marks.toe }, 'right')).toBeNull()
    expect(placeOnFace({ x: 1, y: 1 }, { ...marks, lengthMm: 0 }, 'right')).toBeNull()
  })
})
