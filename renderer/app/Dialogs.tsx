import { useApp } from '../store/app-store.ts'
import { AddShots } from '../desk/AddShots.tsx'
import { CompareDialog } from '../desk/stage/CompareDialog.tsx'
import { CueDialog } from '../desk/ledger/CueDialog.tsx'
import { ScaleDialog } from '../desk/stage/ScaleDialog.tsx'
import { WriteHandOver } from '../hand-over/WriteHandOver.tsx'
import { BeginBlock } from '../live/BeginBlock.tsx'
import { LiveDialog } from '../live/LiveDialog.tsx'
import { DeleteLesson } from '../roster/DeleteLesson.tsx'
import { DeleteStudent } from '../roster/DeleteStudent.tsx'
import { GiveLessons } from '../roster/GiveLessons.tsx'
import { LessonDialog } from '../roster/LessonDialog.tsx'
import { StudentDialog } from '../roster/StudentDialog.tsx'
import { TakeLessons } from '../roster/TakeLessons.tsx'
import { KeepingDialog } from './KeepingDialog.tsx'
import { RestoreDialog } from './RestoreDialog.tsx'
import { KeySheet } from './KeySheet.tsx'
import { readLater } from './read-later.tsx'
import { SettingsDialog } from './SettingsDialog.tsx'

// It knows the Stage's reading of films, a third of a megabyte that the Roster would wait for.
const { Screen: SwishMeter } = readLater(() => import('../live/SwishMeter.tsx').then((m) => m.SwishMeter))

/** The one dialog that is open, if any. */
export function Dialogs() {
  const dialog = useApp((s) => s.dialog)
  switch (dialog?.name) {
    case 'keys':
      return <KeySheet />
    case 'settings':
      return <SettingsDialog />
    case 'keeping':
      return <KeepingDialog />
    case 'restore':
      return <RestoreDialog file={dialog.file} />
    case 'give-lessons':
      return <GiveLessons studentId={dialog.studentId} lessonId={dialog.lessonId} label={dialog.label} />
    case 'take-lessons':
      return <TakeLessons file={dialog.file} />
    case 'student':
      return <StudentDialog key={dialog.studentId} studentId={dialog.studentId} />
    case 'lesson':
      return <LessonDialog studentId={dialog.studentId} />
    case 'delete-student':
      return <DeleteStudent studentId={dialog.studentId} />
    case 'delete-lesson':
      return <DeleteLesson lessonId={dialog.lessonId} label={dialog.label} />
    case 'add-shots':
      return <AddShots lessonId={dialog.lessonId} file={dialog.file} rest={dialog.rest} />
    case 'write-hand-over':
      return <WriteHandOver lessonId={dialog.lessonId} />
    case 'cue':
      return <CueDialog momentId={dialog.momentId} x={dialog.x} y={dialog.y} />
    case 'live':
      return <LiveDialog lessonId={dialog.lessonId} />
    case 'swishes':
      return <SwishMeter viewId={dialog.viewId} />
    case 'begin-block':
      return <BeginBlock lessonId={dialog.lessonId} />
    case 'compare':
      return <CompareDialog />
    case 'scale':
      return <ScaleDialog viewId={dialog.viewId} lengthPx={dialog.lengthPx} />
    default:
      return null
  }
}
