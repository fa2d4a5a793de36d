import { mappedDrawing, type Drawing } from '../../../shared-core/drawing/drawing.ts'
import { applyTo, mirrorAt } from '../../../shared-core/geometry/similarity.ts'
import type { SceneCue } from '../../../shared-core/scene/scene-cue.ts'
import type { ClipSource } from './clip-source.ts'

/** Drawings and cues as they lie on the mirrored picture; words stay readable. */
export const mirroredScene = (
  source: Pick<ClipSource, 'width' | 'sceneOptions'>,
  scene: { drawings: readonly Drawing[]; cues: readonly SceneCue[] },
): { drawings: Drawing[]; cues: SceneCue[]; options: ClipSource['sceneOptions'] } => {
  const map = mirrorAt(source.width / 2)
  return {
    drawings: scene.drawings.map((d) => mappedDrawing(d, map)),
    cues: scene.cues.map((c) => ({ ...c, at: c.at === null ? null : applyTo(map, c.at) })),
    options: { ...source.sceneOptions, tiltDeg: -(source.sceneOptions.tiltDeg ?? 0) },
  }
}
