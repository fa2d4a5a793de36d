import { minScore, seenBox, shiftFields, type BodyTrack } from './body-track.ts'
import { jointCount, jointIndex, type JointName } from './joints.ts'
import { median } from '../statistics/median.ts'
import { legOf } from './stray-arms.ts'
import { patchMotion, readyFor, type GreySquare } from './picture-motion.ts'

/** A square of the shown picture, pixels. */
interface Square {
  readonly x: number
  readonly y: number
  readonly side: number
}

/** Half the disc round the hands that is followed, a share of the leg: about ten centimetres, hands, wrists and grip. */
const discShare = 0.12

/** Hands that the model sees go farther than that from one picture to the next are not followed, a share of the leg: nine centimetres. */
const fartherShare = 0.105

const jointsOf = (parts: readonly string[]): number[] =>
  parts.flatMap((part) => [jointIndex(`left${part}` as JointName), jointIndex(`right${part}` as JointName)])
const wrists = jointsOf(['Wrist'])
const arms = jointsOf(['Shoulder', 'Elbow', 'Wrist'])

/** A square round the arms over all of a track, with room for the hands; null where they were not seen. */
export const squareRoundArms = ({ points }: BodyTrack): Square | null => {
  const box = seenBox(points, arms)
  if (!box) return null
  const { x0, y0, x1, y1 } = box
  const side = Math.max(x1 - x0, y1 - y0) * 1.25
  return side > 0
    ? { x: Math.round((x0 + x1 - side) / 2), y: Math.round((y0 + y1 - side) / 2), side: Math.round(side) }
    : null
}

/**
 * How the picture shows the hands go from each read frame to the next, as `BodyTrack.shifts`. The model's places err by centimetres that stay
 * alike for a tenth of a second; a disc round them, followed from one frame to the next, goes as the hands go to a millimetre as long as they
 * are slow, wherever on hands, wrists or forearms it lies.
 */
export class HandShifts {
  readonly #track: BodyTrack
  readonly #square: Square
  readonly #legPx: number
  readonly shifts: Float32Array
  #last: ReturnType<typeof readyFor> | null = null
  #k = 0

  constructor(track: BodyTrack, square: Square) {
    this.#track = track
    this.#square = square
    this.#legPx = legOf(track)
    this.shifts = new Float32Array(track.frames.length * shiftFields).fill(NaN)
  }

  #handsIn(k: number): { x: number; y: number } | null {
    const { points } = this.#track
    const seen = wrists
      .map((joint) => (k * jointCount + joint) * 3)
      .filter((at) => points[at + 2]! >= minScore)
    if (seen.length === 0) return null
    const mean = (axis: number) => seen.reduce((sum, at) => sum + points[at + axis]!, 0) / seen.length
    return { x: mean(0), y: mean(1) }
  }

  /** Where the hands are between a frame and the next: the model's places jump, so the middle one of four frames. */
  #placeAfter(k: number): { x: number; y: number } | null {
    const near = [k - 1, k, k + 1, k + 2].flatMap((i) =>
      i >= 0 && i < this.#track.frames.length ? (this.#handsIn(i) ?? []) : [],
    )
    if (near.length < 2) return null
    const [first, last] = [near[0]!, near.at(-1)!]
    const goes = Math.hypot(last.x - first.x, last.y - first.y) / (near.length - 1)
    return goes < fartherShare * this.#legPx
      ? { x: median(near.map((p) => p.x)), y: median(near.map((p) => p.y)) }
      : null
  }

  /** The picture of the track's next frame: the square, in any size. */
  add(picture: GreySquare): void {
    const ready = readyFor(picture)
    const [k, before] = [this.#k, this.#last]
    this.#k += 1
    this.#last = ready
    const place = before && this.#placeAfter(k - 1)
    if (!place) return
    const scale = picture.side / this.#square.side
    const found = patchMotion(
      before,
      ready,
      { x: (place.x - this.#square.x) * scale - 0.5, y: (place.y - this.#square.y) * scale - 0.5 },
      discShare * this.#legPx * scale,
    )
    if (!found) return
    const { frames } = this.#track
    const shift = [found.x, found.y, found.sdX, found.sdY].map((v) => v / scale)
    this.shifts.set([frames[k]! - frames[k - 1]!, ...shift], k * shiftFields)
  }
}
