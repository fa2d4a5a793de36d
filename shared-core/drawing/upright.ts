import { degrees, toRadians } from '../geometry/angle.ts'
import type { Point } from '../geometry/point.ts'
import { said } from '../wording/phrase.ts'

/**
 * Where down is in the picture. A camera rolled clockwise by t shows the world turned counter-clockwise by t, so
 * what hangs straight down points towards (sin t, cos t).
 */
export function downIn(picture: { readonly tiltDeg: number }): Point {
  const tilt = toRadians(degrees(picture.tiltDeg))
  return { x: Math.sin(tilt), y: Math.cos(tilt) }
}

/** Where level to the right is in the picture. */
export function levelIn(picture: { readonly tiltDeg: number }): Point {
  const down = downIn(picture)
  return { x: down.y, y: -down.x }
}

/** What an upright says about the tilt it was drawn with. */
export const tiltNote = (tiltDeg: number): string =>
  tiltDeg === 0
    ? said('upright.noTilt')
    : said(tiltDeg > 0 ? 'upright.clockwise' : 'upright.counterClockwise', {
        tilt: Math.abs(tiltDeg).toFixed(1),
      })
