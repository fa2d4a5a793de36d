import { useRef, useState } from 'react'
import type { Style } from '../../../shared-core/drawing/shape-base.ts'
import type { ShapeDefinition } from '../../../shared-core/drawing/shape-definition.ts'
import { shapes, type Shape } from '../../../shared-core/drawing/shapes.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'

export interface ShapePlacing {
  /** The shape as it would be with the pointer (or the crosshair) where it is. */
  readonly draft: Shape | null
  readonly count: number
  /** Places a point; by pointer and by keys alike. */
  press(p: Point): void
  /** The pointer, or the crosshair, is here now. */
  preview(p: Point): void
  /** Ends a shape of as many points as the coach likes, or a stroke; false if there was none to end. */
  end(): boolean
  /** Takes the last point back. */
  back(): void
  /** Lets the pointer's press go: a drag or a stroke is done if it went anywhere. */
  release(): void
  reset(): void
}

/** A shape while its points are placed. */
export const usePlacing = (
  definition: ShapeDefinition<Shape> | null,
  style: Style,
  /** Screen pixels per source pixel. */
  scale: number,
  onDone: (points: Point[]) => void,
): ShapePlacing => {
  // Beside the state, so that movements that come faster than React paints are all in it.
  const points = useRef<Point[]>([])
  const latest = useRef<Point | null>(null)
  const [shown, setShown] = useState<{ draft: Shape | null; count: number }>({ draft: null, count: 0 })
  const placing = definition?.placing ?? null

  const show = (draft: Shape | null) => setShown({ draft, count: points.current.length })
  const reset = () => {
    points.current = []
    latest.current = null
    show(null)
  }
  const done = (all: Point[]) => {
    reset()
    onDone(all)
  }
  const shapeWith = (more: Point[]): Shape | null => {
    const all = [...points.current, ...more]
    const min = placing?.by === 'clicks' ? placing.min : 2
    if (!definition || all.length === 0) return null
    if (all.length >= min) return definition.create(all, style)
    // Too few points for the shape yet: a line shows where the first one is.
    return all.length === 2 ? (shapes.line as unknown as ShapeDefinition<Shape>).create(all, style) : null
  }
  return {
    ...shown,
    reset,
    press: (p) => {
      if (!placing) return
      const all = [...points.current, p]
      const isFull =
        placing.by === 'clicks' ? placing.max !== null && all.length >= placing.max : all.length > 1
      if (isFull) done(all)
      else {
        points.current = all
        show(shapeWith([]))
      }
    },
    preview: (p) => {
      if (points.current.length === 0) return
      latest.current = p
      if (placing?.by === 'stroke') {
        points.current = [...points.current, p]
        show(shapeWith([]))
      } else show(shapeWith([p]))
    },
    end: () => {
      const all = points.current
      if (placing?.by === 'stroke' && all.length > 1) {
        done(all)
        return true
      }
      if (placing?.by !== 'clicks' || all.length < placing.min) return false
      // The second press of a double click is in the place of the first.
      const [before, last] = all.slice(-2)
      const isSame = before && last && Math.hypot(last.x - before.x, last.y - before.y) * scale < 5
      const kept = isSame ? all.slice(0, -1) : all
      if (kept.length < placing.min) return false
      done(kept)
      return true
    },
    back: () => {
      points.current = placing?.by === 'clicks' ? points.current.slice(0, -1) : []
      show(shapeWith([]))
    },
    release: () => {
      if (!placing || placing.by === 'clicks' || points.current.length === 0) return
      const [first] = points.current
      const drawn = placing.by === 'stroke' ? points.current : [first!, latest.current ?? first!]
      const isFar = drawn.some((q) => Math.hypot(q.x - first!.x, q.y - first!.y) * scale > 4)
      if (isFar) done(drawn)
      else reset()
    },
  }
}
