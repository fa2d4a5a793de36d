import { bridge } from '../store/bridge.ts'
import { closeDialog } from '../store/app-store.ts'
import { commands } from '../keys/commands.ts'
import { keyText } from '../keys/key-text.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'

/** Every key, by group, from the one list of commands. */
export function KeySheet() {
  const isMac = bridge().platform === 'darwin'
  const groups = [...new Set(commands.map((c) => c.group))]
  return (
    <Window
      wide
      isLong
      title="Keys"
      onClose={closeDialog}
      foot={<Action label="Close" onPress={closeDialog} />}
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
        <section className="key-group" aria-label="Lists and places">
          <h3>Lists and places</h3>
          <div className="key-line">
            <span>Through a list, several with Shift</span>
            <span>
              <kbd>↑</kbd>
              <kbd>↓</kbd>
            </span>
          </div>
          <div className="key-line">
            <span>From part to part</span>
            <span>
              <kbd>Tab</kbd>
            </span>
          </div>
          <div className="key-line">
            <span>Move a flag by a frame, by ten with Shift</span>
            <span>
              <kbd>←</kbd>
              <kbd>→</kbd>
            </span>
          </div>
          <div className="key-line">
            <span>On a flag: loop from the playhead to it</span>
            <span>
              <kbd>Shift</kbd>
              <kbd>Enter</kbd>
            </span>
          </div>
          <div className="key-line">
            <span>Move what is in hand by a pixel, by ten with Shift</span>
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
