import { mappedDrawing, type Drawing } from '../../../shared-core/drawing/drawing.ts'
import { mirroredBox } from '../../../shared-core/geometry/box.ts'
import { applyTo, mirrorAt } from '../../../shared-core/geometry/similarity.ts'
import type { SceneCue } from '../../../shared-core/scene/scene-cue.ts'
import type { ClipSource } from './clip-source.ts'

/** What lies on one frame. */
interface OnFrame {
  readonly drawings: readonly Drawing[]
  readonly cues: readonly SceneCue[]
  readonly frame: number
}

/**
 * Drawings and cues as they lie on the picture that is seen: mirrored where it is, words readable and beside the player's head
 * where the body was read.
 */
export const seenScene = (
  source: Pick<ClipSource, 'width' | 'isMirrored' | 'sceneOptions' | 'headOn'>,
  { drawings, cues, frame }: OnFrame,
): OnFrame & { options: ClipSource['sceneOptions'] } => {
  const head = source.headOn(frame)
  if (!source.isMirrored) {
    return { drawings, cues, frame, options: { ...source.sceneOptions, keepClear: head ? [head] : [] } }
  }
  const map = mirrorAt(source.width / 2)
  return {
    drawings: drawings.map((d) => mappedDrawing(d, map)),
    cues: cues.map((c) => ({ ...c, at: c.at === null ? null : applyTo(map, c.at) })),
    frame,
    options: {
      ...source.sceneOptions,
      tiltDeg: -(source.sceneOptions.tiltDeg ?? 0),
      keepClear: head ? [mirroredBox(head, source.width)] : [],
    },
  }
}
