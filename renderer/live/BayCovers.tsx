import { useCallback, useMemo, useSyncExternalStore } from 'react'
import { drawingsOn, withMotion, type Drawing } from '../../shared-core/drawing/drawing.ts'
import type { Clip, View } from '../../shared-core/model/entities.ts'
import { plateFill } from '../../shared-core/scene/plate.ts'
import { useMotion } from '../desk/stage/use-motion.ts'
import type { Player } from '../stage-engine/player.ts'
import { placement, type Size, type Viewport } from '../stage-engine/viewport.ts'
import { drawingsOf } from '../store/drawings.ts'

/** What the coach covered stays covered here, filled; no other drawing is shown. */
export function BayCovers(props: { view: View; clip: Clip; player: Player; size: Size; viewport: Viewport }) {
  const { view, clip, player, size, viewport } = props
  const onShown = useCallback((tell: () => void) => player.onShown(tell), [player])
  const frame = useSyncExternalStore(onShown, () => player.frameAt)
  const { motions } = useMotion(clip)
  const covers: Drawing[] = useMemo(() => {
    const read = drawingsOf(view).drawings.filter(({ shape }) => shape.kind === 'cover')
    return motions ? withMotion(read, motions) : read
  }, [view, motions])
  const shown = drawingsOn(covers, Math.max(0, frame))
  const { x, y, scaleX, scaleY } = placement(viewport, clip, size, clip.isMirrored)
  return (
    <svg className="bay-covers" aria-hidden>
      <g transform={`translate(${x} ${y}) scale(${scaleX} ${scaleY})`} fill={plateFill}>
        {shown.map(({ id, shape }, i) => {
          if (shape.kind !== 'cover') return null
          const { at, widthPx, heightPx, outline } = shape
          return outline === 'box' ? (
            <rect key={`${id} ${i}`} x={at.x} y={at.y} width={widthPx} height={heightPx} />
          ) : (
            <ellipse
              key={`${id} ${i}`}
              cx={at.x + widthPx / 2}
              cy={at.y + heightPx / 2}
              rx={widthPx / 2}
              ry={heightPx / 2}
            />
          )
        })}
      </g>
    </svg>
  )
}
