import { drawingWords } from '../../../shared-core/wording/window/drawing.ts'
import type { FollowedOnStage } from '../../store/followed.ts'

/** What coaches follow most; any other point can be named. */
export const things = ['club head', 'hands', 'head', 'belt', 'ball', 'point'] as const

type NamedThing = Exclude<(typeof things)[number], 'point'>
const isNamed = (name: string): name is NamedThing =>
  name !== 'point' && (things as readonly string[]).includes(name)

/** A followed point as it is called; what the coach named stays as it is. */
export const thingWords = (name: string): string => (isNamed(name) ? drawingWords(`thing.${name}`) : name)

/** How far a point was followed, and where and why it was lost. */
export const lostWords = (
  point: Pick<FollowedOnStage, 'lost' | 'track' | 'fromFrame' | 'toFrame'>,
): string => {
  const of = point.toFrame - point.fromFrame + 1
  const { length } = point.track.frames
  if (length === 0) return drawingWords('notFollowed')
  const lost = point.lost.map(({ frame, why: reason }) =>
    drawingWords('lostAt', { frame, why: drawingWords(`lost.${reason}`) }),
  )
  return [drawingWords('foundOn', { count: length, all: of }), ...lost].join('; ')
}
