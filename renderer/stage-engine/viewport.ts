/** How the picture lies on the canvas: source pixels → canvas pixels. Nothing of this changes the clip. */
export interface Viewport {
  /** Canvas pixels per source pixel, 1 = as large as the clip. */
  readonly scale: number
  /** Canvas position of the picture's centre, relative to the canvas centre. */
  readonly panX: number
  readonly panY: number
}

export interface Size {
  readonly width: number
  readonly height: number
}

/** How a picture lies after the coach zoomed or moved it. */
export type ChangeView = (view: Viewport, picture: Size, canvas: Size) => Viewport

export const maxScale = 16

/** The scale at which the whole picture is seen. */
export const fitScale = (picture: Size, canvas: Size): number =>
  Math.min(canvas.width / picture.width, canvas.height / picture.height)

export const fitted = (picture: Size, canvas: Size): Viewport => ({
  scale: fitScale(picture, canvas),
  panX: 0,
  panY: 0,
})

/** At least this share of a picture's width or height stays in sight when it fills its place. */
const minSeen = 0.5

/** As large as fills the canvas where the picture has another form, at most half of it out of sight. */
const coverScale = (picture: Size, canvas: Size): number =>
  Math.min(
    Math.max(canvas.width / picture.width, canvas.height / picture.height),
    fitScale(picture, canvas) / minSeen,
  )

/**
 * As large as its height allows, cut at the sides where the canvas is narrower, at most by half. Never cut above or below:
 * where nobody knows where the player is, a head, a ball or a club would be out of sight.
 */
export const filled = (picture: Size, canvas: Size): Viewport => ({
  scale: Math.min(coverScale(picture, canvas), canvas.height / picture.height),
  panX: 0,
  panY: 0,
})

/**
 * Room around a player's joints, shares of their width and height (tried on our clips): the crown of the head above, the ball
 * below the feet, and for as much of the club as there is place for.
 */
const roomAcross = 1.3
const [roomAbove, roomBelow] = [0.15, 0.35]

/**
 * Filled, but with the player in the middle and whole: the part in sight moves to the player as far as there is picture, and
 * where filling would cut the player it fills less. `player` lies in the picture as it is shown, mirrored where that is.
 */
export const filledAbout =
  (player: { x: number; y: number; width: number; height: number }) =>
  (picture: Size, canvas: Size): Viewport => {
    const top = Math.max(0, player.y - roomAbove * player.height)
    const bottom = Math.min(picture.height, player.y + (1 + roomBelow) * player.height)
    const whole = Math.min(canvas.width / (roomAcross * player.width), canvas.height / (bottom - top))
    const scale = Math.max(fitScale(picture, canvas), Math.min(coverScale(picture, canvas), whole))
    const moved = (at: number, across: number, room: number) => {
      const most = Math.max(0, (across * scale - room) / 2)
      // Not −0 where nothing moves.
      return Math.max(-most, Math.min(most, (across / 2 - at) * scale)) + 0
    }
    return {
      scale,
      panX: moved(player.x + player.width / 2, picture.width, canvas.width),
      panY: moved((top + bottom) / 2, picture.height, canvas.height),
    }
  }

/** Players of about the same size, so that more of the picture counts. */
const aboutAsLarge = 1.15

/**
 * Where two players are seen larger: side by side, or one above the other; where they are about as large, where more of the
 * pictures is in sight. Each picture comes with how it begins to lie.
 */
export const largerArrangement = (
  pictures: readonly { size: Size; startView: (picture: Size, canvas: Size) => Viewport }[],
  area: Size,
): 'side' | 'stacked' => {
  const side = { width: area.width / 2, height: area.height }
  const stacked = { width: area.width, height: area.height / 2 }
  const seen = (canvas: Size) => {
    const parts = pictures.map(({ size, startView }) => {
      const { scale } = startView(size, canvas)
      return {
        scale,
        part:
          Math.min(1, canvas.width / (size.width * scale)) *
          Math.min(1, canvas.height / (size.height * scale)),
      }
    })
    return {
      scale: Math.min(...parts.map((p) => p.scale)),
      part: Math.min(...parts.map((p) => p.part)),
    }
  }
  const [above, beside] = [seen(stacked), seen(side)]
  if (above.scale > beside.scale * aboutAsLarge) return 'stacked'
  if (beside.scale > above.scale * aboutAsLarge) return 'side'
  return above.part > beside.part ? 'stacked' : 'side'
}

/** Zoomed by `factor` so that the point under (x, y) on the canvas stays where it is. */
export const zoomedAt = (
  view: Viewport,
  factor: number,
  at: { x: number; y: number },
  picture: Size,
  canvas: Size,
): Viewport => {
  const least = fitScale(picture, canvas) / 2
  const scale = Math.max(least, Math.min(maxScale, view.scale * factor))
  const ratio = scale / view.scale
  const fromCentreX = at.x - canvas.width / 2
  const fromCentreY = at.y - canvas.height / 2
  return clamped(
    {
      scale,
      panX: fromCentreX - (fromCentreX - view.panX) * ratio,
      panY: fromCentreY - (fromCentreY - view.panY) * ratio,
    },
    picture,
    canvas,
  )
}

export const panned = (view: Viewport, dx: number, dy: number, picture: Size, canvas: Size): Viewport =>
  clamped({ ...view, panX: view.panX + dx, panY: view.panY + dy }, picture, canvas)

/** Keeps at least a fifth of the picture in sight. */
const clamped = (view: Viewport, picture: Size, canvas: Size): Viewport => {
  const limitX = canvas.width / 2 + picture.width * view.scale * 0.3
  const limitY = canvas.height / 2 + picture.height * view.scale * 0.3
  return {
    scale: view.scale,
    panX: Math.max(-limitX, Math.min(limitX, view.panX)),
    panY: Math.max(-limitY, Math.min(limitY, view.panY)),
  }
}

/** Canvas position of the source pixel (0, 0) and the scale; x runs the other way when mirrored. */
export const placement = (view: Viewport, picture: Size, canvas: Size, isMirrored: boolean) => {
  const left = canvas.width / 2 + view.panX - (picture.width * view.scale) / 2
  const top = canvas.height / 2 + view.panY - (picture.height * view.scale) / 2
  return isMirrored
    ? { x: left + picture.width * view.scale, y: top, scaleX: -view.scale, scaleY: view.scale }
    : { x: left, y: top, scaleX: view.scale, scaleY: view.scale }
}

export const toSource = (
  at: { x: number; y: number },
  view: Viewport,
  picture: Size,
  canvas: Size,
  isMirrored: boolean,
) => {
  const place = placement(view, picture, canvas, isMirrored)
  return { x: (at.x - place.x) / place.scaleX, y: (at.y - place.y) / place.scaleY }
}

/**
 * The part of the picture that the canvas shows, in source pixels of the picture as shown, beyond its edges where the
 * canvas reaches there. Null where it lies as it is fitted.
 */
export const seenPart = (
  view: Viewport | null,
  picture: Size,
  canvas: Size,
): { x: number; y: number; width: number; height: number } | null => {
  if (!view) return null
  const isFitted =
    Math.abs(view.scale / fitScale(picture, canvas) - 1) < 1e-3 &&
    Math.abs(view.panX) < 1 &&
    Math.abs(view.panY) < 1
  if (isFitted) return null
  const { x, y } = placement(view, picture, canvas, false)
  const tenth = (pixels: number) => Math.round(pixels * 10) / 10
  return {
    x: tenth(-x / view.scale),
    y: tenth(-y / view.scale),
    width: tenth(canvas.width / view.scale),
    height: tenth(canvas.height / view.scale),
  }
}
