import Konva from 'konva'
import { useEffect, useMemo, useRef, type RefObject } from 'react'
import type { SceneNode } from '../../../shared-core/scene/node.ts'
import { toKonva } from '../../../shared-core/scene/to-konva.ts'
import { placement, type Size, type Viewport } from '../../stage-engine/viewport.ts'

/** Paints a scene into an element, laid as the picture beneath it lies. */
export const useScene = (
  freshNodes: readonly SceneNode[],
  picture: Size,
  viewport: Viewport,
  size: Size,
): RefObject<HTMLDivElement | null> => {
  const host = useRef<HTMLDivElement>(null)
  const konva = useRef<{ stage: Konva.Stage; layer: Konva.Layer } | null>(null)
  // The same drawings on the next frame are not painted anew.
  const nodesText = JSON.stringify(freshNodes)
  const nodes = useMemo(() => JSON.parse(nodesText) as SceneNode[], [nodesText])

  useEffect(() => {
    const stage = new Konva.Stage({ container: host.current!, width: 1, height: 1, listening: false })
    const layer = new Konva.Layer({ listening: false })
    stage.add(layer)
    konva.current = { stage, layer }
    return () => {
      stage.destroy()
      konva.current = null
    }
  }, [])

  const { width, height } = picture
  useEffect(() => {
    const made = konva.current
    if (!made) return
    // An empty layer is not laid over the picture at all, and needs no memory.
    host.current!.firstElementChild?.toggleAttribute('hidden', nodes.length === 0)
    if (nodes.length === 0) return
    const place = placement(viewport, { width, height }, size, false)
    made.stage.size(size)
    made.layer.destroyChildren()
    made.layer.position({ x: place.x, y: place.y })
    made.layer.scale({ x: place.scaleX, y: place.scaleY })
    for (const node of nodes) {
      made.layer.add(toKonva<Konva.Group | Konva.Shape>(Konva as never, node) as Konva.Group)
    }
    made.layer.draw()
  }, [nodes, viewport, size, width, height])
  return host
}
