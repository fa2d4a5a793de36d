import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { sizeText } from '../hand-over/view-words.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { closeDialog, openDialog } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { counted } from './counted.ts'

type Before = CallOutput<'lessonFile.before'>

/** Says what goes into a lesson file and what stays, and writes it where the coach chooses. */
export function GiveLessons(props: { studentId: string; lessonId: string | null; label: string }) {
  const { studentId, lessonId } = props
  const [before, setBefore] = useState<Before | null>(null)
  const [withNotes, setWithNotes] = useState(false)
  const [withLimits, setWithLimits] = useState(false)
  useEffect(() => {
    const which = { studentId, lessonIds: lessonId === null ? null : [lessonId] }
    void telling(ask('lessonFile.before', which)).then((found) => (found ? setBefore(found) : closeDialog()))
  }, [studentId, lessonId])
  if (!before) return null
  const give = async () => {
    const folder = await bridge().pickFolder()
    if (folder === null) return
    const lessonIds = lessonId === null ? null : [lessonId]
    if (await telling(ask('lessonFile.give', { studentId, lessonIds, folder, withNotes, withLimits }))) {
      closeDialog()
    }
  }
  return (
    <Window
      title={`Give to a colleague: ${props.label}`}
      onClose={closeDialog}
      foot={
        before.refusal === null ? (
          <>
            <Action label="Cancel" onPress={closeDialog} />
            <Action tone="lead" label="Write the file…" onPress={() => void give()} />
          </>
        ) : (
          <>
            <Action
              label="Open the student’s card"
              onPress={() => openDialog({ name: 'student', studentId })}
            />
            <Action tone="lead" label="Close" onPress={closeDialog} />
          </>
        )
      }
    >
      {before.refusal !== null ? (
        <>
          <p className="note-box note-box-ask">This may not be given away: {before.refusal}.</p>
          <p className="soft">
            A colleague keeps what is in the file, so the answer on the student’s card has to allow it. Ask
            the student (for a minor, a guardian), and record what was said.
          </p>
        </>
      ) : (
        <>
          <p>
            One file with {counted(before.lessons, 'lesson')} and {counted(before.clips, 'clip')} (
            {sizeText(before.bytes)}) as filmed, with moments, drawings, cues, shots, pairs, blocks, the plan
            and the student’s consent. A colleague takes it in with “From a colleague…” on the Roster.
          </p>
          <div className="column">
            <Check isOn={withNotes} onChange={setWithNotes}>
              With your own notes on student, lesson and blocks
            </Check>
            <Check isOn={withLimits} onChange={setWithLimits}>
              With the student’s injuries and limits
            </Check>
          </div>
          {before.leftOut.length > 0 && (
            <div className="soft fine">
              <p>Not in it:</p>
              <ul>
                {before.leftOut.map((what, i) => (
                  <li key={i}>{what}</li>
                ))}
              </ul>
            </div>
          )}
          <p className="soft fine">
            Films and photos are the files as the camera wrote them, with the time and perhaps the place in
            them (a hand-over has neither). Hand-overs and talk-throughs stay here. What has left this
            computer, deleting can’t reach.
          </p>
        </>
      )}
    </Window>
  )
}
