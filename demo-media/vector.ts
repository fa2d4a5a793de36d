/** A point or direction in metres. World axes: x towards the target, y up, z from the player to the ball. */
export type Vec3 = readonly [number, number, number]

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
export const scale = (a: Vec3, s: number): Vec3 => [a[0] * s, a[1] * s, a[2] * s]
/** a + b·s */
export const along = (a: Vec3, b: Vec3, s: number): Vec3 => [
  a[0] + b[0] * s,
  a[1] + b[1] * s,
  a[2] + b[2] * s,
]
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
export const length = (a: Vec3): number => Math.hypot(a[0], a[1], a[2])
export const unit = (a: Vec3): Vec3 => scale(a, 1 / (length(a) || 1))
export const mix = (a: Vec3, b: Vec3, s: number): Vec3 => along(a, sub(b, a), s)
/** `a` turned by `radians` about the unit axis `axis` (Rodrigues' formula). */
export const turn = (a: Vec3, axis: Vec3, radians: number): Vec3 => {
  const c = Math.cos(radians)
  return along(along(scale(a, c), cross(axis, a), Math.sin(radians)), axis, dot(axis, a) * (1 - c))
}
/** The part of `a` square to the unit vector `axis`, made a unit vector. */
export const squareTo = (a: Vec3, axis: Vec3): Vec3 => unit(along(a, axis, -dot(a, axis)))
/** Angle at `vertex` between the rays to `a` and `b`, in degrees. */
export const angleDeg = (a: Vec3, vertex: Vec3, b: Vec3): number => {
  const cos = dot(unit(sub(a, vertex)), unit(sub(b, vertex)))
  return (Math.acos(Math.min(1, Math.max(-1, cos))) * 180) / Math.PI
}
