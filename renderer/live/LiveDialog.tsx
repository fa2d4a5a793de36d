import { useEffect, useState } from 'react'
import { keysOf } from '../keys/handle-keys.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { Window } from '../parts/Window.tsx'
import { closeDialog, goTo } from '../store/app-store.ts'
import { bridge } from '../store/bridge.ts'
import { readLive, startLive, stopLive, useLive } from '../store/live.ts'
import { LiveTroubles } from './LiveTroubles.tsx'
import './live.css'

/** Makes a lesson live: which folder clips arrive in, which file (or folder of files) the device writes. */
export function LiveDialog({ lessonId }: { lessonId: string }) {
  const state = useLive((s) => s.state)
  const [chosenClips, setClips] = useState<string | null>(null)
  /** Undefined until the coach has chosen, or has taken the shots away. */
  const [chosenShots, setShots] = useState<string | null | undefined>(undefined)
  const [takeOld, setTakeOld] = useState(false)
  useEffect(() => void readLive(lessonId), [lessonId])
  const isOn = state?.isOn ?? false
  const clips = chosenClips ?? state?.clipsFolder ?? null
  const shots = chosenShots === undefined ? (state?.shotsPath ?? null) : chosenShots
  return (
    <Window
      wide
      title="Live lesson"
      onClose={closeDialog}
      foot={
        <>
          <Action label="Close" onPress={closeDialog} />
          {isOn && (
            <Action
              label="Bay view"
              keys={keysOf('bay')}
              onPress={() => {
                closeDialog()
                goTo({ name: 'bay', lessonId })
              }}
            />
          )}
          {isOn ? (
            <Action tone="lead" label="Stop" onPress={() => void stopLive(lessonId)} />
          ) : (
            <Action
              tone="lead"
              label="Start"
              isDisabled={clips === null}
              onPress={() =>
                clips !== null && void startLive(lessonId, { clipsFolder: clips, shotsPath: shots, takeOld })
              }
            />
          )}
        </>
      }
    >
      <p className="soft">
        Clips and shots are taken in as they arrive, each once it is whole, and are paired. This goes on with
        the dialog closed, and by itself when Leadside is started again.
      </p>
      <dl className="live-places">
        <dt>Clips arrive in</dt>
        <dd>
          <span className="live-path can-select">{clips ?? 'no folder yet'}</span>
          {!isOn && (
            <Action
              small
              label="Choose the folder…"
              onPress={() =>
                void bridge()
                  .pickFolder()
                  .then((folder) => folder && setClips(folder))
              }
            />
          )}
        </dd>
        <dt>The device writes</dt>
        <dd>
          <span className="live-path can-select">{shots ?? 'nothing (clips only)'}</span>
          {!isOn && (
            <span className="row">
              <Action
                small
                label="Choose the file…"
                onPress={() =>
                  void bridge()
                    .pickFiles('shots')
                    .then(([file]) => file && setShots(file))
                }
              />
              <Action
                small
                label="A folder of files…"
                onPress={() =>
                  void bridge()
                    .pickFolder()
                    .then((folder) => folder && setShots(folder))
                }
              />
              {shots !== null && <Action small label="No shots" onPress={() => setShots(null)} />}
            </span>
          )}
        </dd>
      </dl>
      {!isOn && (
        <Check isOn={takeOld} onChange={setTakeOld}>
          Also the clips that are in the folder already
        </Check>
      )}
      <div role="status">
        {isOn && (
          <>
            <p>
              <b>Live.</b> What arrives comes into this lesson.
            </p>
            <LiveTroubles state={state!} />
          </>
        )}
      </div>
    </Window>
  )
}
