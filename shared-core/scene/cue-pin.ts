import type { PaintContext } from '../drawing/shape-definition.ts'
import { tones } from '../drawing/tones.ts'
import type { Point } from '../geometry/point.ts'
import { rounded, type SceneNode } from './node.ts'
import { plate, plateFill, plateSize, plateText, textNode } from './plate.ts'
import type { SceneCue } from './scene-cue.ts'
import { textWidth, wrapText } from './text-width.ts'

/** Strengths go from 0 to this. */
export const notchCount = 3

type PinContext = Pick<PaintContext, 'frameSize' | 'textPx'>

/** Rows of cues without a place, from the top left corner down. */
const cornerPlace = (row: number, { textPx }: PinContext): Point => ({
  x: textPx * 1.6,
  y: textPx * (2.6 + row * 2.6),
})

/**
 * A cue on the picture: a pin with its number above the place, beside it three notches of which as many are filled
 * as the cue is strong, and a plate with its name and note.
 */
export function cuePin(cue: SceneCue, row: number, context: PinContext): SceneNode {
  const { textPx, frameSize } = context
  const radius = textPx * 0.75
  const place = cue.at ?? cornerPlace(row, context)
  const head: Point = cue.at === null ? place : { x: place.x, y: place.y - radius * 2 }
  const lines = linesOf(cue, context)
  // The plate goes to the side where it fits; the notches to the other one.
  const fits = head.x + radius + plateSize(lines).width + textPx <= frameSize.width
  const lies = fits ? 'right' : 'left'
  const out = fits ? 1 : -1
  return {
    className: 'Group',
    id: cue.id,
    attrs: { name: 'cue' },
    children: [
      ...(cue.at === null ? [] : stem(place, head, textPx)),
      plate({
        at: { x: head.x + out * radius, y: head.y },
        lies,
        lines,
        edge: tones.apricot.hex,
        frameSize,
      }),
      {
        className: 'Circle',
        attrs: {
          x: rounded(head.x),
          y: rounded(head.y),
          radius: rounded(radius),
          fill: plateFill,
          stroke: plateText,
          strokeWidth: rounded(textPx * 0.1),
        },
      },
      textNode(
        String(cue.number),
        {
          x: head.x - textWidth(String(cue.number), textPx) / 2,
          y: head.y - textPx * 0.6,
        },
        textPx,
        plateText,
      ),
      ...notches(cue.strength, { x: head.x - out * radius * 1.75, y: head.y }, textPx),
    ],
  }
}

function linesOf(cue: SceneCue, { textPx, frameSize }: PinContext): { text: string; sizePx: number }[] {
  const notePx = textPx * 0.78
  const noteLines = cue.note.trim() === '' ? [] : wrapText(cue.note.trim(), notePx, frameSize.width * 0.32)
  const shown = noteLines.slice(0, 4)
  if (noteLines.length > shown.length) shown[3] = `${shown[3]} …`
  return [{ text: cue.name, sizePx: textPx }, ...shown.map((text) => ({ text, sizePx: notePx }))]
}

const stem = (place: Point, head: Point, textPx: number): SceneNode[] => [
  {
    className: 'Line',
    attrs: {
      points: [rounded(head.x), rounded(head.y), rounded(place.x), rounded(place.y)],
      stroke: plateFill,
      strokeWidth: rounded(textPx * 0.26),
      lineCap: 'round',
    },
  },
  {
    className: 'Line',
    attrs: {
      points: [rounded(head.x), rounded(head.y), rounded(place.x), rounded(place.y)],
      stroke: plateText,
      strokeWidth: rounded(textPx * 0.1),
      lineCap: 'round',
    },
  },
  {
    className: 'Circle',
    attrs: {
      x: rounded(place.x),
      y: rounded(place.y),
      radius: rounded(textPx * 0.16),
      fill: plateText,
      stroke: plateFill,
      strokeWidth: rounded(textPx * 0.08),
    },
  },
]

/** Three bars in a column, filled from the lowest up. */
function notches(strength: number, at: Point, textPx: number): SceneNode[] {
  const width = textPx * 0.5
  const height = textPx * 0.26
  const pitch = textPx * 0.46
  return Array.from({ length: notchCount }, (_, i) => ({
    className: 'Rect' as const,
    attrs: {
      name: i < strength ? 'notch filled' : 'notch',
      x: rounded(at.x - width / 2),
      y: rounded(at.y + pitch * (1 - i) - height / 2),
      width: rounded(width),
      height: rounded(height),
      fill: i < strength ? tones.apricot.hex : plateFill,
      stroke: i < strength ? plateFill : plateText,
      strokeWidth: rounded(textPx * 0.06),
    },
  }))
}
