import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react'
import { impactOf } from '../store/desk-store.ts'
import type { Clip, View } from '../../shared-core/model/entities.ts'
import { openingFrameOf } from '../desk/stage/open-clips.ts'
import { usePlayer, type PicturePlacement } from '../desk/stage/use-player.ts'
import { BayCovers } from './BayCovers.tsx'
import { fitted, type Size } from '../stage-engine/viewport.ts'
import { liveWords } from '../../shared-core/wording/window/live.ts'

/** Seconds of life before and after the impact that the loop shows, and how slowly. */
const loopBeforeSeconds = 0.45
const loopAfterSeconds = 0.25
const loopRate = 1 / 8

/** Frames of the loop: around the impact, or all of a swing whose impact is not known. */
export const loopOf = (view: View, clip: Pick<Clip, 'captureRate'>): { first: number; last: number } => {
  const impact = impactOf(view)?.frame
  if (impact === undefined) return { first: view.fromFrame, last: view.toFrame }
  const frames = (seconds: number) => Math.round(seconds * clip.captureRate)
  return {
    first: Math.max(view.fromFrame, impact - frames(loopBeforeSeconds)),
    last: Math.min(view.toFrame, impact + frames(loopAfterSeconds)),
  }
}

/** A swing at its impact, or looping slowly around it; nothing can be changed here. */
export function BayPicture({ view, clip, isLooping }: { view: View; clip: Clip; isLooping: boolean }) {
  const box = useRef<HTMLDivElement>(null)
  const canvas = useRef<HTMLCanvasElement>(null)
  const placing = useRef<PicturePlacement | null>(null)
  const [size, setSize] = useState<Size | null>(null)
  const start = openingFrameOf(view)
  const { player, error } = usePlayer(clip, canvas, placing, start)
  const { first, last } = useMemo(() => loopOf(view, clip), [view, clip])

  useLayoutEffect(() => {
    const element = box.current!
    const measure = () =>
      setSize({ width: Math.max(1, element.clientWidth), height: Math.max(1, element.clientHeight) })
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  useLayoutEffect(() => {
    const target = canvas.current
    if (!target || !size) return
    placing.current = { view: fitted(clip, size), isMirrored: clip.isMirrored }
    target.width = Math.round(size.width * devicePixelRatio)
    target.height = Math.round(size.height * devicePixelRatio)
    player?.repaint()
  }, [size, clip, player])
  useEffect(() => {
    if (!player || !size) return
    if (isLooping) player.play({ rate: loopRate, direction: 1, first, last, loop: true })
    else void player.show(start).catch(() => {})
    return () => player.stop()
  }, [player, size, isLooping, first, last, start])

  return (
    <div ref={box} className="bay-picture">
      <canvas
        ref={canvas}
        role="img"
        aria-label={isLooping ? liveWords('lastSwingSlowly') : liveWords('lastSwingAtImpact')}
      />
      {player && size && (
        <BayCovers view={view} clip={clip} player={player} size={size} viewport={fitted(clip, size)} />
      )}
      {error && <p className="bay-note">{liveWords('cantBeShown')}</p>}
    </div>
  )
}
