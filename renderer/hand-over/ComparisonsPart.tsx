import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { pictureTitle } from '../desk/stage/picture-words.ts'
import { Check } from '../parts/Check.tsx'
import { changeDraft, useComposer } from './composer-store.ts'
import { comparisonsInOrder, lacksLock, moved, toggleId } from './draft-edits.ts'
import { MoveButtons } from './MoveButtons.tsx'
import { Part } from './Part.tsx'
import { placedViews } from './view-words.ts'

/** Comparisons kept with the lesson: each becomes one clip, two swings as they lie on the Stage. */
export function ComparisonsPart({ lesson }: { lesson: OpenLesson }) {
  const ids = useComposer((s) => s.draft!.comparisonIds)
  const views = new Map(placedViews(lesson).map((p) => [p.view.id, p]))
  const rows = comparisonsInOrder(ids, lesson.comparisons)
  const inCount = rows.filter((r) => r.isIn).length
  return (
    <Part id="comparisons" title="Before and after">
      {rows.length === 0 && (
        <p className="soft">
          No comparison is kept with this lesson. On the Desk, set two swings side by side with K and keep
          them; then they can go in as one clip.
        </p>
      )}
      <ul className="composer-list">
        {rows.map(({ comparison, isIn }, index) => {
          const name = comparison.name || 'Before and after'
          const titles = [comparison.firstViewId, comparison.secondViewId].map(
            (id) => views.get(id)?.title ?? pictureTitle(lesson, id),
          )
          return (
            <li key={comparison.id} className="composer-card composer-row">
              <div className="row">
                <Check
                  isOn={isIn}
                  onChange={(on) =>
                    changeDraft((d) => ({
                      ...d,
                      comparisonIds: toggleId(d.comparisonIds, comparison.id, on),
                    }))
                  }
                >
                  {name}
                </Check>
                <span className="push" />
                {isIn && inCount > 1 && (
                  <span className="row tight">
                    <MoveButtons
                      what={name}
                      index={index}
                      count={inCount}
                      onMove={(to) =>
                        changeDraft((d) => ({ ...d, comparisonIds: moved(d.comparisonIds, index, to) }))
                      }
                    />
                  </span>
                )}
              </div>
              <p className="soft fine indented">
                {comparison.arrangement === 'over'
                  ? `${titles[1]} laid over ${titles[0]}`
                  : titles.join(' beside ')}
                , together at {comparison.isStretched ? 'all moments they share' : comparison.lockedOn}
              </p>
              {isIn && lacksLock(comparison, lesson) && (
                <p className="note-box note-box-ask fine">
                  One of the two has no {comparison.lockedOn} marked, so this can’t be written. Mark{' '}
                  {comparison.lockedOn} on both, or leave it out.
                </p>
              )}
            </li>
          )
        })}
      </ul>
    </Part>
  )
}
