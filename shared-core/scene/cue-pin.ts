import type { PaintContext } from '../drawing/shape-definition.ts'
import { tones } from '../drawing/tones.ts'
import { growBox, type Box } from '../geometry/box.ts'
import type { Point } from '../geometry/point.ts'
import { distanceToSegment } from '../geometry/segment.ts'
import { group, rounded, type SceneNode } from './node.ts'
import {
  besideOthers,
  plate,
  plateBox,
  plateFill,
  plateSize,
  plateText,
  textNode,
  type Plate,
} from './plate.ts'
import type { SceneCue } from './scene-cue.ts'
import { textWidth, wrapText } from './text-width.ts'

/** Strengths go from 0 to this. */
export const notchCount = 3

type PinContext = Pick<PaintContext, 'frameSize' | 'textPx' | 'keepClear'>

/** Distance in source pixels from a point to a cue's pin: its head, its stem and its place. 0 on the head. */
export const pinDistance = (at: Point, p: Point, textPx: number): number => {
  const head = { x: at.x, y: at.y - textPx * 1.5 }
  const toHead = Math.hypot(p.x - head.x, p.y - head.y) - textPx * 0.75
  return Math.max(0, Math.min(toHead, distanceToSegment(p, at, head)))
}

/** Rows of cues without a place, from the top left corner down. */
const cornerPlace = (row: number, { textPx }: PinContext): Point => ({
  x: textPx * 2.4,
  y: textPx * (2 + row * 2.4),
})

/**
 * The cues of one frame: for each a pin with its number above the place, beside it three notches of which as many are
 * filled as the cue is strong, and a plate with its name and note. A plate that would lie over an earlier one or
 * over another pin moves up or down and keeps its number; pins lie over all plates, so a number is never hidden.
 */
export function cuePins(cues: readonly SceneCue[], context: PinContext): SceneNode[] {
  const { textPx, frameSize } = context
  const radius = textPx * 0.75
  let row = 0
  const heads = cues.map((cue) =>
    cue.at === null ? cornerPlace(row++, context) : { x: cue.at.x, y: cue.at.y - radius * 2 },
  )
  const pinBoxes = heads.map((head) => growBox({ ...head, width: 0, height: 0 }, radius * 1.2))
  const taken: Box[] = []
  const placed = cues.map((cue, i) => {
    const head = heads[i]!
    const lines = linesOf(cue, context)
    // The plate goes to the side where it fits; the notches to the other one.
    const fits = head.x + radius + plateSize(lines).width + textPx <= frameSize.width
    const out = fits ? 1 : -1
    const wanted: Plate = {
      at: { x: head.x + out * radius, y: head.y },
      lies: fits ? 'right' : 'left',
      lines,
      edge: tones.apricot.hex,
      frameSize,
    }
    const others = pinBoxes.filter((_, other) => other !== i)
    const free = besideOthers(wanted, [...taken, ...others, ...context.keepClear], textPx * 0.15)
    taken.push(plateBox(free))
    return { cue, head, out, plate: plate(free) }
  })
  return [
    ...placed.map(({ cue, plate }) => group([plate], `${cue.id}/words`)),
    ...placed.map(({ cue, head, out }) => pinHead(cue, head, out, textPx)),
  ]
}

function pinHead(cue: SceneCue, head: Point, out: number, textPx: number): SceneNode {
  const radius = textPx * 0.75
  const number = String(cue.number)
  return {
    className: 'Group',
    id: cue.id,
    attrs: { name: 'cue' },
    children: [
      ...(cue.at === null ? [] : stem(cue.at, head, textPx)),
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
        number,
        { x: head.x - textWidth(number, textPx) / 2, y: head.y - textPx * 0.6 },
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
  return [
    { text: `${cue.number}  ${cue.name}`, sizePx: textPx },
    ...shown.map((text) => ({ text, sizePx: notePx })),
  ]
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
