import type { Point } from '../geometry/point.ts'
import type { SceneNode } from '../scene/node.ts'
import { besideOthers, plate, type Plate } from '../scene/plate.ts'
import type { Measure } from './measure.ts'
import type { PaintContext } from './shape-definition.ts'
import type { ShapeBase } from './shape-base.ts'
import { tones } from './tones.ts'

/** The shape's label and what it measures on one plate; nothing if it has neither. */
export function labelPlate(
  shape: ShapeBase,
  at: Point,
  lies: Plate['lies'],
  context: PaintContext,
  measure: Measure | null = null,
): SceneNode[] {
  const main = [shape.label, measure?.text ?? ''].filter((part) => part !== '').join('  ')
  if (main === '') return []
  const lines = [{ text: main, sizePx: context.textPx }]
  if (measure !== null && measure.shortNote !== '') {
    lines.push({ text: measure.shortNote, sizePx: context.textPx * 0.68 })
  }
  const { frameSize, textPx, keepClear } = context
  const wanted = { at, lies, lines, edge: tones[shape.style.tone].hex, frameSize }
  return [plate(besideOthers(wanted, keepClear, textPx * 0.15))]
}
