import type { Drawing } from '../../../shared-core/drawing/drawing.ts'
import type { Box } from '../../../shared-core/geometry/box.ts'
import type { SlowClipInput } from '../../../shared-core/hand-over/slow-clip-plan.ts'
import type { SceneCue } from '../../../shared-core/scene/scene-cue.ts'
import type { SceneOptions } from '../../../shared-core/scene/scene.ts'
import type { Adjustments } from '../scene/adjustments.ts'

/** A view of a swing, ready to be rendered. */
export interface ClipSource {
  file: string
  /** Name of the clip as the coach knows it. */
  clipName: string
  width: number
  height: number
  time: SlowClipInput
  /** Left and right exchanged: the picture, the drawings and the cues, not their words. */
  isMirrored: boolean
  adjustments: Adjustments
  drawings: readonly Drawing[]
  cues: readonly SceneCue[]
  sceneOptions: Omit<SceneOptions, 'areCoversBlurred' | 'selectedId' | 'scale'>
  /** Whether a person is on a frame; null where the body was not read on it. */
  personOn: (frame: number) => boolean | null
  /** Where the player's head is on a frame; null where the body was not read. */
  headOn: (frame: number) => Box | null
  /** Words under the picture while a frame is held. */
  captions: ReadonlyMap<number, string>
}
