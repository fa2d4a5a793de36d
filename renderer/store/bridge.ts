import type { WindowBridge } from '../../shared-core/contract/shell.ts'
import type { CallInput, CallName, CallOutput } from '../../shared-core/contract/index.ts'
import { Problem } from '../../shared-core/problem.ts'

declare global {
  interface Window {
    leadside: WindowBridge
  }
}

/** What the preload offers: library calls, dialogs, windows. */
export const bridge = (): WindowBridge => window.leadside

/** Asks the library. @throws Problem with what went wrong, where, and what to do */
export const ask = async <N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>> => {
  const result = await bridge().ask(name, input)
  if (result.ok) return result.output
  throw Problem.from(result.problem)
}

/** Address of one of a clip's files. */
export const mediaUrl = (clipId: string, kind: 'play' | 'poster' | 'strip' | 'original') =>
  `media://clip/${clipId}/${kind}`

/** Address of what a clip is looked at by: its working copy; until that is there, or where none is needed, the original. */
export const pictureSource = (clip: { id: string; hasProxy: boolean }) =>
  mediaUrl(clip.id, clip.hasProxy ? 'play' : 'original')

/** Address of a clip's poster: the one of its impact comes with its working copy, under another address, for the window keeps pictures. */
export const posterUrl = (clip: { id: string; hasProxy: boolean }) =>
  `${mediaUrl(clip.id, 'poster')}${clip.hasProxy ? '?impact' : ''}`

/** Address of a picture of the coach's own, of its clip, or of the clip's poster. */
export const coachPictureUrl = (pictureId: string, kind: 'play' | 'poster') =>
  `media://coach/${pictureId}/${kind}`
