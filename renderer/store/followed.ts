import { create } from 'zustand'
import { minScore, type BodyTrack } from '../../shared-core/body/body-track.ts'
import { partTrack } from '../../shared-core/body/body-part.ts'
import type { JointName } from '../../shared-core/body/joints.ts'
import type { Motions } from '../../shared-core/drawing/motion.ts'
import { readShape } from '../../shared-core/drawing/read-shape.ts'
import { toneNames, type ToneName } from '../../shared-core/drawing/tones.ts'
import type { FollowedTrack } from '../../shared-core/following/followed-track.ts'
import type { Point } from '../../shared-core/geometry/point.ts'
import type { FollowedPoint, Side, View } from '../../shared-core/model/entities.ts'
import { ask } from './bridge.ts'
import { edit, useDesk } from './desk-store.ts'
import { telling } from './messages.ts'

export type FollowedOnStage = Omit<FollowedPoint, 'frames' | 'points'> & { readonly track: FollowedTrack }

/** What moves in a clip, as it was read last. */
export interface ClipMotion {
  readonly points: readonly FollowedOnStage[]
  readonly body: BodyTrack
  readonly corrected: readonly { frame: number; joint: string }[]
}

/** By clip; clips that were never on the Stage are not in it. */
export const useFollowed = create<{ clips: Readonly<Record<string, ClipMotion>> }>(() => ({ clips: {} }))

/** Reads what moves in a clip anew; the picture does not wait for it. */
export const readMotion = async (clipId: string): Promise<void> => {
  const read = await telling(
    Promise.all([ask('follow.list', { clipId }), ask('body.points', { clipId })] as const),
  )
  if (!read) return
  const [points, body] = read
  const clip: ClipMotion = {
    points: points.map(({ frames, points: places, ...point }) => ({
      ...point,
      track: { frames: Int32Array.from(frames), points: Float32Array.from(places) },
    })),
    body: { frames: Int32Array.from(body.frames), points: Float32Array.from(body.points) },
    corrected: body.corrected,
  }
  useFollowed.setState(({ clips }) => ({ clips: { ...clips, [clipId]: clip } }))
}

export const motionsFrom = (motion: ClipMotion, side: Side, captureRate: number): Motions => ({
  captureRate,
  followed: (id) => motion.points.find((p) => p.id === id)?.track ?? null,
  part: (part) => (motion.body.frames.length === 0 ? null : partTrack(motion.body, part, side)),
})

/** The tone in hand, or where another way on this picture has it already the next that none has: ways cross each other. */
const wayTone = (view: View, tone: ToneName): ToneName => {
  const taken = new Set(
    view.drawings.flatMap(({ tie, shape }) => (tie?.to.kind === 'way' ? [readShape(shape).style.tone] : [])),
  )
  if (!taken.has(tone)) return tone
  return toneNames.find((other) => other !== 'ink' && !taken.has(other)) ?? tone
}

/** Marks a point on the frame shown, or puts one right that is followed already; it is followed from there. */
export const markFollowed = async (view: View, frame: number, at: Point) => {
  const { tool, tone, widthPx } = useDesk.getState()
  if (tool.name !== 'follow') return
  useDesk.setState({ tool: { name: 'look' } })
  if (tool.id !== null) {
    await edit('follow.mark', { id: tool.id, frame, ...at })
    return
  }
  const begun = await edit('follow.begin', {
    viewId: view.id,
    name: tool.what,
    frame,
    ...at,
    tone: wayTone(view, tone as ToneName),
    widthPx,
  })
  if (begun) useDesk.setState({ selectedDrawingIds: new Set([begun.drawingId]) })
}

/** A mark that was put wrong goes; the point is followed from those that stay. */
export const takeMarkBack = (id: string, frame: number) => edit('follow.takeBack', { id, frame })
export const removeFollowed = (id: string) => edit('follow.remove', { id })
export const followAgain = (id: string) => telling(ask('follow.again', { id }))

/** Joints on a frame, those that were found; null where the body was not read on it. */
export const jointsOn = (
  { body }: ClipMotion,
  frame: number,
  names: readonly JointName[],
): { name: JointName; at: Point }[] | null => {
  const k = body.frames.indexOf(frame)
  if (k < 0) return null
  return names.flatMap((name, j) => {
    const at = (k * names.length + j) * 3
    return body.points[at + 2]! < minScore
      ? []
      : [{ name, at: { x: body.points[at]!, y: body.points[at + 1]! } }]
  })
}

export const correctJoint = (clipId: string, frame: number, joint: JointName, at: Point) =>
  edit('body.correct', { clipId, frame, joint, ...at })
export const takeJointBack = (clipId: string, frame: number, joint: JointName) =>
  edit('body.takeBack', { clipId, frame, joint })
