import { useState } from 'react'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { closeDialog, goTo, loadRoster, useApp } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { DeletionFacts, sayReceipt } from './DeletionFacts.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { rosterWords } from '../../shared-core/wording/window/roster.ts'

/** Deletes everything about a student, once the name has been typed. */
export function DeleteStudent({ studentId }: { studentId: string }) {
  const student = useApp((s) => s.roster?.find((r) => r.id === studentId))
  const [typed, setTyped] = useState('')
  const [withPackages, setWithPackages] = useState(false)
  if (!student) return null
  const matches = typed.trim() === student.name
  const remove = async () => {
    const done = await telling(
      ask('student.deleteForGood', { id: studentId, typedName: typed.trim(), withPackages }),
    )
    if (!done) return
    closeDialog()
    goTo({ name: 'roster' })
    await loadRoster()
    sayReceipt(student.name, done)
  }
  return (
    <Window
      isAlert
      title={rosterWords('deleteStudentQuestion', { name: student.name })}
      onClose={closeDialog}
      foot={
        <>
          <Action label={commonWords('keep')} onPress={closeDialog} />
          <Action
            tone="wrong"
            label={rosterWords('deleteEverything')}
            isDisabled={!matches}
            onPress={() => void remove()}
          />
        </>
      }
    >
      <DeletionFacts of={{ studentId }} withPackages={withPackages} onWithPackages={setWithPackages} />
      <div className="field">
        <label htmlFor="typed-name">{rosterWords('typeName', { name: student.name })}</label>
        <input
          id="typed-name"
          className="input"
          autoFocus
          value={typed}
          onChange={(event) => setTyped(event.target.value)}
        />
      </div>
    </Window>
  )
}
