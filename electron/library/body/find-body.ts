import { seenBox, type BodyTrack } from '../../../shared-core/body/body-track.ts'
import { HandShifts, squareRoundArms } from '../../../shared-core/body/hand-shifts.ts'
import { jointCount } from '../../../shared-core/body/joints.ts'
import { keepSides } from '../../../shared-core/body/keep-sides.ts'
import { greyOf } from './grey-of.ts'
import { modelSize, type PoseModel } from './pose-model.ts'
import { squareFrames, type Square } from './square-frames.ts'

export interface BodyTask {
  readonly ffmpegPath: string
  readonly clip: string
  /** Size as shown. */
  readonly width: number
  readonly height: number
  /** Rising. */
  readonly frames: Int32Array
  /** The square that earlier frames of this swing were read in: what the model errs by stays the same. */
  readonly square?: Square
}

/** What was read, and the square it was read in; null where nobody was seen. */
export interface FoundBody extends BodyTrack {
  readonly square: Square | null
}

/** Frames that the place of the player is taken from. */
const looks = 5

/**
 * Body points on the frames asked for. First where the player is: a few frames of the whole picture and of its middle square,
 * whichever the model is surer about. Then every frame in one and the same square round all of the swing, so that what the model
 * errs by stays the same from frame to frame. Left and right are kept by continuity. Last how the hands go from frame to frame, by a square
 * round the arms, larger than the model sees them.
 *
 * @param onProgress the share done, 0 to 1
 */
export const findBody = async (
  model: PoseModel,
  task: BodyTask,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void; pause?: () => Promise<void> } = {},
): Promise<FoundBody> => {
  const { width, height, frames } = task
  const { signal, onProgress, pause } = options
  const n = frames.length
  const first = Int32Array.from(
    new Set(
      Array.from(
        { length: Math.min(looks, n) },
        (_, i) => frames[Math.round((i * (n - 1)) / Math.max(1, Math.min(looks, n) - 1))]!,
      ),
    ),
  )
  const total = (task.square ? 0 : first.length * 3) + n
  let done = 0
  const read = async (square: Square, wanted: Int32Array): Promise<Float32Array> => {
    const points = new Float32Array(wanted.length * jointCount * 3)
    let k = 0
    for await (const picture of squareFrames(task.ffmpegPath, task.clip, task, square, wanted, signal)) {
      const found = await model(picture)
      for (let j = 0; j < jointCount; j++) {
        const at = (k * jointCount + j) * 3
        points[at] = square.x + found[j * 3]! * square.side
        points[at + 1] = square.y + found[j * 3 + 1]! * square.side
        points[at + 2] = found[j * 3 + 2]!
      }
      k += 1
      done += 1
      onProgress?.(done / total)
      await pause?.()
      if (k === wanted.length) break
    }
    return points.subarray(0, k * jointCount * 3)
  }

  const square = task.square ?? (await playersSquare())
  if (!square) return { frames: new Int32Array(0), points: new Float32Array(0), square }
  const points = await read(square, frames)
  const count = points.length / (jointCount * 3)
  const track = keepSides({ frames: frames.slice(0, count), points })
  const armsSquare = squareRoundArms(track)
  if (!armsSquare) return { ...track, square }
  const hands = new HandShifts(track, armsSquare)
  for await (const picture of squareFrames(
    task.ffmpegPath,
    task.clip,
    task,
    armsSquare,
    track.frames,
    signal,
  )) {
    hands.add({ side: modelSize, pixels: greyOf(picture) })
    await pause?.()
  }
  return { ...track, shifts: hands.shifts, square }

  /** Where the player is, over all of the frames; null where nobody is seen. */
  async function playersSquare(): Promise<Square | null> {
    const long = Math.max(width, height)
    const short = Math.min(width, height)
    const whole: Square = { x: (width - long) / 2, y: (height - long) / 2, side: long }
    const middle: Square = { x: (width - short) / 2, y: (height - short) / 2, side: short }
    const seen = await read(whole, first)
    const near = long > short * 1.05 ? await read(middle, first) : seen
    const rough = squareRound(meanScore(near) > meanScore(seen) ? near : seen)
    return rough && (squareRound(await read(rough, first)) ?? rough)
  }
}

const meanScore = (points: Float32Array): number => {
  let sum = 0
  for (let i = 2; i < points.length; i += 3) sum += points[i]!
  return sum / Math.max(1, points.length / 3)
}

/** A square round the player over all frames looked at, with room for hands and feet; null where nobody was seen. */
const squareRound = (points: Float32Array): Square | null => {
  const box = seenBox(points)
  // Fewer than a quarter of the joints: not a player.
  if (!box || box.seen < points.length / 12) return null
  const { x0, y0, x1, y1 } = box
  const side = Math.max(x1 - x0, y1 - y0) * 1.25
  return { x: (x0 + x1) / 2 - side / 2, y: (y0 + y1) / 2 - side / 2, side }
}
