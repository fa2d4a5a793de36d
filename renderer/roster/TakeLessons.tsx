import { useEffect, useState } from 'react'
import { localDay } from '../../shared-core/model/local-day.ts'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { sizeText } from '../hand-over/view-words.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { Pick } from '../parts/Pick.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { closeDialog, useApp } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { dateText } from './LessonRow.tsx'
import { rosterWords } from '../../shared-core/wording/window/roster.ts'

type Look = CallOutput<'lessonFile.look'>
type Standing = Look['lessons'][number]['standing']

const newStudent = 'new'

const standingWords: Record<Standing, string> = {
  new: '',
  same: rosterWords('hereAlready'),
  newer: rosterWords('newerThanHere'),
  older: rosterWords('anotherCopyHere'),
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
      title={rosterWords('takeTitle', { name: student.name })}
      onClose={closeDialog}
      foot={
        <>
          <Action label={rosterWords('leaveIt')} onPress={closeDialog} />
          <Action
            tone="lead"
            label={
              comes === 0 ? rosterWords('nothingToTakeIn') : rosterWords('takeInLessons', { lessons: comes })
            }
            isDisabled={comes === 0 || look.refusal !== null}
            onPress={() => void take()}
          />
        </>
      }
    >
      <p className="soft">
        {rosterWords('fileOfDay', {
          writer:
            look.coachName === ''
              ? rosterWords('writerUnknown')
              : rosterWords('writtenBy', { coachName: look.coachName }),
          day: dateText(localDay(new Date(look.writtenAt))),
          size: sizeText(look.byteLength),
        })}{' '}
        {rosterWords(student.isMinor ? 'minorPlays' : 'studentPlays', {
          name: student.name,
          plays: rosterWords(student.side === 'right' ? 'playsRight' : 'playsLeft'),
        })}
      </p>
      {look.refusal !== null && (
        <p className="note-box note-box-ask">{rosterWords('cantBeTaken', { refusal: look.refusal })}</p>
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
              {[
                rosterWords('swings', { swings: l.swings }),
                rosterWords('clips', { clips: l.clips }),
                rosterWords('shots', { shots: l.shots }),
              ].join(' · ')}
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
          {rosterWords('takeOtherCopies', { copies: others })}
        </Check>
      )}
      {comes > 0 && (
        <Pick
          label={rosterWords('whoseLessons')}
          value={who}
          options={[
            { value: newStudent, label: rosterWords('aNewStudent', { name: student.name }) },
            ...(roster ?? []).map((s) => ({
              value: s.id,
              label: rosterWords('alreadyOnRoster', { name: s.name }),
            })),
          ]}
          onChange={setWho}
        />
      )}
      {comes > 0 && who === newStudent && (
        <p className="soft fine">
          {student.consent.givenBy
            ? rosterWords('consentGivenComes', { givenBy: student.consent.givenBy })
            : rosterWords('consentComes')}
          {!look.withLimits && ` ${rosterWords('limitsNotInFile')}`}
        </p>
      )}
      {comes > 0 && who !== newStudent && <p className="soft fine">{rosterWords('cardStays')}</p>}
    </Window>
  )
}
