import { useState } from 'react'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { closeDialog, goTo, loadRoster } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { DeletionFacts, sayReceipt } from './DeletionFacts.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { rosterWords } from '../../shared-core/wording/window/roster.ts'

export function DeleteLesson({ lessonId, label }: { lessonId: string; label: string }) {
  const [withPackages, setWithPackages] = useState(false)
  const remove = async () => {
    const done = await telling(ask('lesson.deleteForGood', { id: lessonId, withPackages }))
    if (!done) return
    closeDialog()
    goTo({ name: 'roster' })
    await loadRoster()
    sayReceipt(rosterWords('theLesson'), done)
  }
  return (
    <Window
      isAlert
      title={rosterWords('deleteLessonQuestion')}
      onClose={closeDialog}
      foot={
        <>
          <Action label={commonWords('keep')} onPress={closeDialog} />
          <Action tone="wrong" label={rosterWords('deleteLesson')} onPress={() => void remove()} />
        </>
      }
    >
      <p>{label}</p>
      <DeletionFacts of={{ lessonId }} withPackages={withPackages} onWithPackages={setWithPackages} />
    </Window>
  )
}
