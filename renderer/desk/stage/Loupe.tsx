import { useEffect, useImperativeHandle, useRef, type Ref } from 'react'
import { paintPicture } from '../../stage-engine/paint-picture.ts'
import type { Player } from '../../stage-engine/player.ts'
import type { Size } from '../../stage-engine/viewport.ts'

const sizePx = 148

export interface LoupeControl {
  /** Shows what is around a point of the picture as it is shown (source pixels); null puts the loupe away. */
  aim(p: { x: number; y: number } | null): void
}

/** Source pixels as squares of so many loupe pixels: larger than on the Stage, and never so few that they blur. */
const zoomFor = (stageScale: number) => Math.max(3, Math.min(24, Math.round(stageScale * 4)))

/** The clip's own pixels around the point that is being placed; it keeps out of the pointer's way. */
export function Loupe(props: {
  ref: Ref<LoupeControl>
  player: Player | null
  picture: Size
  isMirrored: boolean
  stageScale: number
  /** Where a point of the picture is on the Stage, across, as a share of its width. */
  acrossOf: (x: number) => number
  filter: string | undefined
}) {
  const { ref, player, picture, isMirrored, stageScale, acrossOf, filter } = props
  const glass = useRef<HTMLDivElement>(null)
  const canvas = useRef<HTMLCanvasElement>(null)
  const aimed = useRef<{ x: number; y: number } | null>(null)

  const paint = () => {
    const target = canvas.current
    const at = aimed.current
    if (!target || !glass.current) return
    glass.current.hidden = at === null
    if (!at) return
    const isLeft = acrossOf(at.x) < 0.5
    glass.current.style.left = isLeft ? 'auto' : '10px'
    glass.current.style.right = isLeft ? '10px' : 'auto'
    const density = devicePixelRatio
    const side = Math.round(sizePx * density)
    if (target.width !== side) target.width = target.height = side
    const scale = zoomFor(stageScale)
    const viewport = {
      scale,
      panX: (picture.width / 2 - at.x) * scale,
      panY: (picture.height / 2 - at.y) * scale,
    }
    player?.look((image, _frame, rotationDeg) =>
      paintPicture(target.getContext('2d')!, image, picture, viewport, { rotationDeg, isMirrored, density }),
    )
  }
  useImperativeHandle(ref, () => ({
    aim: (p) => {
      aimed.current = p
      paint()
    },
  }))
  useEffect(() => player?.onShown(() => aimed.current && paint()))
  useEffect(paint)
  return (
    <div ref={glass} className="loupe" style={{ width: sizePx, height: sizePx }} aria-hidden hidden>
      <canvas ref={canvas} style={{ filter }} />
    </div>
  )
}
