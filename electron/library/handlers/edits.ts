import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'

export const editsHandlers = (context: LibraryContext): HandlersNamed<'edits'> => {
  const { journal } = context

  return {
    'edits.undo': ({ lessonId, confirmedRevision }) => ({ label: journal.undo(lessonId, confirmedRevision) }),
    'edits.redo': ({ lessonId, confirmedRevision }) => ({ label: journal.redo(lessonId, confirmedRevision) }),
  }
}
