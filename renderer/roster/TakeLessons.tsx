import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { sizeText } from '../hand-over/view-words.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { Pick } from '../parts/Pick.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { closeDialog, useApp } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { counted } from './counted.ts'
import { dateText } from './LessonRow.tsx'

type Look = CallOutput<'lessonFile.look'>
type Standing = Look['lessons'][number]['standing']

const newStudent = 'new'

const standingWords: Record<Standing, string> = {
  new: '',
  same: 'here already',
  newer: 'newer than the copy here',
  older: 'another copy is here',
}

/** Shows what is in a colleague's file, asks whose lessons they are, and takes them in. */
export function TakeLessons({ file }: { file: string }) {
  const roster = useApp((s) => s.roster)
  const [look, setLook] = useState<Look | null>(null)
  const [who, setWho] = useState(newStudent)
  const [isBeside, setBeside] = useState(false)
  useEffect(() => {
    void telling(ask('lessonFile.look', { file })).then((found) => {
      if (!found) return closeDialog()
      setLook(found)
      setWho(found.knownStudents[0]?.id ?? newStudent)
    })
  }, [file])
  if (!look) return null
  const others = look.lessons.filter((l) => l.standing === 'newer' || l.standing === 'older').length
  const fresh = look.lessons.filter((l) => l.standing === 'new').length
  const comes = fresh + (isBeside ? others : 0)
  const take = async () => {
    const studentId = who === newStudent ? null : who
    const otherCopies = isBeside ? 'beside' : 'leave'
    if (await telling(ask('lessonFile.take', { file, studentId, otherCopies }))) closeDialog()
  }
  const { student } = look
  return (
    <Window
      title={`From a colleague: ${student.name}`}
      onClose={closeDialog}
      foot={
        <>
          <Action label="Leave it" onPress={closeDialog} />
          <Action
            tone="lead"
            label={comes === 0 ? 'Nothing to take in' : `Take in ${counted(comes, 'lesson')}`}
            isDisabled={comes === 0 || look.refusal !== null}
            onPress={() => void take()}
          />
        </>
      }
    >
      <p className="soft">
        {look.coachName === '' ? 'The file doesn’t say who wrote it' : `Written by ${look.coachName}`} on{' '}
        {dateText(look.writtenAt.slice(0, 10))}, {sizeText(look.byteLength)}. {student.name} plays{' '}
        {student.side}-handed{student.isMinor && ' and is a minor'}.
      </p>
      {look.refusal !== null && (
        <p className="note-box note-box-ask">It can’t be taken in: {look.refusal}.</p>
      )}
      <ul className="taken-lessons">
        {look.lessons.map((l, i) => (
          <li key={i} className="row">
            <span>
              {dateText(l.date)}
              {l.title && `, ${l.title}`}
            </span>
            <span className="push" />
            <span className="soft fine">
              {[counted(l.swings, 'swing'), counted(l.clips, 'clip'), counted(l.shots, 'shot')].join(' · ')}
            </span>
            {l.standing !== 'new' && (
              <span className={l.standing === 'newer' ? 'badge badge-ask' : 'badge'}>
                {standingWords[l.standing]}
              </span>
            )}
          </li>
        ))}
      </ul>
      {others > 0 && (
        <Check isOn={isBeside} onChange={setBeside}>
          Take {others === 1 ? 'the other copy' : 'the other copies'} in as well, beside what is here
        </Check>
      )}
      {comes > 0 && (
        <Pick
          label="Whose lessons are they?"
          value={who}
          options={[
            { value: newStudent, label: `A new student: ${student.name}` },
            ...(roster ?? []).map((s) => ({ value: s.id, label: `${s.name}, already on your Roster` })),
          ]}
          onChange={setWho}
        />
      )}
      {comes > 0 && who === newStudent && (
        <p className="soft fine">
          The consent{student.consent.givenBy && ` that ${student.consent.givenBy} gave`} comes along onto the
          new card, which is marked as a colleague’s.
          {!look.withLimits && ' Injuries and limits are not in the file: ask about them.'}
        </p>
      )}
      {comes > 0 && who !== newStudent && (
        <p className="soft fine">The student’s card stays as it is, consent and limits included.</p>
      )}
    </Window>
  )
}
