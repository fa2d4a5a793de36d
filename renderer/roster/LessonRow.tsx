import { Ellipsis, PackageCheck } from 'lucide-react'
import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import type { RosterEntry } from '../../shared-core/model/hand-over.ts'
import { bridge } from '../store/bridge.ts'
import { goTo, openDialog } from '../store/app-store.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { rosterWords } from '../../shared-core/wording/window/roster.ts'

// Made once: a formatter costs far more than a formatting.
const dateFormat = new Intl.DateTimeFormat(undefined, {
  weekday: 'short',
  day: 'numeric',
  month: 'short',
  year: 'numeric',
})

export const dateText = (date: string) => {
  const [year, month, day] = date.split('-').map(Number)
  return dateFormat.format(new Date(year!, month! - 1, day!))
}

export function LessonRow(props: {
  lesson: RosterEntry['lessons'][number]
  student: Pick<RosterEntry, 'id' | 'name'>
}) {
  const { lesson, student } = props
  const open = () => goTo({ name: 'desk', lessonId: lesson.id })
  const label = `${dateText(lesson.date)}${lesson.title ? `, ${lesson.title}` : ''}`
  return (
    <li className="lesson-row">
      <Button className="lesson-open" onPress={open}>
        <span className="lesson-date">{dateText(lesson.date)}</span>
        <span className="lesson-title">{lesson.title || commonWords('lesson')}</span>
        <span className="lesson-counts soft fine">
          {lesson.swingCount === 0
            ? rosterWords('nothingInIt')
            : [
                rosterWords('swings', { swings: lesson.swingCount }),
                rosterWords('clips', { clips: lesson.clipCount }),
                rosterWords('shots', { shots: lesson.shotCount }),
              ].join(' · ')}
        </span>
        {lesson.lastHandOverAt && (
          <span className="badge badge-lead">
            <PackageCheck size={13} aria-hidden /> {rosterWords('handedOver')}
          </span>
        )}
      </Button>
      <MenuTrigger>
        <Button
          className="button button-plain button-icon button-small"
          aria-label={rosterWords('moreFor', { label })}
        >
          <Ellipsis size={16} />
        </Button>
        <Popover className="popover">
          <Menu
            onAction={(key) => {
              if (key === 'open') open()
              if (key === 'window') void bridge().openWindow(lesson.id)
              if (key === 'hand-over') goTo({ name: 'hand-over', lessonId: lesson.id })
              if (key === 'delete') {
                openDialog({ name: 'delete-lesson', lessonId: lesson.id, label: `${student.name}, ${label}` })
              }
              if (key === 'give') {
                openDialog({
                  name: 'give-lessons',
                  studentId: student.id,
                  lessonId: lesson.id,
                  label: `${student.name}, ${label}`,
                })
              }
            }}
          >
            <MenuItem className="menu-item" id="open">
              {rosterWords('openOnDesk')}
            </MenuItem>
            <MenuItem className="menu-item" id="window">
              {rosterWords('openInSecondWindow')}
            </MenuItem>
            <MenuItem className="menu-item" id="hand-over">
              {rosterWords('composeHandOver')}
            </MenuItem>
            <MenuItem className="menu-item" id="give">
              {rosterWords('giveToColleague')}
            </MenuItem>
            <MenuItem className="menu-item" id="delete">
              {rosterWords('deleteLessonForGood')}
            </MenuItem>
          </Menu>
        </Popover>
      </MenuTrigger>
    </li>
  )
}
