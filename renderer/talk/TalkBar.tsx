import { Circle, Headphones, Pause, RotateCcw, Save, X } from 'lucide-react'
import { useEffect, useState } from 'react'
import { talkWords } from '../../shared-core/wording/window/talk.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { keysOf } from '../keys/handle-keys.ts'
import { Action } from '../parts/Action.tsx'
import { SliderField } from '../parts/SliderField.tsx'
import { Window } from '../parts/Window.tsx'
import {
  discardTalk,
  leaveTalk,
  listenFrom,
  openTalk,
  pauseTalk,
  recordAgainFrom,
  recordTalk,
  saveTalk,
  stopListening,
  useTalk,
} from './talk-control.ts'
import './talk.css'

/** "1:05" */
export const talkClock = (seconds: number): string => {
  const whole = Math.floor(seconds)
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}

/** The voice to the pictures: recording, pausing, again from a point, keeping. Shown while a talk of this lesson is open. */
export function TalkBar({ lessonId }: { lessonId: string }) {
  const isOpen = useTalk((s) => s.lessonId === lessonId)
  // Whoever leaves the Desk is not heard any more; what was said is kept until another talk is begun.
  useEffect(() => leaveTalk, [lessonId])
  return isOpen ? <OpenBar lessonId={lessonId} /> : null
}

function OpenBar({ lessonId }: { lessonId: string }) {
  const { step, problem, seconds, pointSeconds, isListening } = useTalk()
  const [isLeaving, setLeaving] = useState(false)
  const [name, setName] = useState('')
  const hasSound = seconds > 0
  const isPaused = step === 'paused'
  return (
    <section className="talk-bar" aria-label={talkWords('talkThrough')}>
      <span className={`talk-light${step === 'recording' ? ' is-on' : ''}`} aria-hidden />
      <strong role="status">{talkWords(`step.${step}`)}</strong>
      {problem && (
        <span className="talk-problem" role="alert">
          {problem.toDo ? talkWords('problemToDo', { what: problem.what, toDo: problem.toDo }) : problem.what}
        </span>
      )}
      {step === 'no-microphone' && (
        <Action label={commonWords('tryAgain')} onPress={() => openTalk(lessonId)} />
      )}
      {(step === 'ready' || isPaused) && (
        <Action
          withLabel
          tone={hasSound ? 'usual' : 'lead'}
          icon={<Circle size={13} fill="currentColor" />}
          label={hasSound ? talkWords('goOn') : talkWords('record')}
          keys={keysOf('talk-record')}
          onPress={recordTalk}
        />
      )}
      {step === 'recording' && (
        <Action
          withLabel
          tone="lead"
          icon={<Pause size={15} />}
          label={talkWords('pause')}
          keys={keysOf('talk-record')}
          onPress={pauseTalk}
        />
      )}
      {(step === 'ready' || step === 'recording') && (
        <>
          <span className="talk-time">{talkClock(seconds)}</span>
          <Hearing />
        </>
      )}
      {step === 'ready' && !problem && <span className="fine soft talk-words">{talkWords('whatToDo')}</span>}
      {isPaused && hasSound && (
        <>
          <div className="talk-point">
            <SliderField
              label={talkWords('point', { time: talkClock(pointSeconds), length: talkClock(seconds) })}
              value={Math.min(pointSeconds, seconds)}
              min={0}
              max={seconds}
              step={0.1}
              format={{ maximumFractionDigits: 1, style: 'unit', unit: 'second' }}
              onChange={(at) => {
                stopListening()
                useTalk.setState({ pointSeconds: at })
              }}
            />
          </div>
          <Action
            small
            icon={isListening ? <Pause size={15} /> : <Headphones size={15} />}
            label={isListening ? talkWords('stopListening') : talkWords('listen')}
            onPress={() => (isListening ? stopListening() : listenFrom(pointSeconds))}
          />
          <Action
            withLabel
            small
            icon={<RotateCcw size={14} />}
            label={talkWords('recordAgain')}
            isDisabled={pointSeconds >= seconds - 0.05}
            onPress={() => recordAgainFrom(pointSeconds)}
          />
        </>
      )}
      <span className="push" />
      {(isPaused || step === 'recording') && (
        <>
          <input
            className="input talk-name"
            aria-label={talkWords('nameOfTalk')}
            placeholder={commonWords('name')}
            maxLength={200}
            value={name}
            onChange={(event) => setName(event.target.value)}
          />
          <Action
            withLabel
            tone={isPaused ? 'lead' : 'plain'}
            icon={<Save size={15} />}
            label={talkWords('save')}
            onPress={() => void saveTalk(name.trim())}
          />
        </>
      )}
      {step !== 'saving' && (
        <Action
          small
          tone="plain"
          icon={<X size={16} />}
          label={talkWords('close')}
          onPress={() => {
            pauseTalk()
            if (hasSound) setLeaving(true)
            else discardTalk()
          }}
        />
      )}
      {isLeaving && (
        <Window
          isAlert
          title={talkWords('throwAwayThis')}
          onClose={() => setLeaving(false)}
          foot={
            <>
              <Action label={talkWords('keep')} onPress={() => setLeaving(false)} />
              <Action tone="wrong" label={talkWords('throwAway')} onPress={discardTalk} />
            </>
          }
        >
          <p>{talkWords('notSaved', { time: talkClock(seconds) })}</p>
        </Window>
      )}
    </section>
  )
}

/** How loud the voice comes in; apart, so that only this follows it. */
function Hearing() {
  const level = useTalk((s) => s.level)
  // Decibels from −60 to 0 as a share: what is heard as equal steps.
  const share = Math.max(0, Math.min(1, 1 + (20 * Math.log10(Math.max(level, 1e-6))) / 60))
  return (
    <span
      className="talk-level"
      role="meter"
      aria-label={talkWords('loudness')}
      aria-valuenow={Math.round(share * 100)}
    >
      <span style={{ width: `${share * 100}%` }} />
    </span>
  )
}
