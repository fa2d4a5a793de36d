import type { CallName, CallInput, CallOutput, EventBody, EventName } from './index.ts'
import type { CallResult } from './envelope.ts'

/**
 * What the preload puts on `window.leadside`. Library calls go through `ask`; the rest belongs to the
 * shell: dialogs, windows, the path of a dropped file.
 */
export interface WindowBridge {
  ask<N extends CallName>(name: N, input: CallInput<N>): Promise<CallResult<CallOutput<N>>>
  on<N extends EventName>(name: N, listener: (body: EventBody<N>) => void): () => void
  /** Opens a file dialog; empty if the coach cancelled. */
  pickFiles(kind: 'clips' | 'shots' | 'image' | 'drill' | 'backup' | 'lesson'): Promise<string[]>
  pickFolder(): Promise<string | null>
  /** A lesson file that the coach opened outside, by a double click; null if none waits. Each is given once. */
  nextGivenFile(): Promise<string | null>
  /** Hears when one has come. */
  onFileGiven(listener: () => void): void
  /** The coach's own folder for documents. */
  documentsFolder(): Promise<string>
  /** Main's own dialog for the ffmpeg to use; null if it stays as it is. The page itself can only take it away. */
  chooseFfmpeg(): Promise<string | null>
  showInFolder(path: string): Promise<void>
  openWindow(lessonId: string | null): Promise<void>
  /** Absolute path of a file that was dropped on the window. */
  pathOf(file: File): string
  /** Keeps bytes (a voice recording, a pasted picture) in a temporary file for the library to take; returns its path. */
  keepRecording(
    bytes: ArrayBuffer,
    extension: 'wav' | 'webm' | 'ogg' | 'png' | 'jpg' | 'webp',
  ): Promise<string>
  readonly platform: string
  /** No graphics card draws the window. */
  readonly isDrawnInSoftware: boolean
}

/** Argument by which main says so to the preload. */
export const drawnInSoftware = '--drawn-in-software'

/** Structural stand-in so that shared-core needs no DOM types; in the window it is the DOM's File. */
interface File {
  readonly name: string
}
