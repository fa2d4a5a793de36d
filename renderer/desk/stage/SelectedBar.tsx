import { ArrowDownToLine, ArrowUpToLine, Copy, CopyPlus, Eye, EyeOff, Scaling, Trash2 } from 'lucide-react'
import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import { isCover } from '../../../shared-core/drawing/drawing.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import type { View } from '../../../shared-core/model/entities.ts'
import { drawingWords } from '../../../shared-core/wording/window/drawing.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { Action, Hinted } from '../../parts/Action.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { SavedText } from '../../parts/SavedText.tsx'
import { openDialog } from '../../store/app-store.ts'
import { useDesk } from '../../store/desk-store.ts'
import {
  changeOrder,
  changeShape,
  copyToOtherView,
  drawingsOf,
  removeSelectedDrawings,
  setMoment,
  setRange,
  toggleHidden,
} from '../../store/drawings.ts'
import { MovesWith } from './MovingTools.tsx'
import { pictureOptions } from './picture-words.ts'

/** For what is selected: words, place in time, order, copy, hide, delete. */
export function SelectedBar({ view }: { view: View }) {
  const selectedIds = useDesk((s) => s.selectedDrawingIds)
  const frame = useDesk((s) => s.frame)
  const lesson = useDesk((s) => s.opened)
  const { drawings, unreadable } = drawingsOf(view)
  const [first] = drawings.filter((d) => selectedIds.has(d.id))
  if (!first) {
    return unreadable > 0 ? (
      <span className="fine soft">{drawingWords('newerDrawings', { count: unreadable })}</span>
    ) : null
  }
  const moments = [...view.moments].sort((a, b) => a.frame - b.frame)
  const others = lesson ? pictureOptions(lesson).filter((o) => o.value !== view.id) : []
  const words =
    first.shape.kind === 'text' ? (first.shape as unknown as { text: string }).text : first.shape.label
  const isRange = first.momentId === null && first.fromFrame !== first.toFrame
  const isOneFrame = first.momentId === null && !isRange
  const isWay = first.tie?.to.kind === 'way'
  // A cover holds for the clip, whatever is made of it later; other shapes for the swing.
  const hidesFaces = isCover(first.shape)
  const clip = lesson?.clips.find((c) => c.id === view.clipId)
  const whole: [number, number] =
    hidesFaces && clip ? [0, clip.frameCount - 1] : [view.fromFrame, view.toFrame]
  const isWhole = isRange && first.fromFrame === whole[0] && first.toFrame === whole[1]
  const saveWords = (text: string) =>
    void changeShape(view.id, first.id, {
      ...first.shape,
      ...(first.shape.kind === 'text' ? { text: text || ' ' } : { label: text }),
    } as typeof first.shape)
  return (
    <div className="selected-bar" role="group" aria-label={drawingWords('selected')}>
      <SavedText
        key={first.id}
        hideLabel
        label={first.shape.kind === 'text' ? drawingWords('text') : drawingWords('words')}
        placeholder={first.shape.kind === 'text' ? drawingWords('text') : drawingWords('wordsHint')}
        value={words}
        maxLength={200}
        onSave={saveWords}
      />
      <Pick
        hideLabel
        label={drawingWords('shownOn')}
        value={first.momentId ?? (isWhole ? 'all' : isRange ? 'range' : 'frame')}
        options={[
          ...moments.map((m) => ({ value: m.id, label: drawingWords('onMoment', { moment: m.name }) })),
          ...(isRange && !isWhole
            ? [
                {
                  value: 'range',
                  label: drawingWords('frames', { from: first.fromFrame, to: first.toFrame }),
                },
              ]
            : []),
          {
            value: 'frame',
            label: isOneFrame
              ? commonWords('frame', { frame: first.fromFrame })
              : drawingWords('thisFrameOnly'),
          },
          { value: 'from', label: drawingWords('fromFrame') },
          { value: 'to', label: drawingWords('upToFrame') },
          { value: 'all', label: hidesFaces ? drawingWords('wholeClip') : drawingWords('wholeSwing') },
        ]}
        onChange={(value) => {
          const moment = moments.find((m) => m.id === value)
          if (moment) void setMoment(first.id, moment)
          else if (value === 'frame') void setRange(first.id, frame, frame)
          else if (value === 'all') void setRange(first.id, ...whole)
          else if (value === 'from') void setRange(first.id, frame, Math.max(frame, first.toFrame))
          else if (value === 'to') void setRange(first.id, Math.min(frame, first.fromFrame), frame)
        }}
      />
      <MovesWith view={view} drawing={first} />
      <Action
        small
        tone="plain"
        icon={<ArrowUpToLine size={16} />}
        label={drawingWords('toFront')}
        keys={keysOf('raise')}
        onPress={() => void changeOrder('front')}
      />
      <Action
        small
        tone="plain"
        icon={<ArrowDownToLine size={16} />}
        label={drawingWords('toBack')}
        keys={keysOf('lower')}
        onPress={() => void changeOrder('back')}
      />
      {!isWay && (
        <Action
          small
          tone="plain"
          icon={<Copy size={16} />}
          label={drawingWords('copyNext')}
          keys={keysOf('copy')}
          onPress={() => void copyToOtherView()}
        />
      )}
      {!isWay && (
        <MenuTrigger>
          <Hinted label={drawingWords('copyOther')}>
            <Button
              className="button button-plain button-small button-icon"
              aria-label={drawingWords('copyOther')}
            >
              <CopyPlus size={16} />
            </Button>
          </Hinted>
          <Popover className="popover">
            <Menu
              aria-label={drawingWords('copyTo')}
              onAction={(viewId) => void copyToOtherView(String(viewId))}
            >
              {others.map((o) => (
                <MenuItem key={o.value} id={o.value} className="menu-item" textValue={o.label}>
                  {o.label}
                </MenuItem>
              ))}
            </Menu>
          </Popover>
        </MenuTrigger>
      )}
      {first.shape.kind === 'ruler' && (
        <Action
          small
          tone="plain"
          icon={<Scaling size={16} />}
          label={drawingWords('useAsScale')}
          onPress={() => {
            const { from, to } = first.shape as unknown as { from: Point; to: Point }
            openDialog({
              name: 'scale',
              viewId: view.id,
              lengthPx: Math.hypot(from.x - to.x, from.y - to.y),
            })
          }}
        />
      )}
      <Action
        small
        tone="plain"
        icon={first.isHidden ? <Eye size={16} /> : <EyeOff size={16} />}
        label={first.isHidden ? drawingWords('show') : drawingWords('hide')}
        keys={keysOf('hide')}
        onPress={() => void toggleHidden()}
      />
      <Action
        small
        tone="plain"
        icon={<Trash2 size={16} />}
        label={drawingWords('remove')}
        keys={keysOf('remove')}
        onPress={() => void removeSelectedDrawings()}
      />
    </div>
  )
}
