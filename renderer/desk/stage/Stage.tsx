import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import { blockOf, clipOf, impactOf, swingOf, swingsInOrder, useDesk, viewOf } from '../../store/desk-store.ts'
import type { Player } from '../../stage-engine/player.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { fitted, panned, zoomedAt, type Size, type StageView } from '../../stage-engine/stage-view.ts'
import { Strip } from '../strip/Strip.tsx'
import { frameFor, sharedMoments } from './anchors.ts'
import { CompareBar } from './CompareBar.tsx'
import { Picture } from './Picture.tsx'
import { StageBar } from './StageBar.tsx'
import { startPlaying, takeStage } from './stage-control.ts'
import { ToolBar } from './ToolBar.tsx'
import './stage.css'

interface Opened {
  player: Player
  times: ClipTimes
}

/** The picture (or two), the tools on it, and the Strip under it. */
export function Stage() {
  const lesson = useDesk((s) => s.view)!
  const activeViewId = useDesk((s) => s.activeViewId)
  const activeSwingId = useDesk((s) => s.activeSwingId)
  const compared = useDesk((s) => s.compared)
  const firstView = viewOf(lesson, compared?.firstViewId ?? activeViewId)
  const secondView = compared ? viewOf(lesson, compared.secondViewId) : null
  const firstClip = clipOf(lesson, firstView)
  const secondClip = clipOf(lesson, secondView)

  const [first, setFirst] = useState<Opened | null>(null)
  const [second, setSecond] = useState<Opened | null>(null)
  const [views, setViews] = useState<{ first: StageView | null; second: StageView | null }>({
    first: null,
    second: null,
  })
  // Other pictures, or the same ones arranged anew, are seen as a whole first.
  const arrangement = [firstView?.clipId, secondView?.clipId, compared?.arrangement].join(' ')
  const [arranged, setArranged] = useState(arrangement)
  if (arranged !== arrangement) {
    setArranged(arrangement)
    setViews({ first: null, second: null })
  }
  const sizes = useRef<{ first: Size; second: Size }>({
    first: { width: 1, height: 1 },
    second: { width: 1, height: 1 },
  })

  const anchors = useMemo(
    () => (firstView && secondView ? sharedMoments(firstView.moments, secondView.moments) : []),
    [firstView, secondView],
  )
  const mapFrame = useCallback(
    (frame: number): number => {
      if (!compared || !firstView || !secondView || !firstClip || !secondClip) return frame
      const wanted = frameFor(frame, {
        anchors,
        lockedOn: compared.lockedOn,
        isStretched: compared.isStretched,
        framesPerFrame: secondClip.captureRate / firstClip.captureRate,
        starts: { first: firstView.fromFrame, second: secondView.fromFrame },
      })
      return Math.max(secondView.fromFrame, Math.min(secondView.toFrame, wanted))
    },
    [anchors, compared, firstView, secondView, firstClip, secondClip],
  )

  // A new swing opens on its impact, where the eye wants to be; the same swing keeps its frame.
  const player = first?.player ?? null
  useEffect(() => {
    if (!player || !firstView) return
    const state = useDesk.getState()
    const moment = firstView.moments.find((m) => m.id === state.selectedMomentId) ?? impactOf(firstView)
    const start = moment?.frame ?? firstView.fromFrame
    void player.show(start).catch(() => {})
    const offShown = player.onShown((frame) => useDesk.setState({ frame }))
    const offStopped = player.onStopped(() => useDesk.setState({ isPlaying: false }))
    return () => {
      offShown()
      offStopped()
      useDesk.setState({ isPlaying: false, frame: -1 })
    }
    // Only a new picture begins anew.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [player, firstView?.id])

  // The second picture follows the first.
  const secondPlayer = second?.player ?? null
  useEffect(() => {
    if (!player || !secondPlayer || !compared) return
    const follow = (frame: number) => void secondPlayer.show(mapFrame(frame)).catch(() => {})
    if (player.frameAt >= 0) follow(player.frameAt)
    return player.onShown(follow)
  }, [player, secondPlayer, compared, mapFrame])

  const firstSize = firstClip ? { width: firstClip.width, height: firstClip.height } : null
  useEffect(() => {
    if (!player || !firstView || !firstSize) {
      takeStage(null)
      return
    }
    const each = (change: (view: StageView, canvas: Size, picture: Size) => StageView) =>
      setViews((v) => ({
        first: change(v.first ?? fitted(firstSize, sizes.current.first), sizes.current.first, firstSize),
        second: secondClip
          ? change(v.second ?? fitted(secondClip, sizes.current.second), sizes.current.second, {
              width: secondClip.width,
              height: secondClip.height,
            })
          : null,
      }))
    takeStage({
      player,
      second: secondPlayer ? { player: secondPlayer, frameFor: mapFrame } : null,
      first: firstView.fromFrame,
      last: Math.min(firstView.toFrame, player.frameCount - 1),
      zoom: (factor) =>
        each((view, canvas, picture) =>
          zoomedAt(view, factor, { x: canvas.width / 2, y: canvas.height / 2 }, picture, canvas),
        ),
      fit: () => setViews({ first: null, second: null }),
      pan: (dx, dy) => each((view, canvas, picture) => panned(view, dx, dy, picture, canvas)),
    })
    return () => takeStage(null)
  })

  const loop = useDesk((s) => s.loop)
  useEffect(() => {
    if (useDesk.getState().isPlaying) startPlaying()
  }, [loop])

  const swing = swingOf(lesson, firstView?.swingId ?? activeSwingId)
  const other = swingOf(lesson, secondView?.swingId ?? null)
  const numberOf = (id: string | undefined) => swingsInOrder(lesson).findIndex((s) => s.id === id) + 1
  const titleOf = (s: typeof swing) =>
    s ? `Swing ${numberOf(s.id)}${blockOf(lesson, s)?.name ? ` · ${blockOf(lesson, s)!.name}` : ''}` : ''

  return (
    <main className="stage" aria-label="Stage">
      {compared ? (
        <CompareBar compared={compared} anchors={anchors} />
      ) : (
        <ToolBar view={firstView} clip={firstClip} />
      )}
      <div className={`pictures${compared ? ` pictures-${compared.arrangement}` : ''}`}>
        {firstView && firstClip ? (
          <Picture
            key={`first-${firstView.id}`}
            place="first"
            view={firstView}
            clip={firstClip}
            stageView={views.first}
            isMirrored={firstClip.isMirrored}
            canDraw={!compared}
            title={compared ? titleOf(swing) : null}
            onOpened={setFirst}
            onSize={(size) => {
              sizes.current.first = size
            }}
            onView={(view) => setViews((v) => ({ ...v, first: view }))}
          />
        ) : (
          <NoPicture hasSwing={swing !== null} />
        )}
        {secondView && secondClip && compared && (
          <Picture
            key={`second-${secondView.id}`}
            place="second"
            view={secondView}
            clip={secondClip}
            stageView={views.second}
            isMirrored={secondClip.isMirrored !== compared.mirrorSecond}
            canDraw={false}
            opacity={compared.arrangement === 'over' ? compared.opacity : 1}
            title={titleOf(other)}
            onOpened={setSecond}
            onSize={(size) => {
              sizes.current.second = size
            }}
            onView={(view) => setViews((v) => ({ ...v, second: view }))}
          />
        )}
      </div>
      <StageBar times={first?.times ?? null} view={firstView} clip={firstClip} />
      {firstView && firstClip && (
        <Strip key={firstView.id} view={firstView} clip={firstClip} times={first?.times ?? null} />
      )}
    </main>
  )
}

function NoPicture({ hasSwing }: { hasSwing: boolean }) {
  return (
    <div className="no-picture">
      <p>
        {hasSwing
          ? 'Only the device saw this swing: there is no clip. Drag a clip without a shot onto it in the Tray to pair them.'
          : 'The picture stands here once the lesson has a clip.'}
      </p>
    </div>
  )
}
