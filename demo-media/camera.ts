import { cross, dot, sub, unit } from './vector.ts'
import type { Vec3 } from './vector.ts'

/** A pinhole camera; pictures are in display orientation, origin top left, pixels. */
export type Camera = {
  position: Vec3
  right: Vec3
  down: Vec3
  forward: Vec3
  focalPx: number
  centreX: number
  centreY: number
  widthPx: number
  heightPx: number
}

export const camera = (
  position: Vec3,
  lookAt: Vec3,
  widthPx: number,
  heightPx: number,
  verticalViewDeg: number,
): Camera => {
  const forward = unit(sub(lookAt, position))
  const right = unit(cross(forward, [0, 1, 0]))
  const down = cross(forward, right)
  return {
    position,
    right,
    down,
    forward,
    focalPx: heightPx / 2 / Math.tan((verticalViewDeg * Math.PI) / 360),
    centreX: widthPx / 2,
    centreY: heightPx / 2,
    widthPx,
    heightPx,
  }
}

/** World point in the camera's own axes (right, down, forward), metres. */
export const toCamera = (c: Camera, p: Vec3): Vec3 => {
  const d = sub(p, c.position)
  return [dot(d, c.right), dot(d, c.down), dot(d, c.forward)]
}

export const turnToCamera = (c: Camera, d: Vec3): Vec3 => [dot(d, c.right), dot(d, c.down), dot(d, c.forward)]

/** Where a world point appears in the picture, pixels of the displayed picture. */
export const project = (c: Camera, p: Vec3): readonly [number, number] => {
  const [x, y, z] = toCamera(c, p)
  return [c.centreX + (x / z) * c.focalPx, c.centreY + (y / z) * c.focalPx]
}
