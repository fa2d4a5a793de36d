import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { SavedText } from '../parts/SavedText.tsx'
import { edit } from '../store/desk-store.ts'
import { previewSoon } from './composer-store.ts'
import { Part } from './Part.tsx'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** What the next lesson is about; kept with the lesson, so the Desk shows it, too. */
export function NextPart({ lesson }: { lesson: OpenLesson }) {
  return (
    <Part id="next" title={handOverWords('nextLesson')}>
      <SavedText
        lines={2}
        label={handOverWords('nextFocus')}
        placeholder={handOverWords('nextFocusHint')}
        maxLength={2000}
        value={lesson.lesson.nextFocus}
        onSave={(nextFocus) => {
          void edit('lesson.update', { id: lesson.lesson.id, patch: { nextFocus } }).then(previewSoon)
        }}
      />
    </Part>
  )
}
