import { useEffect, useState } from 'react'
import { timestampsOf } from './open-clips.ts'

/** Seconds of every frame of a clip in its file; null until they are read. */
export const useTimestamps = (clipId: string): readonly number[] | null => {
  const [read, setRead] = useState<{ clipId: string; atSeconds: readonly number[] } | null>(null)
  useEffect(() => {
    let isGone = false
    timestampsOf(clipId).then(
      (atSeconds) => !isGone && setRead({ clipId, atSeconds }),
      // Without them no speed is shown; the picture itself tells what is wrong with its file.
      () => {},
    )
    return () => {
      isGone = true
    }
  }, [clipId])
  return read?.clipId === clipId ? read.atSeconds : null
}
