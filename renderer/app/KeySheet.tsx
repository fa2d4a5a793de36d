import { bridge } from '../store/bridge.ts'
import { closeDialog } from '../store/app-store.ts'
import { commands } from '../keys/commands.ts'
import { keyText } from '../keys/key-text.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { keyWords } from '../../shared-core/wording/window/keys.ts'

/** Every key, by group, from the one list of commands. */
export function KeySheet() {
  const isMac = bridge().platform === 'darwin'
  const groups = [...new Set(commands.map((c) => c.group))]
  return (
    <Window
      wide
      isLong
      title={commonWords('keys')}
      onClose={closeDialog}
      foot={<Action label={commonWords('close')} onPress={closeDialog} />}
    >
      <div className="key-sheet">
        {groups.map((group) => (
          <section key={group} className="key-group" aria-label={group}>
            <h3>{group}</h3>
            {commands
              .filter((c) => c.group === group)
              .map((c) => (
                <div key={c.name} className="key-line">
                  <span>{c.label}</span>
                  <span>
                    {c.keys.map((key) => (
                      <kbd key={key}>{keyText(key, isMac)}</kbd>
                    ))}
                  </span>
                </div>
              ))}
          </section>
        ))}
        <section className="key-group" aria-label={keyWords('listsAndPlaces')}>
          <h3>{keyWords('listsAndPlaces')}</h3>
          <div className="key-line">
            <span>{keyWords('throughAList')}</span>
            <span>
              <kbd>↑</kbd>
              <kbd>↓</kbd>
            </span>
          </div>
          <div className="key-line">
            <span>{keyWords('fromPartToPart')}</span>
            <span>
              <kbd>{keyWords('tab')}</kbd>
            </span>
          </div>
          <div className="key-line">
            <span>{keyWords('moveAFlag')}</span>
            <span>
              <kbd>←</kbd>
              <kbd>→</kbd>
            </span>
          </div>
          <div className="key-line">
            <span>{keyWords('loopToFlag')}</span>
            <span>
              <kbd>{keyWords('shift')}</kbd>
              <kbd>{keyWords('enter')}</kbd>
            </span>
          </div>
          <div className="key-line">
            <span>{keyWords('moveInHand')}</span>
            <span>
              <kbd>←</kbd>
              <kbd>↑</kbd>
              <kbd>→</kbd>
              <kbd>↓</kbd>
            </span>
          </div>
        </section>
      </div>
    </Window>
  )
}
