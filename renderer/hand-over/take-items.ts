import type { Student } from '../../shared-core/model/entities.ts'
import type { PlanItem } from '../../shared-core/model/hand-over.ts'
import { changePlan, closeComposerDialog, openComposerDialog } from './composer-store.ts'
import { loadingConcern } from './plan-edits.ts'

export const addItems = (items: readonly PlanItem[]) =>
  changePlan((plan) => ({ ...plan, items: [...plan.items, ...items] }))

/** Takes drills into the plan; where one loads the body of a student with limits, or a minor, asks first. */
export const takeItems = (items: PlanItem[], student: Student) => {
  if (loadingConcern(student) && items.some((i) => i.isLoading)) {
    openComposerDialog({ name: 'loading', items, index: null })
    return
  }
  addItems(items)
  closeComposerDialog()
}
