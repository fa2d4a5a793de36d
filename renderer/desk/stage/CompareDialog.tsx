import { Trash2 } from 'lucide-react'
import { useState } from 'react'
import type { OpenLesson, Moment } from '../../../shared-core/model/entities.ts'
import { compareWords } from '../../../shared-core/wording/window/compare.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { Action } from '../../parts/Action.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { Window } from '../../parts/Window.tsx'
import { dateText } from '../../roster/LessonRow.tsx'
import { closeDialog, useApp } from '../../store/app-store.ts'
import { ask } from '../../store/bridge.ts'
import { compare, edit, useDesk, viewOf, type Compared } from '../../store/desk-store.ts'
import { telling } from '../../store/messages.ts'
import { pictureOptions, pictureTitle } from './picture-words.ts'

/** One side of a comparison as it is being chosen. */
interface Side {
  lessonId: string
  viewId: string
}

/** The moment two pictures are locked on: impact, else the first that both have. */
const lockOf = (first: readonly Moment[], second: readonly Moment[]): string => {
  const shared = first.filter((m) => second.some((other) => other.name === m.name)).map((m) => m.name)
  return shared.includes('impact') ? 'impact' : (shared[0] ?? 'impact')
}

/** Two pictures to set beside or over each other; or one of the comparisons kept with the lesson. */
export function CompareDialog() {
  const opened = useDesk((s) => s.opened)
  return opened && <CompareForm opened={opened} />
}

function CompareForm({ opened }: { opened: OpenLesson }) {
  const here = opened.lesson.id
  const state = useDesk.getState()
  const roster = useApp((s) => s.roster)
  const lessons = roster?.find((student) => student.id === opened.student.id)?.lessons ?? []
  /** Lessons apart, read once each. */
  const [read, setRead] = useState<Record<string, OpenLesson>>({})
  const own = pictureOptions(opened)
  const selected = [...state.selectedIds].flatMap((id) => own.find((o) => o.swingId === id)?.value ?? [])
  const firstGuess = selected.length >= 2 ? selected[0]! : (state.activeViewId ?? own[0]?.value ?? '')
  const [first, setFirst] = useState<Side>({ lessonId: here, viewId: firstGuess })
  const [second, setSecond] = useState<Side>({
    lessonId: here,
    viewId: selected.find((id) => id !== firstGuess) ?? own.find((o) => o.value !== firstGuess)?.value ?? '',
  })

  const momentsOf = (side: Side) =>
    viewOf(side.lessonId === here ? opened : (read[side.lessonId] ?? null), side.viewId)?.moments ?? []
  const optionsOf = (lessonId: string) => {
    const lesson = lessonId === here ? opened : read[lessonId]
    return lesson ? pictureOptions(lesson) : []
  }
  /** Another lesson's swings, of which the one seen by the same camera as the other side is offered first. */
  const goToLesson = async (lessonId: string, other: Side, set: (side: Side) => void) => {
    const lesson =
      lessonId === here ? opened : (read[lessonId] ?? (await telling(ask('lesson.open', { lessonId }))))
    if (!lesson) return
    setRead((known) => ({ ...known, [lessonId]: lesson }))
    const options = pictureOptions(lesson)
    const camera = optionsOf(other.lessonId).find((o) => o.value === other.viewId)?.camera
    const free = options.filter((o) => o.value !== other.viewId)
    set({ lessonId, viewId: (free.find((o) => o.camera === camera) ?? free[0])?.value ?? '' })
  }
  const apart = lessons.filter((l) => l.id !== here && l.swingCount > 0)
  const lessonOptions = [
    { value: here, label: compareWords('thisLesson') },
    ...apart.map((l) => ({ value: l.id, label: [dateText(l.date), l.title].filter(Boolean).join(' · ') })),
  ]
  const isOfHere = first.lessonId === here || second.lessonId === here
  const start = async () => {
    const far = [first, second].filter((side) => side.lessonId !== here)
    const guests = await telling(Promise.all(far.map((side) => ask('view.asGuest', { id: side.viewId }))))
    if (!guests) return
    compare(
      {
        id: null,
        name: '',
        firstViewId: first.viewId,
        secondViewId: second.viewId,
        lockedOn: lockOf(momentsOf(first), momentsOf(second)),
        arrangement: 'beside',
        opacity: 0.5,
        isStretched: false,
        mirrorSecond: false,
      },
      guests,
    )
    closeDialog()
  }
  const show = (kept: Compared) => {
    compare(kept)
    closeDialog()
  }
  const side = (name: string, now: Side, other: Side, set: (side: Side) => void) => (
    <div className="column compare-side" role="group" aria-label={name}>
      <h3>{name}</h3>
      {apart.length > 0 && (
        <Pick
          label={commonWords('lesson')}
          value={now.lessonId}
          options={lessonOptions}
          onChange={(lessonId) => void goToLesson(lessonId, other, set)}
        />
      )}
      <Pick
        label={compareWords('swing')}
        value={now.viewId}
        options={optionsOf(now.lessonId)}
        onChange={(viewId) => set({ ...now, viewId })}
      />
    </div>
  )
  return (
    <Window
      title={compareWords('compareTwo')}
      onClose={closeDialog}
      foot={
        <>
          <Action label={commonWords('cancel')} onPress={closeDialog} />
          <Action
            tone="lead"
            label={compareWords('compare')}
            isDisabled={!first.viewId || !second.viewId || first.viewId === second.viewId || !isOfHere}
            onPress={() => void start()}
          />
        </>
      }
    >
      {own.length === 0 || (own.length < 2 && apart.length === 0) ? (
        <p>{compareWords(own.length === 0 ? 'needsTwoClips' : 'needsOneClip')}</p>
      ) : (
        <div className="form-grid">
          {side(compareWords('first'), first, second, setFirst)}
          {side(compareWords('second'), second, first, setSecond)}
        </div>
      )}
      <p className="fine soft">
        {isOfHere
          ? compareWords('whichSwings', { student: opened.student.name })
          : compareWords('oneFromHere')}
      </p>
      {opened.comparisons.length > 0 && (
        <section className="column" aria-label={compareWords('kept')}>
          <h3>{compareWords('kept')}</h3>
          {opened.comparisons.map((c) => {
            const label =
              c.name ||
              compareWords('and', {
                first: pictureTitle(opened, c.firstViewId),
                second: pictureTitle(opened, c.secondViewId),
              })
            return (
              <div key={c.id} className="row">
                <Action label={label} onPress={() => show(c)} />
                <span className="push" />
                <Action
                  small
                  tone="plain"
                  icon={<Trash2 size={15} />}
                  label={compareWords('remove', { comparison: label })}
                  onPress={() => void edit('comparison.remove', { id: c.id })}
                />
              </div>
            )
          })}
        </section>
      )}
    </Window>
  )
}
