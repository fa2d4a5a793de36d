import type { Block } from '../../../shared-core/model/entities.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { Action } from '../../parts/Action.tsx'
import { Check } from '../../parts/Check.tsx'
import { NoteField } from '../../parts/NoteField.tsx'
import { SavedText } from '../../parts/SavedText.tsx'
import { edit } from '../../store/desk-store.ts'
import { FocusField } from './FocusField.tsx'

/** Everything the coach can say of a block, changed in place. */
export function BlockForm(props: { block: Block; number: number; onJoin?: () => void }) {
  const { block, number, onJoin } = props
  const update = (patch: Partial<Pick<Block, 'name' | 'isBaseline'>>) =>
    void edit('block.update', { id: block.id, patch })
  return (
    <>
      <SavedText
        label="Name"
        value={block.name}
        placeholder={`Block ${number}`}
        onSave={(name) => update({ name })}
      />
      <FocusField block={block} />
      <NoteField
        label="Notes on this block"
        value={block.note}
        onSave={(note, noteBefore) =>
          void edit('block.update', { id: block.id, patch: { note }, noteBefore })
        }
      />
      <Check isOn={block.isBaseline} onChange={(isBaseline) => update({ isBaseline })}>
        baseline: hit as the student came
      </Check>
      {number > 1 && (
        <Action
          small
          label="Join to the block before"
          keys={keysOf('join-block')}
          onPress={() => {
            onJoin?.()
            void edit('block.join', { id: block.id })
          }}
        />
      )}
    </>
  )
}
