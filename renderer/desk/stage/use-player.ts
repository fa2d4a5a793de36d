import { useEffect, useRef, useState, type RefObject } from 'react'
import type { Clip } from '../../../shared-core/model/entities.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { pictureContext } from '../../stage-engine/canvas-context.ts'
import { ClipFrames } from '../../stage-engine/clip-frames.ts'
import { paintPicture } from '../../stage-engine/paint-picture.ts'
import { Player, type Painter } from '../../stage-engine/player.ts'
import type { Size, StageView } from '../../stage-engine/stage-view.ts'
import { ask, mediaUrl } from '../../store/bridge.ts'
import { sayProblem } from '../../store/messages.ts'

const timestamps = new Map<string, Promise<number[]>>()
/** The time of every frame of a clip; read once. */
export const timestampsOf = (clipId: string): Promise<number[]> => {
  const known = timestamps.get(clipId)
  if (known) return known
  const read = ask('clip.timestamps', { id: clipId }).then((answer) => answer.atSeconds)
  timestamps.set(clipId, read)
  read.catch(() => timestamps.delete(clipId))
  return read
}

export const timesOf = (clip: Clip, atSeconds: ArrayLike<number>): ClipTimes => ({
  atSeconds,
  playbackRate: clip.playbackRate,
  captureRate: clip.captureRate,
})

/** How the picture lies on the canvas just now; read when painting. */
export interface Placing {
  view: StageView
  isMirrored: boolean
}

/**
 * A player for a clip that paints into a canvas. `data-frame` on the canvas is the frame whose pixels are in it, set
 * after they were painted.
 */
export const usePlayer = (
  clip: Clip | null,
  canvas: RefObject<HTMLCanvasElement | null>,
  placing: RefObject<Placing | null>,
): { player: Player | null; times: ClipTimes | null; error: string | null } => {
  const [state, setState] = useState<{ clipId: string; player: Player; atSeconds: number[] } | null>(null)
  const [error, setError] = useState<{ clipId: string; text: string } | null>(null)
  const clipId = clip?.id ?? null
  const clipRef = useRef(clip)
  useEffect(() => {
    clipRef.current = clip
  })

  useEffect(() => {
    if (!clipId) return
    let player: Player | null = null
    let isGone = false
    const paint: Painter = (picture, frame, rotationDeg) => {
      const target = canvas.current
      const now = clipRef.current
      const place = placing.current
      if (!target || !now || !place) return
      const size: Size = { width: now.width, height: now.height }
      const context = pictureContext(target)
      paintPicture(context, picture, size, place.view, {
        rotationDeg,
        isMirrored: place.isMirrored,
        density: devicePixelRatio,
      })
      target.dataset['frame'] = String(frame)
    }
    const open = async () => {
      // The file is opened while the library looks the times up.
      const times = timestampsOf(clipId)
      const [atSeconds, frames] = await Promise.all([times, ClipFrames.open(mediaUrl(clipId, 'play'), times)])
      const now = clipRef.current
      if (isGone || !now) {
        frames.close()
        return
      }
      const opened = new Player(frames, timesOf(now, atSeconds), paint)
      player = opened
      setState({ clipId, player: opened, atSeconds })
    }
    open().catch((reason: Error) => {
      if (isGone) return
      setError({ clipId, text: reason.message })
      sayProblem(
        new Problem('clip-unreadable', `the picture can't be shown: ${reason.message}`, {
          where: clipRef.current?.fileName ?? null,
          toDo: 'Add the clip again from the camera; its drawings and moments are kept',
        }),
      )
    })
    const shown = canvas.current
    return () => {
      isGone = true
      player?.close()
      if (shown) delete shown.dataset['frame']
    }
  }, [clipId, canvas, placing])

  const isCurrent = state !== null && state.clipId === clipId
  const player = isCurrent ? state.player : null
  const times = isCurrent && clip ? timesOf(clip, state.atSeconds) : null
  useEffect(() => {
    if (player && times) player.setTimes(times)
  })
  return { player, times, error: error && error.clipId === clipId ? error.text : null }
}
