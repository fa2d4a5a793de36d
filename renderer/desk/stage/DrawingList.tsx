import { Eye, EyeOff, ListOrdered } from 'lucide-react'
import { Button, Dialog, DialogTrigger, Popover } from 'react-aria-components'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import type { View } from '../../../shared-core/model/entities.ts'
import { drawingWords } from '../../../shared-core/wording/window/drawing.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { Action, Hinted, Toggle } from '../../parts/Action.tsx'
import { edit, useDesk } from '../../store/desk-store.ts'
import { drawingsOf } from '../../store/drawings.ts'
import { showFrame } from '../../store/stage-control.ts'

/** Every drawing of the swing, the hidden ones too: to go to it and select it, to show or hide it. */
export function DrawingList({ view }: { view: View }) {
  const { drawings } = drawingsOf(view)
  const selectedIds = useDesk((s) => s.selectedDrawingIds)
  const inOrder = [...drawings].sort((a, b) => a.fromFrame - b.fromFrame || a.order - b.order)
  const whereOf = (d: (typeof drawings)[number]) =>
    view.moments.find((m) => m.id === d.momentId)?.name ??
    (d.fromFrame === d.toFrame
      ? commonWords('frame', { frame: d.fromFrame })
      : drawingWords('frames', { from: d.fromFrame, to: d.toFrame }))
  return (
    <DialogTrigger>
      <Hinted label={drawingWords('drawings')}>
        <Button
          className="button button-plain button-small button-icon"
          aria-label={drawingWords('drawings')}
        >
          <ListOrdered size={17} />
        </Button>
      </Hinted>
      <Popover className="popover">
        <Dialog className="column block-form drawing-list" aria-label={drawingWords('drawings')}>
          {inOrder.map((d) => {
            const name = [shapes[d.shape.kind].name, d.shape.label && `“${d.shape.label}”`, whereOf(d)]
              .filter(Boolean)
              .join(' · ')
            return (
              <div key={d.id} className="row">
                <Toggle
                  small
                  tone="plain"
                  label={name}
                  isOn={selectedIds.has(d.id)}
                  onChange={() => {
                    useDesk.setState({ selectedDrawingIds: new Set([d.id]), tool: { name: 'look' } })
                    showFrame(d.fromFrame)
                  }}
                />
                <span className="push" />
                <Action
                  small
                  tone="plain"
                  icon={d.isHidden ? <EyeOff size={16} /> : <Eye size={16} />}
                  label={drawingWords(d.isHidden ? 'showThis' : 'hideThis', { drawing: name })}
                  onPress={() => void edit('drawing.update', { id: d.id, patch: { isHidden: !d.isHidden } })}
                />
              </div>
            )
          })}
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}
