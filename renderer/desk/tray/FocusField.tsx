import { ChevronDown } from 'lucide-react'
import { Button, ComboBox, Input, Label, ListBox, ListBoxItem, Popover } from 'react-aria-components'
import type { Block } from '../../../shared-core/model/entities.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'
import { useSavedText } from '../../parts/SavedText.tsx'
import { edit, useDesk } from '../../store/desk-store.ts'

/** What a block was about: a cue from the list, or the coach's own words. */
export function FocusField({ block }: { block: Block }) {
  const kinds = useDesk((s) => s.cueKinds)
  const { text, change, leave } = useSavedText(
    block.focus,
    (focus) => void edit('block.update', { id: block.id, patch: { focus } }),
  )
  return (
    <ComboBox
      className="field focus-field"
      allowsCustomValue
      menuTrigger="manual"
      inputValue={text}
      onInputChange={change}
      onBlur={leave}
      items={kinds}
    >
      <Label>{trayWords('focus')}</Label>
      <div className="focus-field-line">
        <Input className="input" />
        <Button className="button button-icon" aria-label={trayWords('cues')}>
          <ChevronDown size={14} />
        </Button>
      </div>
      <Popover className="popover">
        <ListBox<(typeof kinds)[number]>>
          {(kind) => (
            <ListBoxItem className="option" id={kind.key} textValue={kind.label}>
              {kind.label}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  )
}
