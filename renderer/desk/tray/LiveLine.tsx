import { Radio } from 'lucide-react'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import { stillWaitingWords } from '../../../shared-core/pairing/still-waiting.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { LiveTroubles } from '../../live/LiveTroubles.tsx'
import { Action } from '../../parts/Action.tsx'
import { openDialog } from '../../store/app-store.ts'
import { swingsInOrder, useDesk } from '../../store/desk-store.ts'
import { useLive } from '../../store/live.ts'
import '../../live/live.css'

/** While the lesson is live: what it waits for, small, to be settled later. */
export function LiveLine({ opened }: { opened: OpenLesson }) {
  const state = useLive((s) => s.state)
  const onlyUnpaired = useDesk((s) => s.filter.onlyUnpaired)
  if (!state?.isOn) return null
  const open = stillWaitingWords(swingsInOrder(opened), opened.shots.length > 0)
  return (
    <div className="live-line" role="region" aria-label={trayWords('liveLesson')}>
      <div className="row">
        <Radio size={15} aria-hidden className="live-sign" />
        <b>{trayWords('live')}</b>
        <span className="push" />
        <Action
          small
          tone="plain"
          label={trayWords('changeLive')}
          keys={keysOf('live')}
          onPress={() => openDialog({ name: 'live', lessonId: opened.lesson.id })}
        />
      </div>
      <div role="status">
        <LiveTroubles state={state} />
      </div>
      {open.length > 0 && (
        <div className="row fine soft">
          <span>{open.join(' · ')}</span>
          <span className="push" />
          <Action
            small
            tone="plain"
            label={onlyUnpaired ? trayWords('showAll') : trayWords('showThese')}
            onPress={() =>
              useDesk.setState(({ filter }) => ({ filter: { ...filter, onlyUnpaired: !onlyUnpaired } }))
            }
          />
        </div>
      )}
    </div>
  )
}
