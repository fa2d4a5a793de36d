import { Ellipsis } from 'lucide-react'
import { useState } from 'react'
import { Button, Dialog, DialogTrigger, Popover } from 'react-aria-components'
import type { Block } from '../../../shared-core/model/entities.ts'
import { Action } from '../../parts/Action.tsx'
import { Check } from '../../parts/Check.tsx'
import { SavedText } from '../../parts/SavedText.tsx'
import { edit } from '../../store/desk-store.ts'

/** Name and focus of a block; changed in place. */
export function BlockHead({ block, number }: { block: Block; number: number }) {
  const [isOpen, setOpen] = useState(false)
  const name = block.name || `Block ${number}`
  const update = (patch: Partial<Pick<Block, 'name' | 'focus' | 'note' | 'isBaseline'>>) =>
    void edit('block.update', { id: block.id, patch })
  return (
    <>
      <span className="block-name">{name}</span>
      {block.isBaseline && !/baseline/i.test(name) && <span className="badge">baseline</span>}
      {block.focus && block.focus !== name && <span className="block-focus soft fine">{block.focus}</span>}
      <span className="push" />
      <DialogTrigger isOpen={isOpen} onOpenChange={setOpen}>
        <Button className="button button-plain button-icon button-small" aria-label={`Edit ${name}`}>
          <Ellipsis size={15} />
        </Button>
        <Popover className="popover">
          <Dialog className="column block-form" aria-label={`Edit ${name}`}>
            <SavedText
              label="Name"
              value={block.name}
              placeholder={`Block ${number}`}
              onSave={(n) => update({ name: n })}
            />
            <SavedText
              label="Focus: what was changed"
              value={block.focus}
              onSave={(focus) => update({ focus })}
            />
            <SavedText
              lines={2}
              label="Notes on this block"
              value={block.note}
              onSave={(note) => update({ note })}
            />
            <Check isOn={block.isBaseline} onChange={(isBaseline) => update({ isBaseline })}>
              baseline: hit as the student came
            </Check>
            {number > 1 && (
              <Action
                small
                label="Join to the block before"
                onPress={() => {
                  setOpen(false)
                  void edit('block.join', { id: block.id })
                }}
              />
            )}
          </Dialog>
        </Popover>
      </DialogTrigger>
    </>
  )
}
