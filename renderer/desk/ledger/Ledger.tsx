import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components'
import type { LedgerFace } from '../../../shared-core/model/hand-over.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { activeSwing, useDesk } from '../../store/desk-store.ts'
import { showLedgerFace, useLedgerFace } from '../../store/ledger-face.ts'
import { BlockFace } from './BlockFace.tsx'
import { LessonFace } from './LessonFace.tsx'
import { SwingFace } from './SwingFace.tsx'
import { TwoSwings } from './TwoSwings.tsx'
import './ledger.css'

const faces: readonly { face: LedgerFace; label: string }[] = [
  { face: 'swing', label: ledgerWords('face.swing') },
  { face: 'block', label: ledgerWords('face.block') },
  { face: 'lesson', label: ledgerWords('face.lesson') },
]

/** Three questions, one at a time: what is with this swing, with its block, with the lesson. */
export function Ledger() {
  const opened = useDesk((s) => s.opened)!
  const swing = useDesk(activeSwing)
  const compared = useDesk((s) => s.compared)
  const face = useLedgerFace()
  return (
    <aside className="ledger" aria-label={commonWords('ledger')}>
      <Tabs
        className="ledger-tabs"
        selectedKey={face}
        onSelectionChange={(key) => showLedgerFace(String(key) as LedgerFace)}
      >
        <TabList className="ledger-faces" aria-label={ledgerWords('faces')}>
          {faces.map(({ face: id, label }) => (
            <Tab key={id} id={id} className="ledger-tab">
              {label} <kbd aria-hidden>{keysOf(`this-${id}`)}</kbd>
            </Tab>
          ))}
        </TabList>
        <TabPanel id="swing" className="ledger-face">
          {compared ? (
            <TwoSwings opened={opened} compared={compared} />
          ) : swing ? (
            <SwingFace opened={opened} swing={swing} />
          ) : (
            <p className="ledger-part soft">{ledgerWords('swingEmpty')}</p>
          )}
        </TabPanel>
        <TabPanel id="block" className="ledger-face">
          {swing ? (
            <BlockFace key={swing.blockId} opened={opened} swing={swing} />
          ) : (
            <p className="ledger-part soft">{ledgerWords('blockEmpty')}</p>
          )}
        </TabPanel>
        <TabPanel id="lesson" className="ledger-face">
          <LessonFace opened={opened} />
        </TabPanel>
      </Tabs>
    </aside>
  )
}
