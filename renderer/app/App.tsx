import { useEffect } from 'react'
import { useApp } from '../store/app-store.ts'
import { handleKeys } from '../keys/handle-keys.ts'
import { Roster } from '../roster/Roster.tsx'
import { Dialogs } from './Dialogs.tsx'
import { LibraryTrouble } from './LibraryTrouble.tsx'
import { Messages } from './Messages.tsx'
import { readLater } from './read-later.tsx'
import './app.css'

// Read apart, so that the Roster doesn't wait for them; the Desk as soon as the Roster stands, the others when opened.
const { Screen: Desk, ahead: readDesk } = readLater(() => import('../desk/Desk.tsx').then((m) => m.Desk))
const { Screen: Bay } = readLater(() => import('../live/Bay.tsx').then((m) => m.Bay))
const { Screen: HandOver } = readLater(() => import('../hand-over/HandOver.tsx').then((m) => m.HandOver))
const { Screen: Works } = readLater(() => import('../works/Works.tsx').then((m) => m.Works))
const { Screen: Season } = readLater(() => import('../season/Season.tsx').then((m) => m.Season))

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
      {screen.name === 'desk' && <Desk key={screen.lessonId} lessonId={screen.lessonId} />}
      {screen.name === 'bay' && <Bay key={screen.lessonId} lessonId={screen.lessonId} />}
      {screen.name === 'hand-over' && <HandOver key={screen.lessonId} lessonId={screen.lessonId} />}
      {screen.name === 'works' && <Works />}
      {screen.name === 'season' && <Season key={screen.studentId} studentId={screen.studentId} />}
      <LibraryTrouble />
      <Dialogs />
      <Messages />
    </div>
  )
}
