import type { Point } from '../geometry/point.ts'
import { pointOf, type BodyTrack } from './body-track.ts'
import { jointIndex, sidedIndex } from './joints.ts'

/** Places on the body that a drawing can be tied to; those with two ends turn and stretch with them. */
export const bodyParts = ['head', 'hands', 'shoulders', 'hips', 'spine', 'lead arm'] as const
export type BodyPart = (typeof bodyParts)[number]

/** One end, or two, of a part on the frames where all of it was found. */
export interface PartTrack {
  readonly frames: Int32Array
  readonly ends: readonly (readonly [Point] | readonly [Point, Point])[]
}

type Find = (k: number) => Point | null

const middle = (a: Point | null, b: Point | null): Point | null =>
  a && b ? { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 } : null

/** Where a part of the body is; lead and trail by the side the player plays from. */
export const partTrack = (track: BodyTrack, part: BodyPart, side: 'right' | 'left'): PartTrack => {
  const joint =
    (index: number): Find =>
    (k) =>
      pointOf(track, k, index)
  const lead = (name: 'Shoulder' | 'Hip' | 'Wrist') => joint(sidedIndex(name, 'lead', side))
  const trail = (name: 'Shoulder' | 'Hip' | 'Wrist') => joint(sidedIndex(name, 'trail', side))
  const between =
    (a: Find, b: Find): Find =>
    (k) =>
      middle(a(k), b(k))
  const ends: Record<BodyPart, readonly Find[]> = {
    // The model places the hidden ear, too, and the nose turns with the look.
    head: [between(joint(jointIndex('leftEar')), joint(jointIndex('rightEar')))],
    hands: [between(lead('Wrist'), trail('Wrist'))],
    shoulders: [lead('Shoulder'), trail('Shoulder')],
    hips: [lead('Hip'), trail('Hip')],
    spine: [between(lead('Hip'), trail('Hip')), between(lead('Shoulder'), trail('Shoulder'))],
    'lead arm': [lead('Shoulder'), lead('Wrist')],
  }
  const frames: number[] = []
  const found: (readonly [Point] | readonly [Point, Point])[] = []
  track.frames.forEach((frame, k) => {
    const places = ends[part].map((find) => find(k))
    if (places.some((p) => p === null)) return
    frames.push(frame)
    found.push(places as unknown as readonly [Point])
  })
  return { frames: Int32Array.from(frames), ends: found }
}
