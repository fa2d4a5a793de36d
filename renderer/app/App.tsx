import { lazy, Suspense, useEffect } from 'react'
import { useApp } from '../store/app-store.ts'
import { handleKeys } from '../keys/handle-keys.ts'
import { Roster } from '../roster/Roster.tsx'
import { Desk } from '../desk/Desk.tsx'
import { Dialogs } from './Dialogs.tsx'
import { Messages } from './Messages.tsx'
import './app.css'

// Read when they are first opened, so that the Roster and the Desk don't wait for them.
const HandOver = lazy(() =>
  import('../hand-over/HandOver.tsx').then(({ HandOver: screen }) => ({ default: screen })),
)
const Season = lazy(() => import('../season/Season.tsx').then(({ Season: screen }) => ({ default: screen })))

export function App() {
  const screen = useApp((s) => s.screen)
  useEffect(handleKeys, [])
  return (
    <div className="app">
      {screen.name === 'roster' && <Roster />}
      {screen.name === 'desk' && <Desk key={screen.lessonId} lessonId={screen.lessonId} />}
      <Suspense>
        {screen.name === 'hand-over' && <HandOver key={screen.lessonId} lessonId={screen.lessonId} />}
        {screen.name === 'season' && <Season key={screen.studentId} studentId={screen.studentId} />}
      </Suspense>
      <Dialogs />
      <Messages />
    </div>
  )
}
