import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { changeDraft, useComposer } from './composer-store.ts'
import { Part } from './Part.tsx'
import { Words } from './Words.tsx'

/** What the student reads first. */
export function MessagePart({ lesson }: { lesson: OpenLesson }) {
  const message = useComposer((s) => s.draft!.message)
  return (
    <Part id="message" title="Message">
      <Words
        hideLabel
        lines={5}
        label={`Message to ${lesson.student.name}`}
        placeholder={`What ${lesson.student.name} should read first: what went well, the one thing to keep, what comes next. An empty line begins a new paragraph.`}
        maxLength={20_000}
        value={message}
        onChange={(text) => changeDraft((d) => ({ ...d, message: text }))}
      />
    </Part>
  )
}
