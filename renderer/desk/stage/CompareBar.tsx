import { BookmarkPlus, Columns2, FlipHorizontal2, Layers2, X } from 'lucide-react'
import { Action, Toggle } from '../../parts/Action.tsx'
import { Check } from '../../parts/Check.tsx'
import { Choice } from '../../parts/Choice.tsx'
import { SliderField } from '../../parts/SliderField.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { SavedText } from '../../parts/SavedText.tsx'
import { edit, useDesk, type Compared } from '../../store/desk-store.ts'
import { sayNews } from '../../store/messages.ts'
import type { Anchor } from '../../../shared-core/timing/shared-moments.ts'
import { compareWords } from '../../../shared-core/wording/window/compare.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'

/** How two swings stand to each other on the Stage. */
export function CompareBar({ compared, anchors }: { compared: Compared; anchors: Anchor[] }) {
  const lessonId = useDesk((s) => s.lessonId)!
  const set = (patch: Partial<Compared>) => useDesk.setState({ compared: { ...compared, ...patch } })
  const isLocked = anchors.some((a) => a.name === compared.lockedOn)
  // What is kept is what is seen: the hand-over needs a moment that both have.
  const lockedOn = isLocked ? compared.lockedOn : (anchors[0]?.name ?? compared.lockedOn)
  const save = async (patch: Partial<Compared> = {}) => {
    const saved = await edit('comparison.save', { ...compared, ...patch, lockedOn, lessonId })
    if (!saved) return
    set({ ...patch, id: saved.id, lockedOn })
    if (!compared.id) sayNews(compareWords('isKept'))
  }
  return (
    <div className="tool-bar" role="toolbar" aria-label={compareWords('comparison')}>
      <Choice
        small
        label={compareWords('arrangement')}
        value={compared.arrangement}
        options={[
          { value: 'beside', label: compareWords('beside'), icon: <Columns2 size={16} /> },
          { value: 'over', label: compareWords('over'), icon: <Layers2 size={16} /> },
        ]}
        onChange={(arrangement) => set({ arrangement })}
      />
      {anchors.length > 0 ? (
        <Pick
          hideLabel
          label={compareWords('locked')}
          value={lockedOn}
          options={anchors.map((a) => ({
            value: a.name,
            label: compareWords('lockedOn', { moment: a.name }),
          }))}
          onChange={(lockedOn) => set({ lockedOn })}
        />
      ) : (
        <span className="fine stage-note">{compareWords('noMoment')}</span>
      )}
      {anchors.length > 1 && (
        <Check isOn={compared.isStretched} onChange={(isStretched) => set({ isStretched })}>
          <span className="fine">{compareWords('allMoments')}</span>
        </Check>
      )}
      <Toggle
        small
        tone="plain"
        icon={<FlipHorizontal2 size={16} />}
        label={compareWords('mirrorSecond')}
        isOn={compared.mirrorSecond}
        onChange={(mirrorSecond) => set({ mirrorSecond })}
      />
      {compared.arrangement === 'over' && (
        <SliderField
          label={compareWords('secondOverFirst')}
          value={compared.opacity}
          min={0}
          max={1}
          step={0.05}
          format={{ style: 'percent' }}
          onChange={(opacity) => set({ opacity })}
        />
      )}
      {compared.arrangement === 'over' && (
        <span className="fine stage-note">{compareWords('moveUpper')}</span>
      )}
      <span className="push" />
      {compared.id && (
        <div className="compare-name">
          <SavedText
            hideLabel
            label={compareWords('name')}
            placeholder={compareWords('nameIt')}
            value={compared.name}
            maxLength={200}
            onSave={(name) => void save({ name })}
          />
        </div>
      )}
      <Action
        small
        withLabel
        icon={<BookmarkPlus size={15} />}
        label={compared.id ? compareWords('keepChanges') : commonWords('keep')}
        onPress={() => void save()}
      />
      <Action
        small
        tone="plain"
        icon={<X size={16} />}
        label={compareWords('back')}
        onPress={() => useDesk.setState({ compared: null })}
      />
    </div>
  )
}
