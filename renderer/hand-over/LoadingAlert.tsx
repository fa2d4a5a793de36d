import type { Student } from '../../shared-core/model/entities.ts'
import type { PlanItem } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { changePlan, closeComposerDialog } from './composer-store.ts'
import { changeItem, loadingConcern, takenDespite } from './plan-edits.ts'
import { addItems } from './take-items.ts'

/** Raises the student's limits at the moment when something that loads the body is chosen. */
export function LoadingAlert(props: { items: PlanItem[]; index: number | null; student: Student }) {
  const { items, index, student } = props
  const concern = loadingConcern(student)
  const loading = index === null ? items.filter((i) => i.isLoading) : items
  const rest = items.filter((i) => !loading.includes(i))
  const take = (taken: PlanItem[]) => {
    const at = new Date().toISOString()
    if (index === null) addItems(takenDespite(taken, student, at))
    else {
      changePlan((plan) => {
        const [marked] = takenDespite([{ ...plan.items[index]!, isLoading: true }], student, at)
        return changeItem(plan, index, marked!)
      })
    }
    closeComposerDialog()
  }
  const them = loading.length === 1 ? 'it' : 'them'
  const names = loading.map((i) => `“${i.name || 'This item'}”`).join(', ')
  return (
    <Window
      isAlert
      title={`Is this right for ${student.name}?`}
      onClose={closeComposerDialog}
      foot={
        <>
          <Action
            tone="lead"
            label={rest.length > 0 ? `Leave ${them} out, take the rest` : `Leave ${them} out`}
            onPress={() => (rest.length > 0 ? take(rest) : closeComposerDialog())}
          />
          <Action label={`Take ${them} in all the same`} onPress={() => take(items)} />
        </>
      }
    >
      <p>
        {names} {loading.length === 1 ? 'loads' : 'load'} the body.
      </p>
      {concern?.limits && (
        <div className="note-box note-box-ask">
          <p className="fine">Limits on {student.name}’s card</p>
          <p>{concern.limits}</p>
        </div>
      )}
      {concern?.isMinor && (
        <div className="note-box note-box-ask">
          <p>
            {student.name} is a minor: only with an adult present, slow build-up, and a guardian who knows.
          </p>
        </div>
      )}
      {[...new Set(loading.map((i) => i.caution).filter(Boolean))].map((caution) => (
        <p key={caution}>{caution}</p>
      ))}
      <p className="soft">
        With an injury or pain, a medical professional decides what the body may do. This tool doesn’t. If you
        take {them} in, the plan keeps that you were told.
      </p>
    </Window>
  )
}
