import { useEffect, useState } from 'react'
import { localDay } from '../../shared-core/model/local-day.ts'
import type { Student, UnitSystem } from '../../shared-core/model/entities.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { Choice } from '../parts/Choice.tsx'
import { SavedText } from '../parts/SavedText.tsx'
import { Window } from '../parts/Window.tsx'
import { languageNames, languages, type Language } from '../../shared-core/wording/language.ts'
import { ask } from '../store/bridge.ts'
import { closeDialog, loadRoster, openDialog, useApp } from '../store/app-store.ts'
import { reload } from '../store/desk-store.ts'
import { telling } from '../store/messages.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { rosterWords } from '../../shared-core/wording/window/roster.ts'

export const unitOptions: readonly { value: UnitSystem; label: string }[] = [
  { value: 'mph-yd', label: rosterWords('mphYd') },
  { value: 'kmh-m', label: rosterWords('kmhM') },
  { value: 'mps-m', label: rosterWords('mpsM') },
]

const sides = [
  { value: 'right', label: rosterWords('rightHanded') },
  { value: 'left', label: rosterWords('leftHanded') },
] as const

const languageOptions = languages.map((language) => ({ value: language, label: languageNames[language] }))

/** A new student, or the card of one there is. */
export function StudentDialog({ studentId }: { studentId: string | null }) {
  return studentId === null ? <NewStudent /> : <StudentCardDialog id={studentId} />
}

function NewStudent() {
  const [name, setName] = useState('')
  const [side, setSide] = useState<'right' | 'left'>('right')
  const [isMinor, setMinor] = useState(false)
  const [units, setUnits] = useState<UnitSystem>('mph-yd')
  const [language, setLanguage] = useState<Language>('en')
  const create = async () => {
    const made = await telling(ask('student.create', { name, side, isMinor, units, language }))
    if (!made) return
    await loadRoster()
    openDialog({ name: 'lesson', studentId: made.id })
  }
  return (
    <Window
      title={rosterWords('newStudent')}
      onClose={closeDialog}
      foot={
        <>
          <Action label={commonWords('cancel')} onPress={closeDialog} />
          <Action
            tone="lead"
            label={rosterWords('addTheStudent')}
            isDisabled={name.trim() === ''}
            onPress={() => void create()}
          />
        </>
      }
    >
      <div className="field">
        <label htmlFor="new-student">{commonWords('name')}</label>
        <input
          id="new-student"
          className="input"
          autoFocus
          value={name}
          onChange={(event) => setName(event.target.value)}
          onKeyDown={(event) => event.key === 'Enter' && name.trim() !== '' && void create()}
        />
      </div>
      <div className="row row-wrap">
        <Choice label={rosterWords('playingSide')} value={side} options={sides} onChange={setSide} />
        <Choice label={rosterWords('units')} value={units} options={unitOptions} onChange={setUnits} />
        <Choice
          label={rosterWords('pageLanguage')}
          value={language}
          options={languageOptions}
          onChange={setLanguage}
        />
      </div>
      <Check isOn={isMinor} onChange={setMinor}>
        {rosterWords('isMinor')}
      </Check>
    </Window>
  )
}

function StudentCardDialog({ id }: { id: string }) {
  const [student, setStudent] = useState<Student | null>(null)
  const hasLessons = useApp((s) => (s.roster?.find((r) => r.id === id)?.lessons.length ?? 0) > 0)
  useEffect(() => {
    void telling(ask('student.get', { id })).then(setStudent)
  }, [id])
  if (!student) return null

  const update = async (patch: Partial<Omit<Student, 'id' | 'consent'>>) => {
    setStudent({ ...student, ...patch })
    await telling(ask('student.update', { id, patch }))
    await Promise.all([loadRoster(), reload()])
  }
  const consent = async (patch: Partial<Student['consent']>) => {
    const next = { ...student.consent, ...patch }
    setStudent({ ...student, consent: next })
    const { recordedAt: _recordedAt, ...said } = next
    await telling(ask('student.consent', { id, consent: said }))
    await Promise.all([loadRoster(), reload()])
  }
  const c = student.consent
  return (
    <Window
      wide
      title={student.name}
      onClose={closeDialog}
      foot={
        <>
          <Action
            tone="wrong"
            label={rosterWords('deleteStudent')}
            onPress={() => openDialog({ name: 'delete-student', studentId: id })}
          />
          {hasLessons && (
            <Action
              label={rosterWords('giveToColleague')}
              onPress={() =>
                openDialog({ name: 'give-lessons', studentId: id, lessonId: null, label: student.name })
              }
            />
          )}
          <span className="push" />
          <Action tone="lead" label={commonWords('done')} onPress={closeDialog} />
        </>
      }
    >
      <div className="form-grid">
        <SavedText
          required
          label={commonWords('name')}
          value={student.name}
          onSave={(name) => void update({ name })}
        />
        <div className="field">
          <span className="label">{rosterWords('playingSide')}</span>
          <div>
            <Choice
              label={rosterWords('playingSide')}
              value={student.side}
              options={sides}
              onChange={(side) => void update({ side })}
            />
          </div>
        </div>
        <div className="field">
          <span className="label">{rosterWords('units')}</span>
          <div>
            <Choice
              label={rosterWords('units')}
              value={student.units}
              options={unitOptions}
              onChange={(units) => void update({ units })}
            />
          </div>
        </div>
        <div className="field">
          <span className="label">{rosterWords('pageLanguage')}</span>
          <div>
            <Choice
              label={rosterWords('pageLanguage')}
              value={student.language}
              options={languageOptions}
              onChange={(language) => void update({ language })}
            />
          </div>
        </div>
      </div>
      <SavedText
        lines={2}
        label={rosterWords('limits')}
        value={student.limits}
        placeholder={rosterWords('limitsHint')}
        onSave={(limits) => void update({ limits })}
      />
      <SavedText
        lines={2}
        label={rosterWords('notes')}
        value={student.note}
        onSave={(note) => void update({ note })}
      />
      <section className="column" aria-label={rosterWords('consent')}>
        <h3>{rosterWords('consent')}</h3>
        <Check isOn={student.isMinor} onChange={(isMinor) => void update({ isMinor })}>
          {rosterWords('isMinor')}
        </Check>
        <div className="row row-wrap">
          <Check isOn={c.filming} onChange={(filming) => void consent({ filming })}>
            {rosterWords('mayBeFilmed')}
          </Check>
          <Check isOn={c.storing} onChange={(storing) => void consent({ storing })}>
            {rosterWords('mayBeKept')}
          </Check>
          <Check isOn={c.sharing} onChange={(sharing) => void consent({ sharing })}>
            {rosterWords('mayBeHandedOver')}
          </Check>
          <Check isOn={c.coversFace} onChange={(coversFace) => void consent({ coversFace })}>
            {rosterWords('onlyCovered')}
          </Check>
        </div>
        <div className="form-grid">
          <SavedText
            label={student.isMinor ? rosterWords('guardianWhoSaidYes') : rosterWords('whoSaidYes')}
            value={c.givenBy}
            onSave={(givenBy) => void consent({ givenBy, isGuardian: student.isMinor })}
          />
          <UntilField until={c.until} onSave={(until) => void consent({ until })} />
        </div>
        {student.isMinor && c.givenBy !== '' && (
          <Check isOn={c.isGuardian} onChange={(isGuardian) => void consent({ isGuardian })}>
            {rosterWords('isGuardianOf', { givenBy: c.givenBy, name: student.name })}
          </Check>
        )}
        {c.recordedAt && (
          <span className="fine soft">
            {rosterWords('recordedOn', { day: new Date(c.recordedAt).toLocaleDateString() })}
          </span>
        )}
      </section>
    </Window>
  )
}

const isDay = (text: string): boolean => {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text) ?? []
  if (!year) return false
  const date = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)))
  return date.toISOString().startsWith(text)
}

/** The last day on which the consent holds. What is no date is said, not lost in silence. */
function UntilField(props: { until: string | null; onSave: (until: string | null) => void }) {
  const { until, onSave } = props
  const [wrong, setWrong] = useState<string | null>(null)
  const today = localDay(new Date())
  return (
    <div className="column">
      <SavedText
        label={rosterWords('until')}
        value={until ?? ''}
        placeholder="2027-06-30"
        onSave={(typed) => {
          const text = typed.trim()
          const isRight = text === '' || isDay(text)
          setWrong(isRight ? null : text)
          if (isRight) onSave(text || null)
        }}
      />
      {wrong !== null && (
        <span className="fine" role="alert">
          {until ? rosterWords('noDateUntil', { wrong, until }) : rosterWords('noDateNoEnd', { wrong })}
        </span>
      )}
      {wrong === null && until !== null && until < today && (
        <span className="fine" role="status">
          {rosterWords('hasRunOut')}
        </span>
      )}
    </div>
  )
}
