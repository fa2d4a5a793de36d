import { GripVertical, Plus, Star, VideoOff, X } from 'lucide-react'
import { Button } from 'react-aria-components'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { Action, Toggle } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { posterUrl } from '../store/bridge.ts'
import { momentTitle } from '../store/moments.ts'
import { changeDraft, openComposerDialog, useComposer } from './composer-store.ts'
import {
  addViews,
  changeSwing,
  moved,
  removeView,
  starredNotIn,
  toggleMoment,
  type DraftSwing,
} from './draft-edits.ts'
import { MoveButtons } from './MoveButtons.tsx'
import { Part } from './Part.tsx'
import { useRowDrag, useRowsDrag } from './use-row-drag.ts'
import { byFrame, placedViews, type PlacedView } from './view-words.ts'
import { Words } from './Words.tsx'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

const move = (from: number, to: number) =>
  changeDraft((draft) => ({ ...draft, swings: moved(draft.swings, from, to) }))

/** The swings that go in, each with its caption, its moments, and whether its clip goes along. */
export function SwingsPart({ lesson }: { lesson: OpenLesson }) {
  const draft = useComposer((s) => s.draft)!
  const drag = useRowsDrag(move)
  const views = new Map(placedViews(lesson).map((p) => [p.view.id, p]))
  const offered = starredNotIn(draft, lesson.swings)
  return (
    <Part
      id="swings"
      title={handOverWords('swings')}
      side={
        <Action
          small
          withLabel
          icon={<Plus size={15} />}
          label={handOverWords('addOrRemoveSwings')}
          onPress={() => openComposerDialog({ name: 'add-swings' })}
        />
      }
    >
      {offered.length > 0 && (
        <div className="note-box row row-wrap">
          <Star size={15} fill="currentColor" className="composer-star" aria-hidden />
          <span>{handOverWords('starredNotIn', { swings: offered.length })}</span>
          <Action
            small
            label={handOverWords('takeStarredIn', { swings: offered.length })}
            onPress={() =>
              changeDraft((d) =>
                addViews(
                  d,
                  offered.flatMap((s) => s.views),
                ),
              )
            }
          />
        </div>
      )}
      {draft.swings.length === 0 && <p className="soft">{handOverWords('noSwingYet')}</p>}
      <ol className="composer-list" aria-label={handOverWords('swingsInHandOver')}>
        {draft.swings.map((entry, index) => (
          <SwingEntry
            key={entry.viewId}
            entry={entry}
            placed={views.get(entry.viewId) ?? null}
            index={index}
            count={draft.swings.length}
            drag={drag}
          />
        ))}
      </ol>
    </Part>
  )
}

function SwingEntry(props: {
  entry: DraftSwing
  placed: PlacedView | null
  index: number
  count: number
  drag: ReturnType<typeof useRowsDrag>
}) {
  const { entry, placed, index, count } = props
  const { row, grip, button } = useRowDrag(index, props.drag)
  const remove = () => changeDraft((d) => removeView(d, entry.viewId))
  if (!placed) {
    return (
      <li className="composer-card swing-card" {...row}>
        <div className="row note-box note-box-ask">
          <span>{handOverWords('swingGone')}</span>
          <span className="push" />
          <Action small label={handOverWords('takeItOut')} onPress={remove} />
        </div>
      </li>
    )
  }
  const what = placed.detail ? `${placed.title}, ${placed.detail}` : placed.title
  const moments = byFrame(placed.view.moments)
  return (
    <li className="composer-card swing-card" {...row}>
      <div className="swing-card-side">
        <span className="grip" title={handOverWords('drag')} {...grip}>
          <Button className="grip-button" aria-label={handOverWords('move', { what })} {...button}>
            <GripVertical size={16} aria-hidden />
          </Button>
        </span>
        <div className="swing-card-picture">
          {placed.clip ? (
            <img src={posterUrl(placed.clip)} alt="" loading="lazy" draggable={false} />
          ) : (
            <VideoOff size={16} aria-label={handOverWords('noClip')} />
          )}
        </div>
      </div>
      <div className="swing-card-main">
        <div className="row swing-card-head">
          <h3>{placed.title}</h3>
          {placed.swing.isStarred && (
            <Star
              size={13}
              fill="currentColor"
              className="composer-star"
              aria-label={handOverWords('starred')}
            />
          )}
          <span className="soft fine swing-card-detail">{placed.detail}</span>
          <span className="push" />
          <span className="row tight">
            <MoveButtons what={what} index={index} count={count} onMove={(to) => move(index, to)} />
            <Action
              small
              tone="plain"
              icon={<X size={15} />}
              label={handOverWords('takeSwingOut', { what })}
              onPress={remove}
            />
          </span>
        </div>
        <Words
          hideLabel
          lines={1}
          label={handOverWords('captionOf', { what })}
          placeholder={handOverWords('captionHint')}
          maxLength={2000}
          value={entry.caption}
          onChange={(caption) => changeDraft((d) => changeSwing(d, entry.viewId, { caption }))}
        />
        {moments.length > 0 ? (
          <div
            className="row row-wrap moment-chips"
            role="group"
            aria-label={handOverWords('momentsShown', { what })}
          >
            {moments.map((moment) => (
              <Toggle
                key={moment.id}
                small
                label={momentTitle(moment.name)}
                isOn={entry.momentIds.includes(moment.id)}
                onChange={() => changeDraft((d) => toggleMoment(d, placed.view, moment.id))}
              />
            ))}
          </div>
        ) : (
          <span className="soft fine">{handOverWords('noMoments')}</span>
        )}
        {placed.clip?.stillKind == null && (
          <Check
            isOn={entry.withClip}
            onChange={(withClip) => changeDraft((d) => changeSwing(d, entry.viewId, { withClip }))}
          >
            {handOverWords('slowMotionClip')}
            <span className="unseen"> {handOverWords('ofSwing', { what })}</span>
            <span className="soft fine">
              {entry.withClip && entry.momentIds.length > 0
                ? handOverWords('holdsOnMoments')
                : entry.withClip
                  ? ''
                  : handOverWords('leftOutStillsOnly')}
            </span>
          </Check>
        )}
      </div>
    </li>
  )
}
