import { create } from 'zustand'
import { talkBefore, type TalkEvent, type TalkTimeline } from '../../shared-core/hand-over/talk-timeline.ts'
import { Problem } from '../../shared-core/problem.ts'
import { talkWords } from '../../shared-core/wording/window/talk.ts'
import { stage, watchStage } from '../store/stage-control.ts'
import { ask, bridge } from '../store/bridge.ts'
import { useDesk } from '../store/desk-store.ts'
import { sayNews, sayProblem } from '../store/messages.ts'
import { openMicrophone, type Microphone } from './microphone.ts'
import { eventOf, type OnStage } from './stage-event.ts'
import { TalkSound, wavOf } from './talk-sound.ts'

export interface TalkState {
  /** The lesson it belongs to; null if no talk is open. */
  lessonId: string | null
  step: 'opening' | 'no-microphone' | 'ready' | 'recording' | 'paused' | 'saving'
  problem: { what: string; toDo: string | null } | null
  /** Recorded so far. */
  seconds: number
  /** Where "again from here" would begin. */
  pointSeconds: number
  /** Loudest sample of the last piece, 0 to 1. */
  level: number
  isListening: boolean
}

const closed: TalkState = {
  lessonId: null,
  step: 'opening',
  problem: null,
  seconds: 0,
  pointSeconds: 0,
  level: 0,
  isListening: false,
}
export const useTalk = create<TalkState>(() => closed)

/** Longer talks are better told in parts, and the sound is held in memory until it is saved. */
export const longestSeconds = 30 * 60
/** A pointer that rests is not pointing. */
const restMs = 2500

interface Recording {
  microphone: Microphone
  sound: TalkSound
  timeline: TalkTimeline['events']
  stop: () => void
}
let recording: Recording | null = null
let pointer: TalkEvent['pointer'] = null
let draft: OnStage['draft'] = null

const clock = () => recording!.microphone.context.currentTime

// ---- Opening and closing -------------------------------------------------------------------------------------

/** Opens the bar and the microphone; open already, it stays. */
export const openTalk = (lessonId: string) => {
  const state = useTalk.getState()
  if (state.lessonId === lessonId && state.step !== 'no-microphone') return
  if (state.lessonId !== null && state.lessonId !== lessonId && state.seconds > 0) {
    sayProblem(new Problem('unsaved'))
    return
  }
  discardTalk()
  useTalk.setState({ ...closed, lessonId })
  void begin(lessonId)
}

const begin = async (lessonId: string) => {
  let sound: TalkSound | null = null
  try {
    const microphone = await openMicrophone(
      ({ from, sound: piece }) => {
        sound?.take(from, piece)
        heard(piece)
      },
      () => {
        void pauseTalk()
        useTalk.setState({
          problem: { what: talkWords('micGone'), toDo: talkWords('isKept') },
        })
      },
    )
    // The coach may have left while the microphone was asked for.
    if (useTalk.getState().lessonId !== lessonId || recording) return microphone.release()
    sound = new TalkSound(microphone.context.sampleRate)
    recording = { microphone, sound, timeline: [], stop: follow() }
    useTalk.setState({ step: 'ready' })
  } catch (error) {
    if (useTalk.getState().lessonId !== lessonId) return
    const { what, toDo } = error instanceof Problem ? error : { what: (error as Error).message, toDo: null }
    useTalk.setState({
      step: 'no-microphone',
      problem: { what: talkWords('cannotRecord', { why: what }), toDo },
    })
  }
}

/** Closes the bar, lets the microphone go and forgets what was recorded. */
export const discardTalk = () => {
  stopListening()
  recording?.stop()
  recording?.microphone.release()
  recording = null
  useTalk.setState(closed)
}

/** The coach leaves the Desk: what was said is kept until it is saved or thrown away. */
export const leaveTalk = () => {
  stopListening()
  pauseTalk()
  if (useTalk.getState().seconds === 0) discardTalk()
}

let lastShownAt = 0
const heard = (piece: Float32Array) => {
  if (!recording) return
  let level = 0
  for (const sample of piece) level = Math.max(level, Math.abs(sample))
  const now = performance.now()
  if (now - lastShownAt < 100) return
  lastShownAt = now
  const { step } = useTalk.getState()
  if (step !== 'recording') {
    useTalk.setState({ level })
    return
  }
  const seconds = recording.sound.secondsAt(clock())
  useTalk.setState({ level, seconds, pointSeconds: seconds })
  if (seconds >= longestSeconds) {
    void pauseTalk()
    sayNews(talkWords('isFull'))
  }
}

// ---- What is on the Stage --------------------------------------------------------------------------------------

/** Writes the Stage down whenever it changes. */
const follow = (): (() => void) => {
  let resting: ReturnType<typeof setTimeout> | undefined
  const offStore = useDesk.subscribe((now, before) => {
    if (
      now.frame !== before.frame ||
      now.activeViewId !== before.activeViewId ||
      now.compared !== before.compared ||
      now.opened !== before.opened ||
      now.showsDrawings !== before.showsDrawings
    ) {
      note()
    }
  })
  watchStage({
    pointer: (on, at) => {
      clearTimeout(resting)
      // Entering one picture and leaving the other come in any order.
      if (!at && pointer && (pointer.on ?? 'first') !== on) return
      pointer = at && { x: Math.round(at.x), y: Math.round(at.y), on }
      if (at) {
        resting = setTimeout(() => {
          pointer = null
          note()
        }, restMs)
      }
      note()
    },
    draft: (shape) => {
      draft = shape
      note()
    },
    moved: note,
  })
  return () => {
    clearTimeout(resting)
    offStore()
    watchStage(null)
    pointer = null
    draft = null
  }
}

const now = (): Omit<TalkEvent, 'atSeconds'> | null => {
  const { opened, activeViewId, frame, compared, showsDrawings } = useDesk.getState()
  const secondFrame = compared ? (stage()?.second?.frameFor(frame) ?? null) : null
  return eventOf({
    lesson: opened,
    activeViewId,
    frame,
    compared,
    secondFrame,
    showsDrawings,
    draft,
    pointer,
    looks: { first: stage()?.seen('first') ?? null, second: stage()?.seen('second') ?? null },
  })
}

/** Adds the Stage as it is to the timeline, while recording. */
const note = () => {
  if (!recording?.sound.isOpen) return
  const event = now()
  if (!event) return
  const { timeline, sound, microphone } = recording
  const last = timeline.at(-1)
  if (last && JSON.stringify({ ...last, atSeconds: 0 }) === JSON.stringify({ ...event, atSeconds: 0 })) return
  // What is said now comes out of the microphone that much later.
  const atSeconds = sound.secondsAt(clock()) + (timeline.length === 0 ? 0 : microphone.latencySeconds)
  timeline.push({ ...event, atSeconds: Math.max(last?.atSeconds ?? 0, atSeconds) })
}

// ---- Recording -------------------------------------------------------------------------------------------------

/** Starts, pauses or goes on; opens the bar first if it is not open. */
export const toggleTalk = () => {
  const { step, lessonId } = useTalk.getState()
  const desk = useDesk.getState().lessonId
  if (lessonId === null || step === 'no-microphone') {
    if (desk) openTalk(desk)
  } else if (step === 'recording') pauseTalk()
  else if (step === 'ready' || step === 'paused') recordTalk()
}

/** Records from the end on. */
export const recordTalk = () => {
  if (!recording) return
  stopListening()
  if (!now()) {
    sayNews(talkWords('noPicture'))
    return
  }
  recording.sound.open(clock())
  note()
  useTalk.setState({ step: 'recording', problem: null })
}

export const pauseTalk = () => {
  if (!recording?.sound.isOpen) return
  recording.sound.close(clock())
  const seconds = recording.sound.secondsAt(clock())
  useTalk.setState({ step: 'paused', seconds, pointSeconds: seconds })
}

/** Forgets what comes after the chosen point and goes on recording from there. */
export const recordAgainFrom = (seconds: number) => {
  if (!recording) return
  pauseTalk()
  recording.sound.cutAt(seconds)
  const { timeline } = recording
  recording.timeline =
    timeline.length > 0 && seconds > 0 ? talkBefore({ version: 1, events: timeline }, seconds).events : []
  recordTalk()
}

// ---- Listening -------------------------------------------------------------------------------------------------

let listening: { source: AudioBufferSourceNode; timer: ReturnType<typeof setInterval> } | null = null

export const stopListening = () => {
  if (!listening) return
  const { source, timer } = listening
  listening = null
  clearInterval(timer)
  source.onended = null
  source.stop()
  useTalk.setState({ isListening: false })
}

/** Plays what was recorded from the chosen point on; the point runs along. */
export const listenFrom = (seconds: number) => {
  if (!recording || recording.sound.isOpen) return
  stopListening()
  const { microphone, sound } = recording
  const samples = sound.samples()
  if (samples.length === 0) return
  const buffer = microphone.context.createBuffer(1, samples.length, sound.rate)
  buffer.copyToChannel(
    Float32Array.from(samples, (sample) => sample / 32768),
    0,
  )
  const source = microphone.context.createBufferSource()
  source.buffer = buffer
  source.connect(microphone.context.destination)
  const from = seconds >= buffer.duration - 0.05 ? 0 : seconds
  const startedAt = clock()
  source.start(0, from)
  source.onended = stopListening
  const timer = setInterval(() => {
    useTalk.setState({ pointSeconds: Math.min(buffer.duration, from + clock() - startedAt) })
  }, 100)
  listening = { source, timer }
  useTalk.setState({ isListening: true })
}

// ---- Saving ----------------------------------------------------------------------------------------------------

/** The last piece of sound is still on its way when the coach pauses. */
const pieceMs = 150

/** Hands the recording to the library; the bar closes once it has it. Nothing is lost if that fails. */
export const saveTalk = async (name: string) => {
  const { lessonId } = useTalk.getState()
  if (!recording || lessonId === null) return
  stopListening()
  pauseTalk()
  useTalk.setState({ step: 'saving' })
  try {
    await new Promise((go) => setTimeout(go, pieceMs))
    const { sound, timeline } = recording
    const soundFile = await bridge().keepRecording(wavOf(sound.samples(), sound.rate), 'wav')
    await ask('talk.save', { lessonId, name, soundFile, timeline: { version: 1, events: timeline } })
    discardTalk()
    sayNews(talkWords('beingMade'))
  } catch (error) {
    useTalk.setState({ step: 'paused' })
    sayProblem(error)
  }
}
