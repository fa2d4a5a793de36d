import { useEffect } from 'react'
import { useApp } from '../store/app-store.ts'
import { handleKeys } from '../keys/handle-keys.ts'
import { Roster } from '../roster/Roster.tsx'
import { Desk } from '../desk/Desk.tsx'
import { HandOver } from '../hand-over/HandOver.tsx'
import { Season } from '../season/Season.tsx'
import { Dialogs } from './Dialogs.tsx'
import { Messages } from './Messages.tsx'
import './app.css'

export function App() {
  const screen = useApp((s) => s.screen)
  useEffect(handleKeys, [])
  return (
    <div className="app">
      {screen.name === 'roster' && <Roster />}
      {screen.name === 'desk' && <Desk key={screen.lessonId} lessonId={screen.lessonId} />}
      {screen.name === 'hand-over' && <HandOver key={screen.lessonId} lessonId={screen.lessonId} />}
      {screen.name === 'season' && <Season key={screen.studentId} studentId={screen.studentId} />}
      <Dialogs />
      <Messages />
    </div>
  )
}
