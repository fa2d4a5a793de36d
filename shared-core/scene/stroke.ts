import type { Style } from '../drawing/shape-base.ts'
import { tones } from '../drawing/tones.ts'
import type { BezierPiece } from '../geometry/curve.ts'
import type { Point } from '../geometry/point.ts'
import { rounded, type SceneAttributes, type SceneClass, type SceneNode } from './node.ts'

/** How much wider than the stroke its casing is, on both sides together. */
export const casingPx = (style: Style): number => Math.max(2, style.widthPx * 0.6)
const casingOpacity = 0.7

/** The same outline twice: the casing, then the tone over it. */
export function stroked(className: SceneClass, outline: SceneAttributes, style: Style): SceneNode[] {
  const tone = tones[style.tone]
  const round: SceneAttributes = { lineCap: 'round', lineJoin: 'round' }
  const dash: SceneAttributes = style.isDashed
    ? { dash: [rounded(style.widthPx * 3), rounded(style.widthPx * 2.4)] }
    : {}
  return [
    {
      className,
      attrs: {
        ...outline,
        ...round,
        ...dash,
        stroke: tone.casing,
        strokeWidth: rounded(style.widthPx + casingPx(style)),
        opacity: casingOpacity,
      },
    },
    {
      className,
      attrs: { ...outline, ...round, ...dash, stroke: tone.hex, strokeWidth: rounded(style.widthPx) },
    },
  ]
}

/** Points as x, y, x, y, … */
export const flat = (points: readonly Point[]): number[] =>
  points.flatMap((p) => [rounded(p.x), rounded(p.y)])

/** A chain of straight strokes with its casing. */
export const strokedChain = (points: readonly Point[], style: Style, isClosed = false): SceneNode[] =>
  stroked('Line', { points: flat(points), closed: isClosed }, style)

const xy = (p: Point): string => `${rounded(p.x)} ${rounded(p.y)}`

/** Path data of a curve. */
export function curvePath(pieces: readonly BezierPiece[]): string {
  const [first] = pieces
  if (first === undefined) return ''
  return [`M ${xy(first.from)}`]
    .concat(pieces.map((piece) => `C ${xy(piece.control1)} ${xy(piece.control2)} ${xy(piece.to)}`))
    .join(' ')
}

/** Path data of the shorter way around `centre` from the direction `fromRad` by `sweepRad` (+ clockwise on the screen). */
export function arcPath(centre: Point, radiusPx: number, fromRad: number, sweepRad: number): string {
  const on = (angle: number): Point => ({
    x: centre.x + radiusPx * Math.cos(angle),
    y: centre.y + radiusPx * Math.sin(angle),
  })
  const isLarge = Math.abs(sweepRad) > Math.PI ? 1 : 0
  const isClockwise = sweepRad > 0 ? 1 : 0
  const r = rounded(radiusPx)
  return `M ${xy(on(fromRad))} A ${r} ${r} 0 ${isLarge} ${isClockwise} ${xy(on(fromRad + sweepRad))}`
}
