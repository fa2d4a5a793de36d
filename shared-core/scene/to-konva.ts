import type { SceneClass, SceneNode } from './node.ts'

/** As much of Konva as painting needs; the window and the headless painter hand in theirs. */
export type KonvaClasses<N> = {
  readonly [C in Exclude<SceneClass, 'Group'>]: new (attrs: KonvaAttrs) => N
} & {
  readonly Group: new (attrs: KonvaAttrs) => N & { add(child: N): unknown }
}
// Konva's own config types differ from class to class; the scene's attributes are plain JSON.
// eslint-disable-next-line @typescript-eslint/no-explicit-any
type KonvaAttrs = any

/** Konva attributes of a node, for painters that make their own elements. Nothing listens: hits are found by the shapes themselves. */
export const konvaAttrs = (node: SceneNode) => ({
  ...node.attrs,
  ...(node.id === undefined ? {} : { id: node.id }),
  listening: false,
})

/** The Konva node of a scene node, children included. */
export function toKonva<N>(konva: KonvaClasses<N>, node: SceneNode): N {
  if (node.className !== 'Group') return new konva[node.className](konvaAttrs(node))
  const made = new konva.Group(konvaAttrs(node))
  for (const child of node.children ?? []) made.add(toKonva(konva, child))
  return made
}
