import { Star, VideoOff } from 'lucide-react'
import { useState } from 'react'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { Window } from '../parts/Window.tsx'
import { posterUrl } from '../store/bridge.ts'
import { changeDraft, closeComposerDialog, useComposer } from './composer-store.ts'
import { addViews, removeView } from './draft-edits.ts'
import { placedViews } from './view-words.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** Every picture of the lesson, to be taken in or out. */
export function AddSwings({ lesson }: { lesson: OpenLesson }) {
  const draft = useComposer((s) => s.draft)!
  const [onlyStarred, setOnlyStarred] = useState(false)
  const all = placedViews(lesson)
  const shown = onlyStarred ? all.filter((p) => p.swing.isStarred) : all
  const there = new Set(draft.swings.map((s) => s.viewId))
  return (
    <Window
      wide
      title={handOverWords('swingsInHandOver')}
      onClose={closeComposerDialog}
      foot={<Action tone="lead" label={commonWords('done')} onPress={closeComposerDialog} />}
    >
      {all.length === 0 ? (
        <p>{handOverWords('noClipsYet')}</p>
      ) : (
        <Check isOn={onlyStarred} onChange={setOnlyStarred}>
          {handOverWords('onlyStarredSwings')}
        </Check>
      )}
      {all.length > 0 && shown.length === 0 && <p className="soft">{handOverWords('noneStarred')}</p>}
      <ul className="pick-swings">
        {shown.map((p) => (
          <li key={p.view.id}>
            <div className="swing-card-picture">
              {p.clip ? (
                <img src={posterUrl(p.clip)} alt="" loading="lazy" />
              ) : (
                <VideoOff size={16} aria-label={handOverWords('noClip')} />
              )}
            </div>
            <Check
              isOn={there.has(p.view.id)}
              onChange={(isIn) =>
                changeDraft((d) => (isIn ? addViews(d, [p.view]) : removeView(d, p.view.id)))
              }
            >
              {p.title}
              {p.swing.isStarred && (
                <Star
                  size={12}
                  fill="currentColor"
                  className="composer-star"
                  aria-label={handOverWords('starred')}
                />
              )}
              <br />
              <span className="soft fine">{p.detail}</span>
            </Check>
          </li>
        ))}
      </ul>
    </Window>
  )
}
