import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { pictureTitle } from '../desk/stage/picture-words.ts'
import { Check } from '../parts/Check.tsx'
import { changeDraft, useComposer } from './composer-store.ts'
import { comparisonsInOrder, lacksLock, moved, toggleId } from './draft-edits.ts'
import { MoveButtons } from './MoveButtons.tsx'
import { Part } from './Part.tsx'
import { placedViews } from './view-words.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** Comparisons kept with the lesson: each becomes one clip, two swings as they lie on the Stage. */
export function ComparisonsPart({ lesson }: { lesson: OpenLesson }) {
  const ids = useComposer((s) => s.draft!.comparisonIds)
  const views = new Map(placedViews(lesson).map((p) => [p.view.id, p]))
  const rows = comparisonsInOrder(ids, lesson.comparisons)
  const inCount = rows.filter((r) => r.isIn).length
  return (
    <Part id="comparisons" title={commonWords('beforeAndAfter')}>
      {rows.length === 0 && <p className="soft">{handOverWords('noComparisonYet')}</p>}
      <ul className="composer-list">
        {rows.map(({ comparison, isIn }, index) => {
          const name = comparison.name || commonWords('beforeAndAfter')
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
                {handOverWords(comparison.arrangement === 'over' ? 'laidOver' : 'beside', {
                  first: titles[0]!,
                  second: titles[1]!,
                  moment: comparison.isStretched ? handOverWords('allMomentsTheyShare') : comparison.lockedOn,
                })}
              </p>
              {isIn && lacksLock(comparison, lesson) && (
                <p className="note-box note-box-ask fine">
                  {handOverWords('lacksMoment', { lockedOn: comparison.lockedOn })}
                </p>
              )}
            </li>
          )
        })}
      </ul>
    </Part>
  )
}
