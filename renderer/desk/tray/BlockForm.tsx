import type { Block } from '../../../shared-core/model/entities.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
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
        label={commonWords('name')}
        value={block.name}
        placeholder={commonWords('blockNumbered', { number })}
        onSave={(name) => update({ name })}
      />
      <FocusField block={block} />
      <NoteField
        label={trayWords('notes')}
        value={block.note}
        onSave={(note, noteBefore) =>
          void edit('block.update', { id: block.id, patch: { note }, noteBefore })
        }
      />
      <Check isOn={block.isBaseline} onChange={(isBaseline) => update({ isBaseline })}>
        {trayWords('isBaseline')}
      </Check>
      {number > 1 && (
        <Action
          small
          label={trayWords('joinBlock')}
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
