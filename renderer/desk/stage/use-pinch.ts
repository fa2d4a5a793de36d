import { useRef, type PointerEvent as ReactPointerEvent } from 'react'
import { panned, zoomedAt, type ChangeView } from '../../stage-engine/viewport.ts'

interface Point {
  x: number
  y: number
}

/**
 * Two fingers on the picture zoom and move it. From the second finger on, until all are lifted, what they do is kept
 * from whatever lies on the picture; `onBegin` lets that forget what the first finger began.
 */
export const usePinch = (
  at: (event: { clientX: number; clientY: number }) => Point,
  onChange: (change: ChangeView, isAlone: boolean) => void,
  onBegin: () => void,
) => {
  const fingers = useRef(new Map<number, Point>())
  const isPinching = useRef(false)
  const twoOf = (): { middle: Point; apart: number } | null => {
    const [a, b] = [...fingers.current.values()]
    if (!a || !b) return null
    return {
      middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 },
      apart: Math.max(1, Math.hypot(a.x - b.x, a.y - b.y)),
    }
  }
  return {
    down: (event: ReactPointerEvent) => {
      if (event.pointerType !== 'touch') return
      fingers.current.set(event.pointerId, at(event))
      if (fingers.current.size < 2) return
      event.stopPropagation()
      if (!isPinching.current) onBegin()
      isPinching.current = true
    },
    /** True if the movement was part of a pinch. */
    move: (event: ReactPointerEvent): boolean => {
      if (!isPinching.current || !fingers.current.has(event.pointerId)) return false
      event.stopPropagation()
      const before = twoOf()
      fingers.current.set(event.pointerId, at(event))
      const after = twoOf()
      if (before && after) {
        const { middle } = after
        onChange(
          (view, picture, canvas) =>
            zoomedAt(
              panned(view, middle.x - before.middle.x, middle.y - before.middle.y, picture, canvas),
              after.apart / before.apart,
              middle,
              picture,
              canvas,
            ),
          false,
        )
      }
      return true
    },
    up: (event: ReactPointerEvent) => {
      if (!fingers.current.delete(event.pointerId) || !isPinching.current) return
      event.stopPropagation()
      isPinching.current = fingers.current.size > 0
    },
  }
}
