import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { dateText } from '../roster/LessonRow.tsx'
import { Action } from '../parts/Action.tsx'
import { changeOutcome, useComposer } from './composer-store.ts'
import { Part } from './Part.tsx'
import { takeItems } from './take-items.ts'
import { Words } from './Words.tsx'
import { lastPlanWords } from '../../shared-core/wording/window/last-plan.ts'

/** The plan of the lesson before this one: what was to be practised, and how it went. */
export function LastPlan({ lesson }: { lesson: OpenLesson }) {
  const previous = useComposer((s) => s.previous)
  if (!previous) return null
  const { plan, date } = previous
  return (
    <Part id="last-plan" title={lastPlanWords('title', { date: dateText(date) })}>
      <ul className="last-plan">
        {plan.items.map((item, i) => (
          <li key={i}>
            <strong>{item.name}</strong> {item.dose && <span className="soft">{item.dose}</span>}
          </li>
        ))}
      </ul>
      {plan.note && <p className="soft">{plan.note}</p>}
      <Words
        lines={2}
        label={lastPlanWords('howDidItGo', { name: lesson.student.name })}
        placeholder={lastPlanWords('howDidItGoHint')}
        maxLength={8000}
        value={plan.outcome}
        onChange={changeOutcome}
      />
      {plan.items.length > 0 && (
        <div>
          <Action
            small
            label={lastPlanWords('carryOver')}
            onPress={() => takeItems(plan.items, lesson.student)}
          />
        </div>
      )}
    </Part>
  )
}
