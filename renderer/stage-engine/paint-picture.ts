import { placement, type Size, type Viewport } from './viewport.ts'

/** Takes the picture off the canvas, wherever it lay. */
export const clearPicture = (context: CanvasRenderingContext2D) => {
  context.setTransform(1, 0, 0, 1, 0, 0)
  context.clearRect(0, 0, context.canvas.width, context.canvas.height)
}

/**
 * Paints a decoded picture upright into a canvas. `picture` is the size drawings refer to (the clip's own, upright);
 * a smaller working copy is stretched to it, so that drawings lie where they belong.
 */
export const paintPicture = (
  context: CanvasRenderingContext2D,
  image: CanvasImageSource,
  picture: Size,
  view: Viewport,
  options: {
    rotationDeg: 0 | 90 | 180 | 270
    isMirrored: boolean
    /** Device pixels per canvas pixel of `view`. */
    density: number
    opacity?: number
    keep?: boolean
  },
) => {
  const { canvas } = context
  const size = { width: canvas.width / options.density, height: canvas.height / options.density }
  const place = placement(view, picture, size, options.isMirrored)
  if (!options.keep) clearPicture(context)
  context.globalAlpha = options.opacity ?? 1
  context.setTransform(
    place.scaleX * options.density,
    0,
    0,
    place.scaleY * options.density,
    place.x * options.density,
    place.y * options.density,
  )
  context.imageSmoothingEnabled = view.scale * options.density < 3
  const { width, height } = picture
  if (options.rotationDeg === 0) context.drawImage(image, 0, 0, width, height)
  else {
    context.translate(width / 2, height / 2)
    context.rotate((options.rotationDeg * Math.PI) / 180)
    if (options.rotationDeg === 180) context.drawImage(image, -width / 2, -height / 2, width, height)
    else context.drawImage(image, -height / 2, -width / 2, height, width)
  }
  context.globalAlpha = 1
}
