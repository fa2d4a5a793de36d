import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { dateText } from '../roster/LessonRow.tsx'
import { Action } from '../parts/Action.tsx'
import { SavedText } from '../parts/SavedText.tsx'
import { ask } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { lastPlanWords } from '../../shared-core/wording/window/last-plan.ts'
import './last-plan-ask.css'

/** Lessons in which the coach put the question off; it stands in the hand-over, too. */
const putOff = new Set<string>()

/** A lesson opens with the plan of the one before, and asks how it went; not again once that is answered. */
export function LastPlanAsk({ lessonId, studentName }: { lessonId: string; studentName: string }) {
  const [previous, setPrevious] = useState<CallOutput<'plan.get'>['previous']>(null)
  const [isOpen, setOpen] = useState(!putOff.has(lessonId))
  useEffect(() => {
    let isStill = true
    void telling(ask('plan.get', { lessonId })).then((answer) => {
      const last = answer?.previous ?? null
      if (isStill && last !== null && last.plan.outcome.trim() === '') setPrevious(last)
    })
    return () => {
      isStill = false
    }
  }, [lessonId])
  if (!previous || !isOpen) return null
  const { plan, date } = previous
  const isAnswered = plan.outcome.trim() !== ''
  const save = async (outcome: string) => {
    const next = { ...plan, outcome }
    if ((await telling(ask('plan.save', next))) !== null) setPrevious({ date, plan: next })
  }
  return (
    <section className="last-plan-ask" aria-label={lastPlanWords('lastPlan')}>
      <p>
        <strong>{lastPlanWords('planOf', { date: dateText(date) })}</strong>{' '}
        {plan.items.map((item) => item.name || lastPlanWords('ownItem')).join(' · ') || plan.note}
      </p>
      <div className="last-plan-answer">
        <SavedText
          label={lastPlanWords('howDidGoAskStudentName', { studentName })}
          placeholder={lastPlanWords('howDidItGoHint')}
          maxLength={8000}
          value={plan.outcome}
          onSave={(outcome) => void save(outcome)}
        />
        <Action
          label={isAnswered ? commonWords('done') : commonWords('later')}
          onPress={() => {
            putOff.add(lessonId)
            setOpen(false)
          }}
        />
      </div>
    </section>
  )
}
