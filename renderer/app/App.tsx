import { lazy, Suspense, useEffect } from 'react'
import { useApp } from '../store/app-store.ts'
import { handleKeys } from '../keys/handle-keys.ts'
import { Roster } from '../roster/Roster.tsx'
import { Dialogs } from './Dialogs.tsx'
import { LibraryTrouble } from './LibraryTrouble.tsx'
import { Messages } from './Messages.tsx'
import './app.css'

// Read apart, so that the Roster doesn't wait for them; the Desk as soon as the Roster stands, the others when opened.
const readDesk = () => import('../desk/Desk.tsx')
const Desk = lazy(() => readDesk().then(({ Desk: screen }) => ({ default: screen })))
const Bay = lazy(() => import('../live/Bay.tsx').then(({ Bay: screen }) => ({ default: screen })))
const HandOver = lazy(() =>
  import('../hand-over/HandOver.tsx').then(({ HandOver: screen }) => ({ default: screen })),
)
const Works = lazy(() => import('../works/Works.tsx').then(({ Works: screen }) => ({ default: screen })))
const Season = lazy(() => import('../season/Season.tsx').then(({ Season: screen }) => ({ default: screen })))

export function App() {
  const screen = useApp((s) => s.screen)
  useEffect(handleKeys, [])
  const isRosterRead = useApp((s) => s.roster !== null)
  useEffect(() => {
    if (isRosterRead) requestIdleCallback(() => void readDesk(), { timeout: 500 })
  }, [isRosterRead])
  return (
    <div className="app">
      {screen.name === 'roster' && <Roster />}
      <Suspense>
        {screen.name === 'desk' && <Desk key={screen.lessonId} lessonId={screen.lessonId} />}
        {screen.name === 'bay' && <Bay key={screen.lessonId} lessonId={screen.lessonId} />}
        {screen.name === 'hand-over' && <HandOver key={screen.lessonId} lessonId={screen.lessonId} />}
        {screen.name === 'works' && <Works />}
        {screen.name === 'season' && <Season key={screen.studentId} studentId={screen.studentId} />}
      </Suspense>
      <LibraryTrouble />
      <Dialogs />
      <Messages />
    </div>
  )
}
