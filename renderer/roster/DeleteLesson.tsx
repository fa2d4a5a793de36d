import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { closeDialog, goTo, loadRoster } from '../store/app-store.ts'
import { sayNews, telling } from '../store/messages.ts'

export function DeleteLesson({ lessonId, label }: { lessonId: string; label: string }) {
  const remove = async () => {
    const done = await telling(ask('lesson.deleteForGood', { id: lessonId }))
    if (!done) return
    closeDialog()
    goTo({ name: 'roster' })
    await loadRoster()
    sayNews(`The lesson was deleted, with ${done.filesDeleted} files`)
  }
  return (
    <Window
      isAlert
      title="Delete this lesson for good?"
      onClose={closeDialog}
      foot={
        <>
          <Action label="Keep" onPress={closeDialog} />
          <Action tone="wrong" label="Delete the lesson" onPress={() => void remove()} />
        </>
      }
    >
      <p>
        {label}: its clips, numbers, drawings and notes are deleted from this computer. This cannot be undone.
        Your own copies of the clips elsewhere stay.
      </p>
    </Window>
  )
}
