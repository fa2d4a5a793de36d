/**
 * One thing to paint, as plain data: the name of a Konva class and attributes as Konva knows them, in source pixels.
 * The window, the stills and the burned-in video all paint from these (to-konva.ts).
 */
export interface SceneNode {
  readonly className: SceneClass
  /** Id of the drawing or cue it belongs to, on the outermost node only. */
  readonly id?: string
  readonly attrs: SceneAttributes
  readonly children?: readonly SceneNode[]
}

/** What there is to paint with. */
export const sceneClasses = ['Group', 'Line', 'Arrow', 'Circle', 'Ellipse', 'Rect', 'Text', 'Path'] as const
export type SceneClass = (typeof sceneClasses)[number]

/** Attributes as Konva knows them. */
export type SceneAttributes = Readonly<Record<string, SceneValue>>

/** A value of an attribute. */
export type SceneValue = string | number | boolean | readonly number[]

/** Nodes that belong together. */
export const group = (children: readonly SceneNode[], id?: string): SceneNode => ({
  className: 'Group',
  ...(id === undefined ? {} : { id }),
  attrs: {},
  children,
})

/** A coordinate with two decimals: enough for any screen, and the same text on every machine. */
export const rounded = (value: number): number => Math.round(value * 100) / 100 + 0
