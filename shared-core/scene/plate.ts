import { doOverlap, growBox, type Box } from '../geometry/box.ts'
import type { Point } from '../geometry/point.ts'
import { rounded, type SceneNode } from './node.ts'
import { fontFamily, fontStyle, textWidth } from './text-width.ts'

/** Colours of the plates behind text: chalk on ink whatever the tone of the shape, so that text can always be read. */
export const plateFill = '#1a1d24'

/** Colour of the text on a plate. */
export const plateText = '#fbf7ee'
const plateOpacity = 0.86

/** A text on a ground that can be read over any picture. */
export interface Plate {
  /** Where the plate hangs. */
  readonly at: Point
  /** Which side of the plate touches `at`: it lies right of, left of, above or below it, or is centred on it. */
  readonly lies: 'right' | 'left' | 'above' | 'below' | 'over'
  readonly lines: readonly { readonly text: string; readonly sizePx: number }[]
  /** Colour of the edge stripe: that of the shape it belongs to. */
  readonly edge: string
  readonly frameSize: { readonly width: number; readonly height: number }
}

/** Size of a plate with its padding. */
export function plateSize(lines: Plate['lines']): { width: number; height: number; padding: number } {
  const largest = Math.max(...lines.map((line) => line.sizePx))
  const padding = largest * 0.3
  return {
    width: Math.max(...lines.map((line) => textWidth(line.text, line.sizePx))) + padding * 2.6,
    height: lines.reduce((sum, line) => sum + line.sizePx * 1.2, 0) + padding * 1.2,
    padding,
  }
}

/** Where a plate comes to lie: pushed back into the picture where it would hang out. */
export function plateBox({ at, lies, lines, frameSize }: Omit<Plate, 'edge'>): Box {
  const { width, height, padding: gap } = plateSize(lines)
  const wanted = {
    right: { x: at.x + gap, y: at.y - height / 2 },
    left: { x: at.x - gap - width, y: at.y - height / 2 },
    above: { x: at.x - width / 2, y: at.y - gap - height },
    below: { x: at.x - width / 2, y: at.y + gap },
    over: { x: at.x - width / 2, y: at.y - height / 2 },
  }[lies]
  return {
    x: Math.max(0, Math.min(wanted.x, frameSize.width - width)),
    y: Math.max(0, Math.min(wanted.y, frameSize.height - height)),
    width,
    height,
  }
}

/** The nearest place up or down where the plate lies on no other; the wanted one if there is none close by. */
export function besideOthers(wanted: Plate, taken: readonly Box[], gapPx: number): Plate {
  const step = plateSize(wanted.lines).height / 2
  for (const steps of [0, -1, 1, -2, 2, -3, 3, -4, 4, -5, 5, -6, 6]) {
    const moved = { ...wanted, at: { x: wanted.at.x, y: wanted.at.y + steps * step } }
    const box = growBox(plateBox(moved), gapPx)
    if (!taken.some((other) => doOverlap(box, other))) return moved
  }
  return wanted
}

/**
 * Text on a readable plate: two opposite corners round, two sharp, a stripe in the shape's tone along its left edge.
 */
export function plate(wanted: Plate): SceneNode {
  const { lines, edge } = wanted
  const { padding } = plateSize(lines)
  const { x, y, width, height } = plateBox(wanted)
  const radius = Math.min(height / 2, padding * 1.6)
  const texts: SceneNode[] = []
  let top = y + padding * 0.6
  for (const line of lines) {
    texts.push(textNode(line.text, { x: x + padding * 1.5, y: top }, line.sizePx, plateText))
    top += line.sizePx * 1.2
  }
  return {
    className: 'Group',
    attrs: { name: 'plate' },
    children: [
      {
        className: 'Rect',
        attrs: {
          x: rounded(x),
          y: rounded(y),
          width: rounded(width),
          height: rounded(height),
          fill: plateFill,
          opacity: plateOpacity,
          cornerRadius: [0, rounded(radius), 0, rounded(radius)],
        },
      },
      {
        className: 'Rect',
        attrs: {
          x: rounded(x),
          y: rounded(y),
          width: rounded(padding * 0.4),
          height: rounded(height - radius),
          fill: edge,
        },
      },
      ...texts,
    ],
  }
}

/** One line of text, its line box starting at `at`. */
export const textNode = (text: string, at: Point, sizePx: number, fill: string): SceneNode => ({
  className: 'Text',
  attrs: {
    x: rounded(at.x),
    y: rounded(at.y),
    text,
    fontFamily,
    fontStyle,
    fontSize: rounded(sizePx),
    lineHeight: 1.2,
    wrap: 'none',
    fill,
  },
})
