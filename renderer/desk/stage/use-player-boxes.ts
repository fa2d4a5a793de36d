import { useEffect, useState } from 'react'
import { playerBox } from '../../../shared-core/body/player-box.ts'
import type { Box } from '../../../shared-core/geometry/box.ts'
import { ask } from '../../store/bridge.ts'

/** Where the player is in each of these clips, as far as body points were read; the others are framed by hand. */
export const usePlayerBoxes = (clipIds: readonly string[]): ReadonlyMap<string, Box> => {
  const [boxes, setBoxes] = useState<ReadonlyMap<string, Box>>(new Map())
  const wanted = clipIds.join(' ')
  useEffect(() => {
    let isStill = true
    for (const clipId of wanted.split(' ').filter(Boolean)) {
      // Without points the picture stands as it would anyway: nothing to tell the coach.
      void ask('body.points', { clipId })
        .then(({ frames, points }) => {
          const box = playerBox({ frames: Int32Array.from(frames), points: Float32Array.from(points) })
          if (isStill && box) setBoxes((known) => new Map([...known, [clipId, box]]))
        })
        .catch(() => {})
    }
    return () => {
      isStill = false
    }
  }, [wanted])
  return boxes
}
