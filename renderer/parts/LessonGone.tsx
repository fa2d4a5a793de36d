import { commonWords } from '../../shared-core/wording/window/common.ts'
import { goTo } from '../store/app-store.ts'
import { Action } from './Action.tsx'

/** Stands where a lesson was open that is no longer there. */
export function LessonGone() {
  return (
    <main className="empty">
      <h1>{commonWords('lessonGone')}</h1>
      <Action tone="lead" label={commonWords('toRoster')} onPress={() => goTo({ name: 'roster' })} />
    </main>
  )
}
