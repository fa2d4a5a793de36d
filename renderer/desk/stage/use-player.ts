import { useEffect, useRef, useState, type RefObject } from 'react'
import type { Clip } from '../../../shared-core/model/entities.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { pictureContext } from '../../stage-engine/canvas-context.ts'
import type { ClipFrames } from '../../stage-engine/clip-frames.ts'
import { clearPicture, paintPicture } from '../../stage-engine/paint-picture.ts'
import { Player, type Painter } from '../../stage-engine/player.ts'
import type { Size, Viewport } from '../../stage-engine/viewport.ts'
import { sayProblem } from '../../store/messages.ts'
import { pictureSource } from '../../store/bridge.ts'
import { giveBackClip, openNeighbours, takeClip, timestampsOf } from './open-clips.ts'

export const timesOf = (clip: Clip, atSeconds: ArrayLike<number>): ClipTimes => ({
  atSeconds,
  playbackRate: clip.playbackRate,
  captureRate: clip.captureRate,
  slowPart: clip.slowPart,
})

/** How long after its first picture a clip has the machine to itself. */
const calmMs = 150

/** How long a picture may stay while the next one is opened. */
const blankMs = 250

/** How the picture lies on the canvas just now; read when painting. */
export interface PicturePlacement {
  view: Viewport
  isMirrored: boolean
}

/**
 * A player for a clip that paints into a canvas. `data-clip` and `data-frame` on the canvas are the clip and the frame
 * whose pixels are in it, set after they were painted.
 */
export const usePlayer = (
  clip: Clip | null,
  canvas: RefObject<HTMLCanvasElement | null>,
  placing: RefObject<PicturePlacement | null>,
  /** The frame it opens on. */
  start: number,
  /** Holds a few pictures only, and leaves the machine to other work. */
  isCalm = false,
): { player: Player | null; times: ClipTimes | null; error: string | null } => {
  const [state, setState] = useState<{
    clipId: string
    source: string
    player: Player
    frames: ClipFrames
    atSeconds: number[]
  } | null>(null)
  const [error, setError] = useState<{ clipId: string; text: string } | null>(null)
  const clipId = clip?.id ?? null
  const source = useSource(clip, state?.player ?? null)
  /** What was on show last; a working copy that takes the original's place goes on there. */
  const left = useRef<{ clipId: string; frame: number } | null>(null)
  const clipRef = useRef(clip)
  const startRef = useRef(start)
  const calmRef = useRef(isCalm)
  useEffect(() => {
    clipRef.current = clip
    startRef.current = start
    calmRef.current = isCalm
  })

  useEffect(() => {
    if (!clipId || !source) return
    let player: Player | null = null
    let taken: ClipFrames | null = null
    let isGone = false
    let neighbours: ReturnType<typeof setTimeout> | undefined
    const shown = canvas.current
    const clear = () => shown && clearPicture(pictureContext(shown))
    // The picture before stays for the moment in which this one opens, but never for longer.
    const blank = setTimeout(clear, blankMs)
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
      clearTimeout(blank)
      target.dataset['clip'] = now.id
      target.dataset['frame'] = String(frame)
    }
    const open = async () => {
      const [atSeconds, frames] = await Promise.all([timestampsOf(clipId), takeClip(clipId, source)])
      const now = clipRef.current
      if (isGone || !now) {
        giveBackClip(source, frames)
        return
      }
      taken = frames
      if (!calmRef.current) frames.grow()
      const opened = new Player(frames, timesOf(now, atSeconds), paint)
      player = opened
      const off = opened.onShown(() => {
        off()
        neighbours = setTimeout(openNeighbours, calmMs)
      })
      // Before the window has followed: the picture is what is waited for.
      const first = left.current?.clipId === clipId ? left.current.frame : startRef.current
      const showing = opened.show(first).catch(() => {})
      if (frames.picture(first)) await showing
      if (!isGone) setState({ clipId, source, player: opened, frames, atSeconds })
    }
    open().catch((reason: Error) => {
      if (isGone) return
      clear()
      setError({ clipId, text: reason.message })
      sayProblem(
        new Problem('clip-unreadable.onStage', {
          reason: reason.message,
          where: clipRef.current?.fileName ?? null,
        }),
      )
    })
    return () => {
      isGone = true
      clearTimeout(blank)
      clearTimeout(neighbours)
      if (player) left.current = { clipId, frame: player.wantedFrame }
      player?.close()
      if (taken) giveBackClip(source, taken)
      if (!shown) return
      delete shown.dataset['clip']
      delete shown.dataset['frame']
    }
  }, [clipId, source, canvas, placing])

  const isCurrent = state !== null && state.clipId === clipId && state.source === source
  const player = isCurrent ? state.player : null
  const frames = isCurrent ? state.frames : null
  useEffect(() => {
    if (frames && !isCalm) frames.grow()
  }, [frames, isCalm])
  const times = isCurrent && clip ? timesOf(clip, state.atSeconds) : null
  useEffect(() => {
    if (player && times) player.setTimes(times)
  })
  return { player, times, error: error && error.clipId === clipId ? error.text : null }
}

/** What the clip is looked at by. A working copy that comes while the original plays takes its place when that ends. */
const useSource = (clip: Clip | null, player: Player | null): string | null => {
  const wanted = clip ? pictureSource(clip) : null
  const clipId = clip?.id ?? null
  const [held, setHeld] = useState({ clipId, source: wanted })
  if (held.clipId !== clipId) setHeld({ clipId, source: wanted })
  useEffect(() => {
    const take = () =>
      setHeld((now) => (now.clipId === clipId && now.source === wanted ? now : { clipId, source: wanted }))
    if (player?.isPlaying) return player.onStopped(take)
    const soon = setTimeout(take)
    return () => clearTimeout(soon)
  }, [clipId, wanted, player])
  return held.clipId === clipId ? held.source : wanted
}
