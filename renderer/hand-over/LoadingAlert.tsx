import type { Student } from '../../shared-core/model/entities.ts'
import type { PlanItem } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { changePlan, closeComposerDialog } from './composer-store.ts'
import { changeItem, loadingConcern, takenDespite } from './plan-edits.ts'
import { addItems } from './take-items.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

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
  const count = loading.length
  const names = loading
    .map((i) => handOverWords('quoted', { name: i.name || handOverWords('thisItemFirst') }))
    .join(', ')
  return (
    <Window
      isAlert
      title={handOverWords('rightFor', { name: student.name })}
      onClose={closeComposerDialog}
      foot={
        <>
          <Action
            tone="lead"
            label={handOverWords(rest.length > 0 ? 'leaveOutTakeRest' : 'leaveOut', { count })}
            onPress={() => (rest.length > 0 ? take(rest) : closeComposerDialog())}
          />
          <Action label={handOverWords('takeInAllTheSame', { count })} onPress={() => take(items)} />
        </>
      }
    >
      <p>{handOverWords('loadTheBody', { names, count })}</p>
      {concern?.limits && (
        <div className="note-box note-box-ask">
          <p className="fine">{handOverWords('limitsOnCard', { name: student.name })}</p>
          <p>{concern.limits}</p>
        </div>
      )}
      {concern?.isMinor && (
        <div className="note-box note-box-ask">
          <p>{handOverWords('minorOnlyWith', { name: student.name })}</p>
        </div>
      )}
      {[...new Set(loading.map((i) => i.caution).filter(Boolean))].map((caution) => (
        <p key={caution}>{caution}</p>
      ))}
      <p className="soft">{handOverWords('withInjuryOrPain', { count })}</p>
    </Window>
  )
}
