import { Layers, Link2, Star, Trash2 } from 'lucide-react'
import { Button, Header, Menu, MenuItem, MenuSection, MenuTrigger, Popover } from 'react-aria-components'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { Action } from '../../parts/Action.tsx'
import { standsAlone } from '../../../shared-core/model/still.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { edit, filteredSwings, stillsInOrder, useDesk } from '../../store/desk-store.ts'
import {
  canBeBlock,
  cutBlockHere,
  joinBlockHere,
  makeBlockOfSelected,
  removeSwings,
  toggleStars,
} from '../../store/swings.ts'
import { canPairSelected, pairSelected } from './pairing.ts'

/** What can be done with the selected swings, all at once. */
export function TrayFoot({ opened }: { opened: OpenLesson }) {
  const allSelected = useDesk((s) => s.selectedIds)
  const filter = useDesk((s) => s.filter)
  // What the filter hides is not touched unseen.
  const swings = [...filteredSwings(opened, filter), ...stillsInOrder(opened)].filter((s) =>
    allSelected.has(s.id),
  )
  const hasStill = swings.some((s) => standsAlone(opened, s))
  const selectedIds = new Set(swings.map((s) => s.id))
  if (swings.length === 0) return null
  const allStarred = swings.every((s) => s.isStarred)
  return (
    <div className="tray-foot" role="toolbar" aria-label={trayWords('selectedSwings')}>
      <span className="fine">{trayWords('selectedCount', { count: swings.length })}</span>
      <span className="push" />
      {canPairSelected(opened, selectedIds) && (
        <Action
          small
          tone="plain"
          icon={<Link2 size={15} />}
          label={trayWords('pairSelected')}
          keys={keysOf('pair')}
          onPress={() => void pairSelected()}
        />
      )}
      <Action
        small
        tone="plain"
        icon={<Star size={15} fill={allStarred ? 'currentColor' : 'none'} />}
        label={allStarred ? trayWords('unstar') : trayWords('star')}
        keys={keysOf('star')}
        onPress={() => void toggleStars()}
      />
      {!hasStill && <BlockMenu opened={opened} selectedIds={selectedIds} />}
      <Action
        small
        tone="plain"
        icon={<Trash2 size={15} />}
        label={trayWords('removeSwings', { count: swings.length })}
        keys={trayWords('deleteKey')}
        onPress={() => void removeSwings()}
      />
    </div>
  )
}

function BlockMenu({ opened, selectedIds }: { opened: OpenLesson; selectedIds: ReadonlySet<string> }) {
  const isOne = selectedIds.size === 1
  const inBlocks = new Set(opened.swings.filter((s) => selectedIds.has(s.id)).map((s) => s.blockId))
  const blocks = [...opened.blocks].sort((a, b) => a.order - b.order)
  const others = blocks
    .map((block, i) => ({ block, name: block.name || commonWords('blockNumbered', { number: i + 1 }) }))
    .filter(({ block }) => !(inBlocks.size === 1 && inBlocks.has(block.id)))
  return (
    <MenuTrigger>
      <Button
        className="button button-plain button-small button-icon"
        aria-label={trayWords('blockOfSelected')}
      >
        <Layers size={15} />
      </Button>
      <Popover className="popover" placement="top end">
        <Menu
          disabledKeys={isOne || canBeBlock(opened, selectedIds) ? [] : ['make']}
          onAction={(key) => {
            if (key === 'cut') void cutBlockHere()
            else if (key === 'make') void makeBlockOfSelected()
            else if (key === 'join') void joinBlockHere()
            else {
              const blockId = String(key).replace(/^to-/, '')
              void edit('swing.update', { ids: [...selectedIds], patch: { blockId } })
            }
          }}
        >
          {isOne ? (
            <MenuItem className="menu-item" id="cut" textValue={trayWords('beginBlock')}>
              {trayWords('beginBlock')} <kbd className="push">{keysOf('cut-block')}</kbd>
            </MenuItem>
          ) : (
            <MenuItem className="menu-item" id="make">
              {trayWords('blockOfThese')}
            </MenuItem>
          )}
          {blocks.length > 1 && (
            <MenuItem className="menu-item" id="join" textValue={trayWords('joinBlockOfSwing')}>
              {trayWords('joinBlockOfSwing')} <kbd className="push">{keysOf('join-block')}</kbd>
            </MenuItem>
          )}
          {others.length > 0 && (
            <MenuSection>
              <Header className="menu-section">{trayWords('moveTo')}</Header>
              {others.map(({ block, name }) => (
                <MenuItem key={block.id} className="menu-item" id={`to-${block.id}`}>
                  {name}
                </MenuItem>
              ))}
            </MenuSection>
          )}
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}
