import { minScore, seenBox, type BodyTrack } from './body-track.ts'
import { jointCount, jointIndex, type JointName } from './joints.ts'

const pairOf = (part: string) =>
  [jointIndex(`left${part}` as JointName), jointIndex(`right${part}` as JointName)] as const

/**
 * The pairs that the model may swap, each for itself: it was seen to swap the hips and leave the knees. Legs do not cross in a swing: knees
 * are held against the ankles, then hips against the knees.
 */
const pairs = [
  ...['Shoulder', 'Elbow', 'Wrist', 'Ankle', 'Eye', 'Ear'].map((part) => ({
    pair: pairOf(part),
    below: null,
  })),
  { pair: pairOf('Knee'), below: pairOf('Ankle') },
  { pair: pairOf('Hip'), below: pairOf('Knee') },
]

/** What crossed legs cost in a frame, as a share of how much longer they make the bones (squared); our own choice. */
const crossedShare = 0.1

/** What a frame in which the model is contradicted must save, as a share of the body's size squared; our own choice. */
const price = 0.0002

/**
 * Left and right kept by continuity: of all ways to swap the sides frame by frame the one with the least movement, where every
 * frame that contradicts the model costs something (Viterbi 1967; two states a frame for each pair). A body
 * that is swapped in most frames stays as the model says: nothing in the picture says otherwise.
 */
export const keepSides = (track: BodyTrack): BodyTrack => {
  const n = track.frames.length
  const points = track.points.slice()
  if (n < 2) return { ...track, points }
  const at = (k: number, joint: number) => (k * jointCount + joint) * 3
  const size = bodySize(track)
  for (const { pair, below } of pairs) {
    const [left, right] = pair
    // Movement of the pair from frame k − 1 to k, if the one is swapped against the other or not.
    const move = (k: number, crossed: boolean): number => {
      let sum = 0
      for (const [a, b] of crossed
        ? ([
            [left, right],
            [right, left],
          ] as const)
        : ([
            [left, left],
            [right, right],
          ] as const)) {
        const [i, j] = [at(k - 1, a), at(k, b)]
        const weight = Math.min(track.points[i + 2]!, track.points[j + 2]!)
        sum +=
          weight *
          ((track.points[i]! - track.points[j]!) ** 2 + (track.points[i + 1]! - track.points[j + 1]!) ** 2)
      }
      return sum / size ** 2
    }
    /** What it costs in a frame to let the model's sides stand, or to swap them. */
    const stand = (k: number): [number, number] => {
      if (!below) return [0, price]
      const [p, q, r, s] = [left, right, ...below].map((joint) => at(k, joint)) as [
        number,
        number,
        number,
        number,
      ]
      if ([p, q, r, s].some((i) => points[i + 2]! < minScore)) return [0, price]
      // Squares of both bones as they are, less those of both bones crossed over.
      const longer = [0, 1].reduce(
        (sum, c) => sum - 2 * (points[p + c]! - points[q + c]!) * (points[r + c]! - points[s + c]!),
        0,
      )
      const crossed = (crossedShare * longer) / size ** 2
      return [Math.max(0, crossed), price + Math.max(0, -crossed)]
    }
    let cost: number[] = stand(0)
    const from: [number, number][] = [[0, 0]]
    for (let k = 1; k < n; k++) {
      const same = move(k, false)
      const crossed = move(k, true)
      const standing = stand(k)
      const next: number[] = []
      const back: number[] = []
      for (const state of [0, 1]) {
        const stay = cost[state]! + same
        const change = cost[1 - state]! + crossed
        next.push(Math.min(stay, change) + standing[state]!)
        back.push(stay <= change ? state : 1 - state)
      }
      cost = next
      from.push(back as [number, number])
    }
    let state = cost[0]! <= cost[1]! ? 0 : 1
    for (let k = n - 1; k >= 0; k--) {
      if (state === 1) {
        for (const c of [0, 1, 2]) {
          points[at(k, left) + c] = track.points[at(k, right) + c]!
          points[at(k, right) + c] = track.points[at(k, left) + c]!
        }
      }
      state = from[k]![state]!
    }
  }
  return { ...track, points }
}

/** Diagonal of the box round all points that can be relied on, pixels. */
const bodySize = (track: BodyTrack): number => {
  const box = seenBox(track.points)
  return box && box.x1 > box.x0 ? Math.hypot(box.x1 - box.x0, box.y1 - box.y0) : 1
}
