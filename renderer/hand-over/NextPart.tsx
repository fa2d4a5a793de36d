import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { SavedText } from '../parts/SavedText.tsx'
import { edit } from '../store/desk-store.ts'
import { previewSoon } from './composer-store.ts'
import { Part } from './Part.tsx'

/** What the next lesson is about; kept with the lesson, so the Desk shows it, too. */
export function NextPart({ lesson }: { lesson: OpenLesson }) {
  return (
    <Part id="next" title="Next lesson">
      <SavedText
        lines={2}
        label="Focus of the next lesson"
        placeholder="For example: the firm lead side at full speed"
        maxLength={2000}
        value={lesson.lesson.nextFocus}
        onSave={(nextFocus) => {
          void edit('lesson.update', { id: lesson.lesson.id, patch: { nextFocus } }).then(previewSoon)
        }}
      />
    </Part>
  )
}
