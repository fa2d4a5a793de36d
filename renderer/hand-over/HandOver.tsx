import { ArrowLeft } from 'lucide-react'
import { Action } from '../parts/Action.tsx'
import { goTo, openDialog } from '../store/app-store.ts'

/** The composer's place. */
export function HandOver({ lessonId }: { lessonId: string }) {
  return (
    <>
      <header className="bar">
        <Action
          tone="plain"
          icon={<ArrowLeft size={18} />}
          label="Back to the Desk"
          onPress={() => goTo({ name: 'desk', lessonId })}
        />
        <h1>Hand-over</h1>
      </header>
      <main className="empty">
        <p>The package takes the starred swings, their drawings, the findings and your notes.</p>
        <Action
          tone="lead"
          label="Write the hand-over…"
          onPress={() => openDialog({ name: 'write-hand-over', lessonId })}
        />
      </main>
    </>
  )
}
