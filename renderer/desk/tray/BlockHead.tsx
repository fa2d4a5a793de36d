import { Ellipsis } from 'lucide-react'
import { Button } from 'react-aria-components'
import type { Block } from '../../../shared-core/model/entities.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'

/** Name and focus of a block; `onEdit` is told where it was pressed. */
export function BlockHead(props: { block: Block; number: number; onEdit: (anchor: Element) => void }) {
  const { block, number, onEdit } = props
  const name = block.name || commonWords('blockNumbered', { number })
  return (
    <>
      <span className="block-name" title={name}>
        {name}
      </span>
      {block.isBaseline && !/baseline/i.test(name) && <span className="badge">{trayWords('baseline')}</span>}
      {block.focus && block.focus !== name && (
        <span className="block-focus soft fine" title={block.focus}>
          {block.focus}
        </span>
      )}
      <span className="push" />
      <Button
        className="button button-plain button-icon button-small"
        aria-label={trayWords('edit', { block: name })}
        aria-haspopup="dialog"
        onPress={(event) => onEdit(event.target)}
      >
        <Ellipsis size={15} />
      </Button>
    </>
  )
}
