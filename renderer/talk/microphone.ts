import { Problem } from '../../shared-core/problem.ts'
import recorderUrl from './recorder-worklet.ts?worker&url'
import type { SoundPiece } from './recorder-worklet.ts'

/** A microphone that is heard: pieces of sound on the audio clock until it is let go. */
export interface Microphone {
  readonly context: AudioContext
  /** How late the sound comes in, as far as the system tells. */
  readonly latencySeconds: number
  release(): void
}

const problemsByName: Partial<
  Record<string, 'no-microphone.none' | 'no-microphone.notAllowed' | 'no-microphone.inUse'>
> = {
  NotFoundError: 'no-microphone.none',
  NotAllowedError: 'no-microphone.notAllowed',
  NotReadableError: 'no-microphone.inUse',
}

/**
 * Opens the microphone. What computers do for telephone calls is off: it would cut into a voice that is only recorded.
 * @throws Problem `no-microphone` with what to do
 */
export const openMicrophone = async (
  onPiece: (piece: SoundPiece) => void,
  onLost: () => void,
): Promise<Microphone> => {
  let stream: MediaStream
  try {
    stream = await navigator.mediaDevices.getUserMedia({
      audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 },
    })
  } catch (error) {
    const { name, message } = error as Error
    const known = problemsByName[name]
    throw known
      ? new Problem(known, {}, { cause: error })
      : new Problem('no-microphone.said', { reason: message }, { cause: error })
  }
  const context = new AudioContext()
  try {
    await context.audioWorklet.addModule(recorderUrl)
    await context.resume()
  } catch (error) {
    for (const track of stream.getTracks()) track.stop()
    void context.close()
    throw error
  }
  const source = context.createMediaStreamSource(stream)
  const recorder = new AudioWorkletNode(context, 'leadside-recorder')
  recorder.port.onmessage = ({ data }: MessageEvent<SoundPiece>) => onPiece(data)
  // Only what leads to the loudspeaker is worked on; nothing comes out of the recorder.
  source.connect(recorder).connect(context.destination)
  for (const track of stream.getTracks()) track.addEventListener('ended', onLost)
  // Not every browser's types know that a microphone tells its latency (Media Capture and Streams, 4.3.8).
  const { latency } = (stream.getAudioTracks()[0]?.getSettings() ?? {}) as { latency?: number }
  return {
    context,
    latencySeconds: latency !== undefined && latency > 0 && latency < 0.5 ? latency : 0,
    release: () => {
      recorder.port.onmessage = null
      source.disconnect()
      recorder.disconnect()
      for (const track of stream.getTracks()) track.stop()
      void context.close()
    },
  }
}
