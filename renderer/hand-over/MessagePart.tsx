import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { changeDraft, useComposer } from './composer-store.ts'
import { Part } from './Part.tsx'
import { Words } from './Words.tsx'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** What the student reads first. */
export function MessagePart({ lesson }: { lesson: OpenLesson }) {
  const message = useComposer((s) => s.draft!.message)
  return (
    <Part id="message" title={handOverWords('message')}>
      <Words
        hideLabel
        lines={5}
        label={handOverWords('messageTo', { name: lesson.student.name })}
        placeholder={handOverWords('messageHint', { name: lesson.student.name })}
        maxLength={20_000}
        value={message}
        onChange={(text) => changeDraft((d) => ({ ...d, message: text }))}
      />
    </Part>
  )
}
