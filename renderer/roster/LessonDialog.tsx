import { useState } from 'react'
import { localDay } from '../../shared-core/model/local-day.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { closeDialog, goTo, useApp } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { rosterWords } from '../../shared-core/wording/window/roster.ts'

const today = () => localDay(new Date())

export function LessonDialog({ studentId }: { studentId: string }) {
  const name = useApp((s) => s.roster?.find((r) => r.id === studentId)?.name)
  const [date, setDate] = useState(today)
  const [title, setTitle] = useState('')
  const isDate = /^\d{4}-\d{2}-\d{2}$/.test(date)
  const create = async () => {
    const made = await telling(ask('lesson.create', { studentId, date, title }))
    if (!made) return
    closeDialog()
    goTo({ name: 'desk', lessonId: made.id })
  }
  const onEnter = (key: string) => key === 'Enter' && isDate && void create()
  return (
    <Window
      title={name ? rosterWords('newLessonWith', { name }) : rosterWords('newLesson')}
      onClose={closeDialog}
      foot={
        <>
          <Action label={commonWords('later')} onPress={closeDialog} />
          <Action
            tone="lead"
            label={rosterWords('openDesk')}
            isDisabled={!isDate}
            onPress={() => void create()}
          />
        </>
      }
    >
      <div className="form-grid">
        <div className="field">
          <label htmlFor="lesson-date">{rosterWords('date')}</label>
          <input
            id="lesson-date"
            className="input"
            type="date"
            value={date}
            onChange={(event) => setDate(event.target.value)}
            onKeyDown={(event) => onEnter(event.key)}
          />
        </div>
        <div className="field">
          <label htmlFor="lesson-title">{rosterWords('whatAbout')}</label>
          <input
            id="lesson-title"
            className="input"
            autoFocus
            value={title}
            onChange={(event) => setTitle(event.target.value)}
            onKeyDown={(event) => onEnter(event.key)}
          />
        </div>
      </div>
    </Window>
  )
}
