import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react'
import { clipOf, guestOf, swingOf, useDesk, viewOf } from '../../store/desk-store.ts'
import { mirroredBox, type Box } from '../../../shared-core/geometry/box.ts'
import type { Clip, View } from '../../../shared-core/model/entities.ts'
import type { Player } from '../../stage-engine/player.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import {
  filled,
  filledAbout,
  fitted,
  largerArrangement,
  panned,
  seenPart,
  zoomedAt,
  type ChangeView,
  type Size,
  type Viewport,
} from '../../stage-engine/viewport.ts'
import { Strip } from '../strip/Strip.tsx'
import { frameFor, sharedMoments } from '../../../shared-core/timing/shared-moments.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import { CompareBar } from './CompareBar.tsx'
import { openingFrameOf } from './open-clips.ts'
import { Picture } from './Picture.tsx'
import { pictureTitle } from './picture-words.ts'
import { RateOffer } from './RateOffer.tsx'
import { StageBar } from './StageBar.tsx'
import { usePlayerBoxes } from './use-player-boxes.ts'
import { stageWatch, startPlaying, takeStage } from '../../store/stage-control.ts'
import { ToolBar } from './ToolBar.tsx'
import './stage.css'

interface Opened {
  player: Player
  times: ClipTimes
}

/** The moment that was chosen, else where the picture opens. */
const startOf = (view: View): number =>
  view.moments.find((m) => m.id === useDesk.getState().selectedMomentId)?.frame ?? openingFrameOf(view)

/** As a whole; beside another it fills its place, about the player where body points say where that is. */
const startViewOf = (
  fills: boolean,
  clip: Clip | null,
  boxes: ReadonlyMap<string, Box>,
  isMirrored: boolean,
): ((picture: Size, canvas: Size) => Viewport) => {
  if (!fills || !clip) return fitted
  const box = boxes.get(clip.id)
  if (!box) return filled
  return filledAbout(isMirrored ? mirroredBox(box, clip.width) : box)
}

/** The picture (or two), the tools on it, and the Strip under it. */
export function Stage() {
  const lesson = useDesk((s) => s.opened)!
  const activeViewId = useDesk((s) => s.activeViewId)
  const activeSwingId = useDesk((s) => s.activeSwingId)
  const compared = useDesk((s) => s.compared)
  const arriving = useDesk((s) => s.arriving)
  const firstView = arriving?.view ?? viewOf(lesson, compared?.firstViewId ?? activeViewId)
  const secondView = compared ? viewOf(lesson, compared.secondViewId) : null
  const firstClip = arriving?.clip ?? clipOf(lesson, firstView)
  const secondClip = clipOf(lesson, secondView)

  const [first, setFirst] = useState<Opened | null>(null)
  const [second, setSecond] = useState<Opened | null>(null)
  const [views, setViews] = useState<{ first: Viewport | null; second: Viewport | null }>({
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
  const fills = compared?.arrangement === 'beside'
  const boxes = usePlayerBoxes(fills ? [firstClip?.id, secondClip?.id].filter((id) => id !== undefined) : [])
  const isSecondMirrored = (secondClip?.isMirrored ?? false) !== (compared?.mirrorSecond ?? false)
  const startFirst = useMemo(
    () => startViewOf(fills, firstClip, boxes, firstClip?.isMirrored ?? false),
    [fills, firstClip, boxes],
  )
  const startSecond = useMemo(
    () => startViewOf(fills, secondClip, boxes, isSecondMirrored),
    [fills, secondClip, boxes, isSecondMirrored],
  )
  const area = useRef<HTMLDivElement>(null)
  const [isStacked, setStacked] = useState(false)
  useLayoutEffect(() => {
    const element = area.current!
    const arrange = () =>
      setStacked(
        fills &&
          firstClip !== null &&
          secondClip !== null &&
          largerArrangement(
            [
              { size: firstClip, startView: startFirst },
              { size: secondClip, startView: startSecond },
            ],
            { width: element.clientWidth, height: element.clientHeight },
          ) === 'stacked',
      )
    arrange()
    const observer = new ResizeObserver(arrange)
    observer.observe(element)
    return () => observer.disconnect()
  }, [fills, firstClip, secondClip, startFirst, startSecond])
  const sizes = useRef<{ first: Size; second: Size }>({
    first: { width: 1, height: 1 },
    second: { width: 1, height: 1 },
  })

  const anchors = useMemo(
    () => (firstView && secondView ? sharedMoments(firstView.moments, secondView.moments) : []),
    [firstView, secondView],
  )
  const firstTimes = first?.times
  const secondTimes = second?.times
  const mapFrame = useCallback(
    (frame: number): number => {
      if (!compared || !firstView || !secondView || !firstTimes || !secondTimes) return frame
      const wanted = frameFor(frame, {
        anchors,
        lockedOn: compared.lockedOn,
        isStretched: compared.isStretched,
        first: firstTimes,
        second: secondTimes,
        starts: { first: firstView.fromFrame, second: secondView.fromFrame },
      })
      return Math.max(secondView.fromFrame, Math.min(secondView.toFrame, wanted))
    },
    [anchors, compared, firstView, secondView, firstTimes, secondTimes],
  )

  /** The picture that was on show last: a working copy that takes the original's place goes on at its frame. */
  const left = useRef<{ viewId: string; frame: number } | null>(null)
  // A new swing opens on its impact, where the eye wants to be; the same swing keeps its frame.
  const player = first?.player ?? null
  useEffect(() => {
    if (!player || !firstView) return
    const kept = left.current?.viewId === firstView.id ? left.current.frame : null
    void player.show(kept ?? startOf(firstView)).catch(() => {})
    if (player.frameAt >= 0) useDesk.setState({ frame: player.frameAt })
    const offShown = player.onShown((frame) => useDesk.setState({ frame }))
    const offStopped = player.onStopped(() => useDesk.setState({ isPlaying: false }))
    return () => {
      offShown()
      offStopped()
      left.current = { viewId: firstView.id, frame: player.wantedFrame }
      useDesk.setState({ isPlaying: false, frame: -1 })
    }
    // Only a new picture begins anew.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [player, firstView?.id])

  // The swing stands: whoever was looking at its film stays where they are, else it opens as every swing does.
  const looked = useRef(arriving)
  useEffect(() => {
    const before = looked.current
    looked.current = arriving
    if (!before || arriving || !player || firstView?.id !== before.view.id) return
    const inIt = Math.max(firstView.fromFrame, Math.min(firstView.toFrame, player.wantedFrame))
    if (!before.isTouched) void player.show(startOf(firstView)).catch(() => {})
    else if (inIt !== player.wantedFrame) void player.show(inIt).catch(() => {})
  }, [arriving, player, firstView])

  // The second picture follows the first.
  const secondPlayer = second?.player ?? null
  useEffect(() => {
    if (!player || !secondPlayer || !compared) return
    const follow = (frame: number) => void secondPlayer.show(mapFrame(frame)).catch(() => {})
    if (player.frameAt >= 0) follow(player.frameAt)
    return player.onShown(follow)
  }, [player, secondPlayer, compared, mapFrame])

  const hasPicture = firstView !== null && firstClip !== null
  /** Two pictures over each other move as one, unless the upper one alone is to be laid right. */
  const changeViews = (place: 'first' | 'second' | 'both', change: ChangeView) =>
    setViews((now) => {
      const next = { ...now }
      for (const [at, clip, startView] of [
        ['first', firstClip, startFirst] as const,
        ['second', secondClip, startSecond] as const,
      ]) {
        if (!clip || (place !== 'both' && place !== at)) continue
        next[at] = change(now[at] ?? startView(clip, sizes.current[at]), clip, sizes.current[at])
      }
      return next
    })
  const placeOf = (place: 'first' | 'second', isAlone: boolean) =>
    compared?.arrangement === 'over' && !isAlone ? 'both' : place
  useEffect(() => {
    if (!player || !hasPicture) {
      takeStage(null)
      return
    }
    takeStage({
      player,
      second: secondPlayer ? { player: secondPlayer, frameFor: mapFrame } : null,
      first: firstView.fromFrame,
      last: Math.min(firstView.toFrame, player.frameCount - 1),
      seen: (on) => {
        const [clip, startView] =
          on === 'first' ? ([firstClip, startFirst] as const) : ([secondClip, startSecond] as const)
        return clip && seenPart(views[on] ?? startView(clip, sizes.current[on]), clip, sizes.current[on])
      },
      zoom: (factor) =>
        changeViews('both', (view, picture, canvas) =>
          zoomedAt(view, factor, { x: canvas.width / 2, y: canvas.height / 2 }, picture, canvas),
        ),
      // Two pictures that fill their places are seen as wholes, and fill them again the next time.
      fit: () =>
        setViews((now) =>
          fills && firstClip && secondClip && !now.first && !now.second
            ? {
                first: fitted(firstClip, sizes.current.first),
                second: fitted(secondClip, sizes.current.second),
              }
            : { first: null, second: null },
        ),
      pan: (dx, dy) => changeViews('both', (view, picture, canvas) => panned(view, dx, dy, picture, canvas)),
    })
    return () => takeStage(null)
  })
  useEffect(() => stageWatch()?.moved(), [views])

  const loop = useDesk((s) => s.loop)
  useEffect(() => {
    if (useDesk.getState().isPlaying) startPlaying()
  }, [loop])

  return (
    <main className="stage" aria-label={stageWords('stage')}>
      {compared ? (
        <CompareBar compared={compared} anchors={anchors} />
      ) : (
        <ToolBar
          view={arriving ? null : firstView}
          clip={arriving ? null : firstClip}
          keepsPlaces={arriving !== null}
        />
      )}
      {firstClip && !compared && !arriving && <RateOffer clip={firstClip} />}
      <div
        ref={area}
        className={`pictures${compared ? ` pictures-${compared.arrangement}` : ''}${isStacked ? ' is-stacked' : ''}`}
      >
        {firstView && firstClip ? (
          <Picture
            key="first"
            place="first"
            view={firstView}
            clip={firstClip}
            start={startOf(firstView)}
            viewport={views.first}
            startView={startFirst}
            isMirrored={firstClip.isMirrored}
            canDraw={!compared && !arriving}
            isBare={arriving !== null}
            isCalm={arriving !== null && !arriving.isTouched}
            title={compared ? pictureTitle(lesson, firstView.id) : null}
            onOpened={setFirst}
            onSize={(size) => {
              sizes.current.first = size
            }}
            onChange={(change, isAlone) => changeViews(placeOf('first', isAlone), change)}
          />
        ) : (
          <NoPicture hasSwing={swingOf(lesson, activeSwingId) !== null} />
        )}
        {secondView && secondClip && compared && (
          <Picture
            key="second"
            place="second"
            view={secondView}
            clip={secondClip}
            start={openingFrameOf(secondView)}
            viewport={views.second}
            startView={startSecond}
            isMirrored={isSecondMirrored}
            canDraw={false}
            opacity={compared.arrangement === 'over' ? compared.opacity : 1}
            title={pictureTitle(lesson, secondView.id)}
            onOpened={setSecond}
            onSize={(size) => {
              sizes.current.second = size
            }}
            onChange={(change, isAlone) => changeViews(placeOf('second', isAlone), change)}
          />
        )}
      </div>
      {firstClip?.stillKind == null && (
        <StageBar
          times={first?.times ?? null}
          view={firstView}
          clip={firstClip}
          isArriving={arriving !== null}
        />
      )}
      {firstView && firstClip && firstClip.stillKind === null && (
        <Strip
          key={firstView.id}
          view={firstView}
          clip={firstClip}
          times={first?.times ?? null}
          isArriving={arriving !== null}
          isGuest={guestOf(lesson, firstView.id) !== null}
        />
      )}
    </main>
  )
}

function NoPicture({ hasSwing }: { hasSwing: boolean }) {
  const isShowing = useDesk((s) => s.isShowing)
  if (isShowing) {
    return (
      <div className="no-picture">
        <p>{stageWords('noClip')}</p>
      </div>
    )
  }
  return (
    <div className="no-picture">
      <p>{hasSwing ? stageWords('onlyDevice') : stageWords('noPictureYet')}</p>
    </div>
  )
}
