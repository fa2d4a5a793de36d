import { mergeNote } from '../../../shared-core/notes/merge-note.ts'

/** A patch whose note keeps what another window wrote since `noteBefore`. */
export const withNote = <P extends { note?: string | undefined }>(
  patch: P,
  noteBefore: string | undefined,
  noteNow: string,
): P =>
  patch.note === undefined || noteBefore === undefined
    ? patch
    : { ...patch, note: mergeNote(noteBefore, patch.note, noteNow) }
