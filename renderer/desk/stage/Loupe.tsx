import { useEffect, useRef, type RefObject } from 'react'

const sizePx = 148
const zoom = 3.5

/** A magnified look at the pixels under the pointer while points are placed; it keeps out of the pointer's way. */
export function Loupe(props: {
  canvas: RefObject<HTMLCanvasElement | null>
  box: RefObject<HTMLDivElement | null>
}) {
  const { canvas, box } = props
  const glass = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    const element = box.current
    if (!element) return
    const hide = () => {
      if (glass.current) glass.current.style.display = 'none'
    }
    const move = (event: PointerEvent) => {
      const target = glass.current
      const source = canvas.current
      if (!target || !source) return
      const rect = element.getBoundingClientRect()
      const x = event.clientX - rect.left
      const y = event.clientY - rect.top
      const isLeft = x < rect.width / 2
      target.style.display = 'block'
      target.style.left = isLeft ? 'auto' : '10px'
      target.style.right = isLeft ? '10px' : 'auto'
      const context = target.getContext('2d')!
      const density = source.width / rect.width
      const part = (sizePx / zoom) * density
      context.imageSmoothingEnabled = false
      context.clearRect(0, 0, sizePx, sizePx)
      context.drawImage(
        source,
        x * density - part / 2,
        y * density - part / 2,
        part,
        part,
        0,
        0,
        sizePx,
        sizePx,
      )
      context.strokeStyle = '#ffb27a'
      context.lineWidth = 1
      context.beginPath()
      context.moveTo(sizePx / 2 + 0.5, sizePx / 2 - 14)
      context.lineTo(sizePx / 2 + 0.5, sizePx / 2 + 14)
      context.moveTo(sizePx / 2 - 14, sizePx / 2 + 0.5)
      context.lineTo(sizePx / 2 + 14, sizePx / 2 + 0.5)
      context.stroke()
    }
    element.addEventListener('pointermove', move)
    element.addEventListener('pointerleave', hide)
    return () => {
      element.removeEventListener('pointermove', move)
      element.removeEventListener('pointerleave', hide)
    }
  }, [box, canvas])
  return (
    <canvas
      ref={glass}
      className="loupe"
      width={sizePx}
      height={sizePx}
      aria-hidden
      style={{ display: 'none' }}
    />
  )
}
