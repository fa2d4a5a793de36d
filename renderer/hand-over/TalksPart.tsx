import { Check } from '../parts/Check.tsx'
import { changeDraft, useComposer } from './composer-store.ts'
import { toggleId } from './draft-edits.ts'
import { Part } from './Part.tsx'

const clock = (seconds: number) =>
  `${Math.floor(seconds / 60)}:${String(Math.round(seconds % 60)).padStart(2, '0')}`

/** Recorded talk-throughs of this lesson, if there are any. */
export function TalksPart() {
  const talks = useComposer((s) => s.talks)
  const ids = useComposer((s) => s.draft!.talkThroughIds)
  if (talks.length === 0) return null
  return (
    <Part id="talks" title="Talk-throughs">
      <ul className="composer-list">
        {talks.map((talk) => (
          <li key={talk.id} className="composer-card composer-row">
            <Check
              isOn={ids.includes(talk.id)}
              onChange={(on) =>
                changeDraft((d) => ({ ...d, talkThroughIds: toggleId(d.talkThroughIds, talk.id, on) }))
              }
            >
              {talk.name || 'Talk-through'} <span className="soft fine">{clock(talk.durationSeconds)}</span>
            </Check>
          </li>
        ))}
      </ul>
    </Part>
  )
}
