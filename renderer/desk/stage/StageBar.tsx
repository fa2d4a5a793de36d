import {
  ChevronFirst,
  ChevronLast,
  Maximize,
  Pause,
  Play,
  Repeat,
  Rewind,
  SkipBack,
  SkipForward,
  ZoomIn,
  ZoomOut,
} from 'lucide-react'
import type { Clip, View } from '../../../shared-core/model/entities.ts'
import { commandNamed } from '../../keys/commands.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { Action, Toggle } from '../../parts/Action.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { msFromImpact, realSecondsBetween, type ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { signedMs } from '../../../shared-core/timing/signed-ms.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { isRateGuessed } from './RateOffer.tsx'
import { impactOf, rates, rateText, swingOf, useDesk } from '../../store/desk-store.ts'
import { setRate, stage, stepFrame, toggleLoop, togglePlay } from '../../store/stage-control.ts'

/** Which frame is on show, when that is, and how to go on from it. */
export function StageBar(props: {
  times: ClipTimes | null
  view: View | null
  clip: Clip | null
  /** How fast it was filmed is being found out. */
  isArriving: boolean
}) {
  const { times, view, clip, isArriving } = props
  const isPlaying = useDesk((s) => s.isPlaying)
  const direction = useDesk((s) => s.direction)
  const rate = useDesk((s) => s.rate)
  const loop = useDesk((s) => s.loop)
  const lesson = useDesk((s) => s.opened)
  const isOff = !view || !times
  const swing = swingOf(lesson, view?.swingId ?? null)
  return (
    <div className="stage-bar" role="toolbar" aria-label={stageWords('time')}>
      <Action
        small
        tone="plain"
        icon={<ChevronFirst size={17} />}
        label={stageWords('firstFrame')}
        keys={keysOf('to-start')}
        isDisabled={isOff}
        onPress={() => commandNamed('to-start').run()}
      />
      <Action
        small
        tone="plain"
        icon={<SkipBack size={16} />}
        label={stageWords('stepBack')}
        keys={keysOf('step-back')}
        isDisabled={isOff}
        onPress={() => stepFrame(-1)}
      />
      <Action
        small
        tone="plain"
        icon={isPlaying && direction === -1 ? <Pause size={17} /> : <Rewind size={17} />}
        label={isPlaying && direction === -1 ? commonWords('stop') : stageWords('playBack')}
        keys={keysOf('play-back')}
        isDisabled={isOff}
        onPress={() => togglePlay(-1)}
      />
      <Action
        small
        tone="plain"
        icon={isPlaying && direction === 1 ? <Pause size={17} /> : <Play size={17} />}
        label={isPlaying && direction === 1 ? commonWords('stop') : stageWords('play')}
        keys={keysOf('play')}
        isDisabled={isOff}
        onPress={() => togglePlay(1)}
      />
      <Action
        small
        tone="plain"
        icon={<SkipForward size={16} />}
        label={stageWords('stepOn')}
        keys={keysOf('step-on')}
        isDisabled={isOff}
        onPress={() => stepFrame(1)}
      />
      <Action
        small
        tone="plain"
        icon={<ChevronLast size={17} />}
        label={stageWords('lastFrame')}
        keys={keysOf('to-end')}
        isDisabled={isOff}
        onPress={() => commandNamed('to-end').run()}
      />
      <div className="stage-rate">
        <Pick
          hideLabel
          label={stageWords('speed')}
          value={String(rate)}
          options={rates.map((r) => ({ value: String(r), label: `${rateText(r)}×` }))}
          onChange={(value) => setRate(Number(value))}
        />
      </div>
      <Toggle
        small
        tone="plain"
        icon={<Repeat size={16} />}
        label={loop ? stageWords('endLoop') : stageWords('loop')}
        keys={keysOf('loop')}
        isOn={loop !== null}
        isDisabled={isOff}
        onChange={toggleLoop}
      />
      <When times={isArriving ? null : times} view={view} isGuess={isRateGuessed(clip)} />
      <span className="push" />
      {swing && swing.views.length > 1 && (
        <div className="stage-camera">
          <Pick
            hideLabel
            label={stageWords('camera')}
            value={view?.id ?? ''}
            options={swing.views.map((v, i) => {
              const camera = lesson?.clips.find((c) => c.id === v.clipId)?.camera
              return {
                value: v.id,
                label:
                  camera && camera !== 'other'
                    ? stageWords(`camera.${camera}`)
                    : stageWords('cameraNumbered', { number: i + 1 }),
              }
            })}
            onChange={(activeViewId) =>
              useDesk.setState({ activeViewId, selectedMomentId: null, loop: null })
            }
          />
        </div>
      )}
      {clip && !isArriving && (
        <span className="fine stage-note">
          {stageWords(isRateGuessed(clip) ? 'aboutFrameRate' : 'frameRate', {
            rate: Math.round(clip.captureRate),
          })}
        </span>
      )}
      <Action
        small
        tone="plain"
        icon={<ZoomOut size={16} />}
        label={stageWords('zoomOut')}
        keys={keysOf('zoom-out')}
        isDisabled={isOff}
        onPress={() => stage()?.zoom(0.8)}
      />
      <Action
        small
        tone="plain"
        icon={<ZoomIn size={16} />}
        label={stageWords('zoomIn')}
        keys={keysOf('zoom-in')}
        isDisabled={isOff}
        onPress={() => stage()?.zoom(1.25)}
      />
      <Action
        small
        tone="plain"
        icon={<Maximize size={16} />}
        label={stageWords('wholePicture')}
        keys={keysOf('fit')}
        isDisabled={isOff}
        onPress={() => stage()?.fit()}
      />
    </div>
  )
}

/** Apart from the buttons, so that only these few words follow every frame while it plays. */
function When(props: { times: ClipTimes | null; view: View | null; isGuess: boolean }) {
  const { times, view, isGuess } = props
  const frame = useDesk((s) => s.frame)
  const impact = impactOf(view)
  const when =
    times && view && frame >= 0
      ? impact
        ? stageWords('ms', { ms: signedMs(msFromImpact(times, impact.frame, frame)) })
        : stageWords('seconds', { seconds: realSecondsBetween(times, view.fromFrame, frame).toFixed(3) })
      : ''
  return (
    <span className="stage-when" aria-live="off">
      <span className="stage-ms">{when && isGuess ? `≈ ${when}` : when}</span>
      <span className="stage-frame">{frame >= 0 && view ? commonWords('frame', { frame }) : ''}</span>
    </span>
  )
}
