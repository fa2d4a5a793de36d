import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { sizeText } from '../hand-over/view-words.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { closeDialog, openDialog } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { rosterWords } from '../../shared-core/wording/window/roster.ts'

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
      title={rosterWords('giveTitle', { label: props.label })}
      onClose={closeDialog}
      foot={
        before.refusal === null ? (
          <>
            <Action label={commonWords('cancel')} onPress={closeDialog} />
            <Action tone="lead" label={rosterWords('writeFile')} onPress={() => void give()} />
          </>
        ) : (
          <>
            <Action
              label={rosterWords('openStudentsCard')}
              onPress={() => openDialog({ name: 'student', studentId })}
            />
            <Action tone="lead" label={commonWords('close')} onPress={closeDialog} />
          </>
        )
      }
    >
      {before.refusal !== null ? (
        <>
          <p className="note-box note-box-ask">{rosterWords('mayNotBeGiven', { refusal: before.refusal })}</p>
          <p className="soft">{rosterWords('colleagueKeeps')}</p>
        </>
      ) : (
        <>
          <p>
            {rosterWords('oneFile', {
              lessons: before.lessons,
              clips: before.clips,
              bytes: sizeText(before.bytes),
            })}
          </p>
          <div className="column">
            <Check isOn={withNotes} onChange={setWithNotes}>
              {rosterWords('withNotes')}
            </Check>
            <Check isOn={withLimits} onChange={setWithLimits}>
              {rosterWords('withLimits')}
            </Check>
          </div>
          {before.leftOut.length > 0 && (
            <div className="soft fine">
              <p>{rosterWords('notInIt')}</p>
              <ul>
                {before.leftOut.map((what, i) => (
                  <li key={i}>{what}</li>
                ))}
              </ul>
            </div>
          )}
          <p className="soft fine">{rosterWords('filmsAsFilmed')}</p>
        </>
      )}
    </Window>
  )
}
