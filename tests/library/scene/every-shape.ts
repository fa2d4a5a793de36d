import type { Drawing } from '../../../shared-core/drawing/drawing.ts'
import type { Shape } from '../../../shared-core/drawing/shapes.ts'
import { toneNames, type ToneName } from '../../../shared-core/drawing/tones.ts'
import type { SceneCue } from '../../../shared-core/scene/scene-cue.ts'
import type { RgbaImage } from '../../../electron/library/scene/raster.ts'

export const frameSize = { width: 1280, height: 720 }

const base = <K extends string>(kind: K, tone: ToneName, label = '') => ({
  kind,
  version: 1 as const,
  style: { tone, widthPx: 5, isDashed: false },
  label,
})

/** One of each shape, apart from each other, by kind. */
export const everyShape: { readonly [K in Shape['kind']]: Extract<Shape, { kind: K }> } = {
  line: { ...base('line', 'chalk', 'Shaft'), from: { x: 60, y: 200 }, to: { x: 220, y: 80 } },
  arrow: { ...base('arrow', 'apricot'), from: { x: 300, y: 200 }, to: { x: 440, y: 100 } },
  curve: {
    ...base('curve', 'lagoon', 'Hands'),
    points: [
      { x: 520, y: 200 },
      { x: 580, y: 90 },
      { x: 660, y: 120 },
      { x: 700, y: 210 },
    ],
  },
  angle: {
    ...base('angle', 'orchid'),
    vertex: { x: 800, y: 210 },
    first: { x: 800, y: 70 },
    second: { x: 940, y: 210 },
    isOuter: false,
  },
  circle: { ...base('circle', 'indigo', 'Head'), centre: { x: 1120, y: 150 }, radiusPx: 70 },
  box: { ...base('box', 'ink'), centre: { x: 140, y: 360 }, widthPx: 150, heightPx: 100, turnDeg: 15 },
  freehand: {
    ...base('freehand', 'chalk'),
    points: Array.from({ length: 40 }, (_, i) => ({ x: 280 + i * 4, y: 350 + 30 * Math.sin(i / 4) })),
  },
  text: {
    ...base('text', 'apricot'),
    at: { x: 500, y: 310 },
    text: 'Soft shoulders, firm lead side: 37°, café',
    sizePx: 26,
    wrapPx: 260,
  },
  plumb: { ...base('plumb', 'lagoon', 'Plumb'), top: { x: 860, y: 330 }, lengthPx: 120 },
  level: { ...base('level', 'orchid'), middle: { x: 980, y: 420 }, lengthPx: 140 },
  ruler: {
    ...base('ruler', 'chalk', 'Club'),
    from: { x: 80, y: 560 },
    to: { x: 380, y: 560 },
    knownLengthM: null,
  },
  cover: {
    ...base('cover', 'ink'),
    at: { x: 1100, y: 300 },
    widthPx: 120,
    heightPx: 150,
    outline: 'oval',
    how: 'blur',
  },
}

export const drawingOf = (shape: Shape, id: string = shape.kind, order = 0): Drawing => ({
  id,
  viewId: 'view',
  momentId: null,
  fromFrame: 0,
  toFrame: 10,
  shape,
  order,
  isHidden: false,
})

export const everyDrawing: Drawing[] = Object.values(everyShape).map((shape, i) =>
  drawingOf(shape, shape.kind, i),
)

export const someCues: SceneCue[] = [0, 1, 2, 3].map((strength, i) => ({
  id: `cue-${i}`,
  number: i + 1,
  name: ['Grip', 'Tension: shoulders', 'Lead side late', 'Release'][i]!,
  strength,
  at: i === 0 ? null : { x: 420 + i * 210, y: 620 },
  note: i === 1 ? 'Let the shoulders hang before the club starts back, and keep breathing' : '',
  frame: 5,
}))

/** A picture with grass, sky, a wall and fine checks, so that blur and contrast can be seen. */
export function testPicture({ width, height }: { width: number; height: number } = frameSize): RgbaImage {
  const rgba = new Uint8Array(width * height * 4)
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const at = (y * width + x) * 4
      const check = (x >> 2) % 2 === (y >> 2) % 2 ? 18 : -18
      const [r, g, b] =
        y < height / 3 ? [150, 190, 230] : y < (2 * height) / 3 ? [190, 180, 165] : [70, 120, 60]
      rgba.set([r + check, g + check, b + check, 255], at)
    }
  }
  return { width, height, rgba }
}

export { toneNames }
