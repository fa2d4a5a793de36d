import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components'
import type { LedgerFace } from '../../../shared-core/model/hand-over.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { activeSwing, useDesk } from '../../store/desk-store.ts'
import { showLedgerFace, useLedgerFace } from '../../store/ledger-face.ts'
import { BlockFace } from './BlockFace.tsx'
import { LessonFace } from './LessonFace.tsx'
import { SwingFace } from './SwingFace.tsx'
import { TwoSwings } from './TwoSwings.tsx'
import './ledger.css'

const faces: readonly { face: LedgerFace; label: string }[] = [
  { face: 'swing', label: 'This swing' },
  { face: 'block', label: 'This block' },
  { face: 'lesson', label: 'This lesson' },
]

/** Three questions, one at a time: what is with this swing, with its block, with the lesson. */
export function Ledger() {
  const opened = useDesk((s) => s.opened)!
  const swing = useDesk(activeSwing)
  const compared = useDesk((s) => s.compared)
  const face = useLedgerFace()
  return (
    <aside className="ledger" aria-label="Ledger">
      <Tabs
        className="ledger-tabs"
        selectedKey={face}
        onSelectionChange={(key) => showLedgerFace(String(key) as LedgerFace)}
      >
        <TabList className="ledger-faces" aria-label="What the Ledger speaks of">
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
            <p className="ledger-part soft">The numbers of a swing stand here once the lesson has one.</p>
          )}
        </TabPanel>
        <TabPanel id="block" className="ledger-face">
          {swing ? (
            <BlockFace key={swing.blockId} opened={opened} swing={swing} />
          ) : (
            <p className="ledger-part soft">What is known of a block stands here once it has swings.</p>
          )}
        </TabPanel>
        <TabPanel id="lesson" className="ledger-face">
          <LessonFace opened={opened} />
        </TabPanel>
      </Tabs>
    </aside>
  )
}
