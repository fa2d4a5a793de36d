import { describe, expect, it } from 'vitest'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import { plateBox } from '../../../shared-core/scene/plate.ts'
import { sceneClasses, type SceneNode } from '../../../shared-core/scene/node.ts'
import { sceneCues } from '../../../shared-core/scene/scene-cue.ts'
import { buildScene, coverAreas, textPxFor } from '../../../shared-core/scene/scene.ts'
import { textWidth, wrapText } from '../../../shared-core/scene/text-width.ts'
import { drawingOf, everyDrawing, everyShape, frameSize, someCues } from '../../library/scene/every-shape.ts'

const flatten = (nodes: readonly SceneNode[]): SceneNode[] =>
  nodes.flatMap((node) => [node, ...flatten(node.children ?? [])])
const build = (input: Partial<Parameters<typeof buildScene>[0]> = {}) =>
  buildScene({ frameSize, drawings: everyDrawing, cues: someCues, frame: 5, ...input })

describe('a scene', () => {
  it('is plain data, the same for the same input', () => {
    const scene = build()
    expect(build()).toEqual(scene)
    expect(JSON.parse(JSON.stringify(scene))).toEqual(scene)
    for (const node of flatten(scene)) expect(sceneClasses).toContain(node.className)
    expect(JSON.stringify(scene)).not.toMatch(/null|NaN/)
  })

  it('holds every drawing under its id, covers first, then by order', () => {
    const ids = build({ cues: [] }).map((node) => node.id)
    expect(ids).toEqual(['cover', ...Object.keys(everyShape).filter((kind) => kind !== 'cover')])
    const swapped = [drawingOf(everyShape.line, 'under', 1), drawingOf(everyShape.box, 'over', 0.5)]
    expect(build({ drawings: swapped, cues: [] }).map((node) => node.id)).toEqual(['over', 'under'])
  })

  it('shows nothing of hidden drawings, other frames and other frames’ cues', () => {
    const hidden = everyDrawing.map((drawing) => ({ ...drawing, isHidden: true }))
    expect(build({ drawings: hidden, cues: [] })).toEqual([])
    expect(build({ frame: 11 })).toEqual([])
  })

  it('shows the handles of the selected drawing only, at the same size on the screen', () => {
    const handles = (scale: number) =>
      build({ options: { selectedId: 'angle', scale } }).find((node) => node.attrs.name === 'handles')!
    expect(handles(1).children!.map((node) => node.id)).toEqual([
      'angle/first',
      'angle/vertex',
      'angle/second',
    ])
    expect(Number(handles(4).children![0]!.attrs.radius) * 4).toBe(handles(1).children![0]!.attrs.radius)
    expect(build().some((node) => node.attrs.name === 'handles')).toBe(false)
    // A followed way can't be dragged.
    const way = everyDrawing.map((drawing) =>
      drawing.id === 'freehand'
        ? { ...drawing, tie: { frame: 5, to: { kind: 'way' as const, id: 'p' } } }
        : drawing,
    )
    const options = { selectedId: 'freehand' }
    expect(build({ options }).some((node) => node.attrs.name === 'handles')).toBe(true)
    expect(build({ drawings: way, options }).some((node) => node.attrs.name === 'handles')).toBe(false)
  })

  it('fills covers that are to be blurred unless the picture was blurred', () => {
    const drawings = [
      drawingOf(everyShape.cover, 'blurred'),
      drawingOf({ ...everyShape.cover, how: 'fill' }, 'filled'),
    ]
    const painted = (areCoversBlurred: boolean) =>
      build({ drawings, cues: [], options: { areCoversBlurred } }).map((node) => node.children!.length)
    expect(painted(false)).toEqual([1, 1])
    expect(painted(true)).toEqual([0, 1])
    expect(coverAreas(drawings, 5)).toEqual([{ x: 1100, y: 300, width: 120, height: 150, outline: 'oval' }])
    expect(coverAreas(drawings, 11)).toEqual([])
  })

  it('writes degrees and lengths on the picture, and that depth is not seen', () => {
    const words = (options: object) =>
      flatten(build({ cues: [], options })).flatMap((node) =>
        node.className === 'Text' ? [node.attrs.text] : [],
      )
    expect(words({})).toEqual(expect.arrayContaining(['90°', 'Club  300 px', 'no scale yet']))
    expect(words({ pixelsPerMeter: 240 })).toEqual(
      expect.arrayContaining(['Club  1.25 m', 'flat view, depth not seen']),
    )
  })
})

describe('cues on the picture', () => {
  it('have as many filled notches as they are strong', () => {
    const scene = build({ drawings: [] })
    someCues.forEach((cue) => {
      const names = flatten([scene.find((node) => node.id === cue.id)!]).map((node) => node.attrs.name)
      expect(names.filter((name) => name === 'notch filled')).toHaveLength(cue.strength)
      expect(names.filter((name) => name === 'notch' || name === 'notch filled')).toHaveLength(3)
    })
  })

  it('do not hide each other’s words', () => {
    const crowded = someCues.map((cue, i) => ({ ...cue, at: { x: 600 + i * 5, y: 400 } }))
    const boxes = buildScene({ frameSize, drawings: [], cues: crowded, frame: 5 })
      .filter((node) => node.id?.endsWith('/words'))
      .map((node) => node.children![0]!.children![0]!.attrs as Record<'x' | 'y' | 'width' | 'height', number>)
    expect(boxes).toHaveLength(4)
    boxes.forEach((a, i) =>
      boxes.slice(i + 1).forEach((b) => {
        expect(
          a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height,
        ).toBe(false)
      }),
    )
  })

  it('are numbered by frame and lose those whose moment is gone', () => {
    const cue = (id: string, momentId: string) => ({
      id,
      momentId,
      kind: 'grip',
      strength: 1,
      x: 4,
      y: 5,
      note: '',
    })
    const cues = sceneCues({
      cues: [cue('a', 'impact'), cue('b', 'top'), cue('c', 'impact'), cue('d', 'gone')],
      moments: [
        { id: 'impact', frame: 30 },
        { id: 'top', frame: 12 },
      ],
      kinds: [{ key: 'grip', label: 'Grip' }],
    })
    expect(cues.map(({ id, number, frame, name }) => [id, number, frame, name])).toEqual([
      ['b', 1, 12, 'Grip'],
      ['a', 1, 30, 'Grip'],
      ['c', 2, 30, 'Grip'],
    ])
  })
})

describe('words', () => {
  it('keep within the wanted width where words allow it, and lose none', () => {
    const text = 'Let the shoulders hang before the club starts back\nand keep breathing'
    const lines = wrapText(text, 20, 180)
    for (const line of lines) expect(textWidth(line, 20)).toBeLessThanOrEqual(180)
    expect(lines.join(' ').split(' ')).toEqual(text.split(/\s/))
    expect(wrapText('unbreakable', 20, 10)).toEqual(['unbreakable'])
  })

  it('have plates that never hang out of the picture', () => {
    for (const at of [
      { x: -50, y: -50 },
      { x: 1400, y: 900 },
    ]) {
      const lines = [{ text: 'Lead side firm', sizePx: 20 }]
      const box = plateBox({ at, lies: 'right', lines, frameSize })
      expect(box.x).toBeGreaterThanOrEqual(0)
      expect(box.x + box.width).toBeLessThanOrEqual(frameSize.width)
      expect(box.y + box.height).toBeLessThanOrEqual(frameSize.height)
    }
  })

  it('grow with the picture but stay readable on small ones', () => {
    expect(textPxFor({ width: 1920, height: 1080 })).toBe(30)
    expect(textPxFor({ width: 1080, height: 1920 })).toBe(30)
    expect(textPxFor({ width: 320, height: 240 })).toBe(14)
  })

  it('of an empty text shape are not painted', () => {
    const empty = shapes.text.create([{ x: 5, y: 5 }], everyShape.text.style)
    expect(build({ drawings: [drawingOf(empty)], cues: [] })[0]!.children).toEqual([])
  })
})
