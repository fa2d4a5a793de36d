import { FilePlus2, ListFilter, Star, Table2 } from 'lucide-react'
import { useMemo } from 'react'
import {
  Button,
  Dialog,
  DialogTrigger,
  GridList,
  GridListHeader,
  GridListItem,
  GridListSection,
  isTextDropItem,
  ListLayout,
  Popover,
  useDragAndDrop,
  Virtualizer,
} from 'react-aria-components'
import { clubWords } from '../../../shared-core/model/club.ts'
import type { Block, LessonView, Swing } from '../../../shared-core/model/entities.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { Action } from '../../parts/Action.tsx'
import { Check } from '../../parts/Check.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { addClipsByDialog, addShotsByDialog } from '../../store/adding.ts'
import { activateSwing, filteredSwings, noFilter, swingsInOrder, useDesk } from '../../store/desk-store.ts'
import { toggleStars } from '../../store/swings.ts'
import { BlockHead } from './BlockHead.tsx'
import { Jobs } from './Jobs.tsx'
import { pairDropped } from './pairing.ts'
import { SwingRow } from './SwingRow.tsx'
import './tray.css'

interface BlockOfSwings {
  id: string
  block: Block
  number: number
  swings: { swing: Swing; number: number }[]
}

const blocksOf = (view: LessonView, shown: Swing[]): BlockOfSwings[] => {
  const number = new Map(swingsInOrder(view).map((swing, i) => [swing.id, i + 1]))
  return [...view.blocks]
    .sort((a, b) => a.order - b.order)
    .map((block, i) => ({
      id: block.id,
      block,
      number: i + 1,
      swings: shown
        .filter((s) => s.blockId === block.id)
        .map((swing) => ({ swing, number: number.get(swing.id)! })),
    }))
    .filter((b) => b.swings.length > 0)
}

/** Every swing in order, by block. */
export function Tray() {
  const view = useDesk((s) => s.view)!
  const filter = useDesk((s) => s.filter)
  const selectedIds = useDesk((s) => s.selectedIds)
  const activeSwingId = useDesk((s) => s.activeSwingId)
  const lessonId = view.lesson.id
  const shown = useMemo(() => filteredSwings(view, filter), [view, filter])
  const blocks = useMemo(() => blocksOf(view, shown), [view, shown])

  const { dragAndDropHooks } = useDragAndDrop({
    getItems: (keys) =>
      [...keys].map((key) => ({ 'leadside-swing': String(key), 'text/plain': String(key) })),
    acceptedDragTypes: ['leadside-swing'],
    getDropOperation: (target) =>
      target.type === 'item' && target.dropPosition === 'on' ? 'link' : 'cancel',
    onItemDrop: (event) => {
      void (async () => {
        const [item] = event.items.filter(isTextDropItem)
        if (item) await pairDropped(await item.getText('leadside-swing'), String(event.target.key))
      })()
    },
  })

  const isEmpty = view.swings.length === 0
  return (
    <aside className="tray" aria-label="Tray">
      <div className="tray-head">
        <h2>Tray</h2>
        <span className="soft fine">
          {shown.length === view.swings.length ? shown.length : `${shown.length} of ${view.swings.length}`}
        </span>
        <span className="push" />
        {!isEmpty && <FilterButton />}
        <Action
          small
          tone="plain"
          icon={<FilePlus2 size={16} />}
          label="Add clips"
          keys={keysOf('add-clips')}
          onPress={() => void addClipsByDialog(lessonId)}
        />
        <Action
          small
          tone="plain"
          icon={<Table2 size={16} />}
          label="Add shot records"
          keys={keysOf('add-shots')}
          onPress={() => void addShotsByDialog(lessonId)}
        />
      </div>
      <Jobs lessonId={lessonId} />
      {isEmpty ? (
        <div className="empty">
          <h3>No swings yet</h3>
          <p className="soft">
            Drop the lesson’s clips and the file of shot records anywhere here, or choose them. They are
            paired by their clocks.
          </p>
          <Action
            withLabel
            tone="lead"
            icon={<FilePlus2 size={16} />}
            label="Add clips…"
            onPress={() => void addClipsByDialog(lessonId)}
          />
          <Action
            withLabel
            icon={<Table2 size={16} />}
            label="Add shot records…"
            onPress={() => void addShotsByDialog(lessonId)}
          />
        </div>
      ) : (
        <Virtualizer layout={ListLayout} layoutOptions={{ rowHeight: 64, headingHeight: 40 }}>
          <GridList
            className="tray-list"
            aria-label="Swings"
            items={blocks}
            selectionMode="multiple"
            selectionBehavior="replace"
            selectedKeys={selectedIds}
            onSelectionChange={(keys) => {
              const ids = keys === 'all' ? shown.map((s) => s.id) : [...keys].map(String)
              useDesk.setState({ selectedIds: new Set(ids) })
              if (ids.length === 1) activateSwing(ids[0]!)
              useDesk.setState({ selectedIds: new Set(ids) })
            }}
            dragAndDropHooks={dragAndDropHooks}
            dependencies={[view, activeSwingId]}
            renderEmptyState={() => (
              <div className="empty">
                <p className="soft">No swing passes the filter.</p>
                <Action small label="Show all" onPress={() => useDesk.setState({ filter: noFilter })} />
              </div>
            )}
          >
            {(b) => (
              <GridListSection id={`block-${b.id}`} aria-label={b.block.name || `Block ${b.number}`}>
                <GridListHeader className="block-header">
                  <BlockHead block={b.block} number={b.number} />
                </GridListHeader>
                {b.swings.map(({ swing, number }) => (
                  <GridListItem
                    key={swing.id}
                    id={swing.id}
                    className={`swing-item${swing.id === activeSwingId ? ' is-active' : ''}`}
                    textValue={`Swing ${number}`}
                  >
                    <SwingRow view={view} swing={swing} number={number} />
                  </GridListItem>
                ))}
              </GridListSection>
            )}
          </GridList>
        </Virtualizer>
      )}
      {selectedIds.size > 1 && (
        <div className="tray-foot">
          <span className="fine">{selectedIds.size} selected</span>
          <span className="push" />
          <Action
            small
            withLabel
            icon={<Star size={14} />}
            label="Star"
            keys={keysOf('star')}
            onPress={() => void toggleStars()}
          />
        </div>
      )}
    </aside>
  )
}

function FilterButton() {
  const view = useDesk((s) => s.view)!
  const filter = useDesk((s) => s.filter)
  const kinds = useDesk((s) => s.cueKinds)
  const clubs = [...new Set(view.shots.flatMap((s) => (s.club ? [s.club] : [])))]
  const used = new Set(view.swings.flatMap((s) => s.views.flatMap((v) => v.cues.map((c) => c.kind))))
  const isOn = JSON.stringify(filter) !== JSON.stringify(noFilter)
  const set = (patch: Partial<typeof filter>) => useDesk.setState({ filter: { ...filter, ...patch } })
  const all = { value: 'all', label: 'all' }
  return (
    <DialogTrigger>
      <Button
        className={`button button-plain button-small button-icon${isOn ? ' is-on' : ''}`}
        aria-label={isOn ? 'Filter (in use)' : 'Filter'}
      >
        <ListFilter size={16} />
      </Button>
      <Popover className="popover">
        <Dialog className="column filter" aria-label="Filter">
          <Pick
            label="Block"
            value={filter.blockId ?? 'all'}
            options={[
              all,
              ...[...view.blocks]
                .sort((a, b) => a.order - b.order)
                .map((b, i) => ({ value: b.id, label: b.name || `Block ${i + 1}` })),
            ]}
            onChange={(value) => set({ blockId: value === 'all' ? null : value })}
          />
          <Pick
            label="Club"
            value={filter.club ?? 'all'}
            options={[all, ...clubs.map((club) => ({ value: club, label: clubWords(club) }))]}
            onChange={(value) => set({ club: value === 'all' ? null : value })}
          />
          <Pick
            label="Cue"
            value={filter.cueKind ?? 'all'}
            options={[
              all,
              ...kinds.filter((k) => used.has(k.key)).map((k) => ({ value: k.key, label: k.label })),
            ]}
            onChange={(value) => set({ cueKind: value === 'all' ? null : value })}
          />
          <Check isOn={filter.onlyStarred} onChange={(onlyStarred) => set({ onlyStarred })}>
            only starred
          </Check>
          <Check isOn={filter.onlyUnpaired} onChange={(onlyUnpaired) => set({ onlyUnpaired })}>
            only without clip or shot
          </Check>
          <Action
            small
            label="Show all"
            isDisabled={!isOn}
            onPress={() => useDesk.setState({ filter: noFilter })}
          />
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}
