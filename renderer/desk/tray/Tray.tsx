import { FilePlus2, ListFilter, Table2 } from 'lucide-react'
import { useDeferredValue, useMemo, useState } from 'react'
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
import type { Block, OpenLesson, Swing } from '../../../shared-core/model/entities.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { Action } from '../../parts/Action.tsx'
import { Check } from '../../parts/Check.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { addClipsByDialog, addShotsByDialog } from '../../store/adding.ts'
import {
  activateSwing,
  filteredSwings,
  noFilter,
  stillsInOrder,
  swingsInOrder,
  useDesk,
} from '../../store/desk-store.ts'
import { removeSwings } from '../../store/swings.ts'
import { BlockForm } from './BlockForm.tsx'
import { BlockHead } from './BlockHead.tsx'
import { Jobs } from './Jobs.tsx'
import { LiveLine } from './LiveLine.tsx'
import { pairDropped } from './pairing.ts'
import { SwingRow } from './SwingRow.tsx'
import { TrayColumns } from './TrayColumns.tsx'
import { TrayFoot } from './TrayFoot.tsx'
import './tray.css'

interface BlockOfSwings {
  id: string
  /** Null for the still pictures. */
  block: Block | null
  number: number
  swings: { swing: Swing; number: number | null }[]
}

const blocksOf = (opened: OpenLesson, shown: Swing[]): BlockOfSwings[] => {
  const number = new Map(swingsInOrder(opened).map((swing, i) => [swing.id, i + 1]))
  return [...opened.blocks]
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

/** Behind the blocks, the pictures that stand alone; a filter is about swings. */
const withStills = (opened: OpenLesson, blocks: BlockOfSwings[], isFiltered: boolean): BlockOfSwings[] => {
  const stills = isFiltered ? [] : stillsInOrder(opened).map((swing) => ({ swing, number: null }))
  return stills.length > 0 ? [...blocks, { id: 'stills', block: null, number: 0, swings: stills }] : blocks
}

/** Every swing in order, by block. */
export function Tray() {
  const opened = useDesk((s) => s.opened)!
  const filter = useDesk((s) => s.filter)
  const selectedIds = useDesk((s) => s.selectedIds)
  const activeSwingId = useDeferredValue(useDesk((s) => s.activeSwingId))
  const lessonId = opened.lesson.id
  const shown = useMemo(() => filteredSwings(opened, filter), [opened, filter])
  const isFiltered = filter !== noFilter && JSON.stringify(filter) !== JSON.stringify(noFilter)
  const blocks = useMemo(
    () => withStills(opened, blocksOf(opened, shown), isFiltered),
    [opened, shown, isFiltered],
  )

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

  const isEmpty = opened.swings.length === 0
  const swingCount = useMemo(() => swingsInOrder(opened).length, [opened])
  const [editing, setEditing] = useState<{ blockId: string; anchor: Element } | null>(null)
  const edited = blocks.find((b) => b.id === editing?.blockId)
  return (
    <aside
      className="tray"
      aria-label={commonWords('tray')}
      onKeyDownCapture={(event) => {
        const isRow = event.target instanceof Element && event.target.closest('[role=row]')
        if (isRow && /^(Delete|Backspace)$/.test(event.key)) void removeSwings()
      }}
    >
      <div className="tray-head">
        <h2>{commonWords('tray')}</h2>
        <span className="soft fine">
          {shown.length === swingCount
            ? shown.length
            : commonWords('countOf', { count: shown.length, all: swingCount })}
        </span>
        <span className="push" />
        {!isEmpty && <FilterButton />}
        <Action
          small
          tone="plain"
          icon={<FilePlus2 size={16} />}
          label={trayWords('addClips')}
          keys={keysOf('add-clips')}
          onPress={() => void addClipsByDialog(lessonId)}
        />
        <Action
          small
          tone="plain"
          icon={<Table2 size={16} />}
          label={trayWords('addShots')}
          keys={keysOf('add-shots')}
          onPress={() => void addShotsByDialog(lessonId)}
        />
      </div>
      <LiveLine opened={opened} />
      <Jobs lessonId={lessonId} />
      {isEmpty ? (
        <div className="empty">
          <h3>{trayWords('empty')}</h3>
          <p className="soft">{trayWords('emptyHow')}</p>
          <Action
            withLabel
            tone="lead"
            icon={<FilePlus2 size={16} />}
            label={trayWords('chooseClips')}
            onPress={() => void addClipsByDialog(lessonId)}
          />
          <Action
            withLabel
            icon={<Table2 size={16} />}
            label={trayWords('chooseShots')}
            onPress={() => void addShotsByDialog(lessonId)}
          />
        </div>
      ) : (
        <>
          <TrayColumns units={opened.student.units} />
          <Virtualizer layout={ListLayout} layoutOptions={{ rowHeight: 64, headingHeight: 40 }}>
            <GridList
              className="tray-list"
              aria-label={trayWords('swings')}
              items={blocks}
              selectionMode="multiple"
              selectionBehavior="replace"
              // A click on the one selected row, too, is where Shift extends from.
              {...{ allowDuplicateSelectionEvents: true }}
              selectedKeys={selectedIds}
              onSelectionChange={(keys) => {
                // Kept as given: it remembers from where Shift extends the selection.
                const chosen =
                  keys === 'all'
                    ? new Set(blocks.flatMap((b) => b.swings.map((s) => s.swing.id)))
                    : (keys as Set<string>)
                const [only] = chosen
                if (chosen.size === 1 && only) activateSwing(only)
                useDesk.setState({ selectedIds: chosen })
              }}
              dragAndDropHooks={dragAndDropHooks}
              dependencies={[opened, activeSwingId]}
              renderEmptyState={() => (
                <div className="empty">
                  <p className="soft">{trayWords('noneShown')}</p>
                  <Action
                    small
                    label={trayWords('showAll')}
                    onPress={() => useDesk.setState({ filter: noFilter })}
                  />
                </div>
              )}
            >
              {(b) => (
                <GridListSection
                  id={`block-${b.id}`}
                  aria-label={
                    b.block
                      ? b.block.name || commonWords('blockNumbered', { number: b.number })
                      : trayWords('pictures')
                  }
                >
                  <GridListHeader className="block-header">
                    {b.block ? (
                      <BlockHead
                        block={b.block}
                        number={b.number}
                        onEdit={(anchor) => setEditing({ blockId: b.id, anchor })}
                      />
                    ) : (
                      <span className="block-name">{trayWords('pictures')}</span>
                    )}
                  </GridListHeader>
                  {b.swings.map(({ swing, number }) => (
                    <GridListItem
                      key={swing.id}
                      id={swing.id}
                      className={`swing-item${swing.id === activeSwingId ? ' is-active' : ''}`}
                      textValue={
                        number === null
                          ? trayWords('pictureNumbered', { number: swing.order })
                          : commonWords('swingNumbered', { number })
                      }
                    >
                      <SwingRow opened={opened} swing={swing} number={number} />
                    </GridListItem>
                  ))}
                </GridListSection>
              )}
            </GridList>
          </Virtualizer>
        </>
      )}
      {edited?.block && editing && (
        // Outside the list: a list inside a row of a list would be taken for a part of it.
        <Popover
          className="popover"
          isOpen
          onOpenChange={(isOpen) => !isOpen && setEditing(null)}
          triggerRef={{ current: editing.anchor }}
        >
          <Dialog
            className="column block-form"
            aria-label={trayWords('edit', {
              block: edited.block.name || commonWords('blockNumbered', { number: edited.number }),
            })}
          >
            <BlockForm block={edited.block} number={edited.number} onJoin={() => setEditing(null)} />
          </Dialog>
        </Popover>
      )}
      {!isEmpty && <TrayFoot opened={opened} />}
    </aside>
  )
}

function FilterButton() {
  const opened = useDesk((s) => s.opened)!
  const filter = useDesk((s) => s.filter)
  const kinds = useDesk((s) => s.cueKinds)
  const clubs = [...new Set(opened.shots.flatMap((s) => (s.club ? [s.club] : [])))]
  const used = new Set(opened.swings.flatMap((s) => s.views.flatMap((v) => v.cues.map((c) => c.kind))))
  const isOn = JSON.stringify(filter) !== JSON.stringify(noFilter)
  const set = (patch: Partial<typeof filter>) => useDesk.setState({ filter: { ...filter, ...patch } })
  const all = { value: 'all', label: trayWords('all') }
  return (
    <DialogTrigger>
      <Button
        className={`button button-plain button-small button-icon${isOn ? ' is-on' : ''}`}
        aria-label={isOn ? trayWords('filterInUse') : trayWords('filter')}
      >
        <ListFilter size={16} />
      </Button>
      <Popover className="popover">
        <Dialog className="column filter" aria-label={trayWords('filter')}>
          <Pick
            label={trayWords('block')}
            value={filter.blockId ?? 'all'}
            options={[
              all,
              ...[...opened.blocks]
                .sort((a, b) => a.order - b.order)
                .map((b, i) => ({
                  value: b.id,
                  label: b.name || commonWords('blockNumbered', { number: i + 1 }),
                })),
            ]}
            onChange={(value) => set({ blockId: value === 'all' ? null : value })}
          />
          <Pick
            label={commonWords('club')}
            value={filter.club ?? 'all'}
            options={[all, ...clubs.map((club) => ({ value: club, label: clubWords(club) }))]}
            onChange={(value) => set({ club: value === 'all' ? null : value })}
          />
          <Pick
            label={commonWords('cue')}
            value={filter.cueKind ?? 'all'}
            options={[
              all,
              ...kinds.filter((k) => used.has(k.key)).map((k) => ({ value: k.key, label: k.label })),
            ]}
            onChange={(value) => set({ cueKind: value === 'all' ? null : value })}
          />
          <Check isOn={filter.onlyStarred} onChange={(onlyStarred) => set({ onlyStarred })}>
            {trayWords('onlyStarred')}
          </Check>
          <Check isOn={filter.onlyUnpaired} onChange={(onlyUnpaired) => set({ onlyUnpaired })}>
            {trayWords('onlyUnpaired')}
          </Check>
          {/* Never disabled: it would lose the focus, and with it the way out by Escape. */}
          <Action small label={trayWords('showAll')} onPress={() => useDesk.setState({ filter: noFilter })} />
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}
