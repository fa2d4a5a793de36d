import { useEffect, useState } from 'react'
import { keysOf } from '../keys/handle-keys.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { nodes } from '../parts/nodes.tsx'
import { Window } from '../parts/Window.tsx'
import { closeDialog, goTo } from '../store/app-store.ts'
import { bridge } from '../store/bridge.ts'
import { readLive, startLive, stopLive, useLive } from '../store/live.ts'
import { LiveTroubles } from './LiveTroubles.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { liveWords } from '../../shared-core/wording/window/live.ts'
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
      title={liveWords('liveLesson')}
      onClose={closeDialog}
      foot={
        <>
          <Action label={commonWords('close')} onPress={closeDialog} />
          {isOn && (
            <Action
              label={liveWords('bayView')}
              keys={keysOf('bay')}
              onPress={() => {
                closeDialog()
                goTo({ name: 'bay', lessonId })
              }}
            />
          )}
          {isOn ? (
            <Action tone="lead" label={commonWords('stop')} onPress={() => void stopLive(lessonId)} />
          ) : (
            <Action
              tone="lead"
              label={liveWords('start')}
              isDisabled={clips === null}
              onPress={() =>
                clips !== null && void startLive(lessonId, { clipsFolder: clips, shotsPath: shots, takeOld })
              }
            />
          )}
        </>
      }
    >
      <p className="soft">{liveWords('takenAsTheyArrive')}</p>
      <dl className="live-places">
        <dt>{liveWords('clipsArriveIn')}</dt>
        <dd>
          <span className="live-path can-select">{clips ?? liveWords('noFolderYet')}</span>
          {!isOn && (
            <Action
              small
              label={commonWords('chooseFolder')}
              onPress={() =>
                void bridge()
                  .pickFolder()
                  .then((folder) => folder && setClips(folder))
              }
            />
          )}
        </dd>
        <dt>{liveWords('deviceWrites')}</dt>
        <dd>
          <span className="live-path can-select">{shots ?? liveWords('nothingClipsOnly')}</span>
          {!isOn && (
            <span className="row">
              <Action
                small
                label={liveWords('chooseFile')}
                onPress={() =>
                  void bridge()
                    .pickFiles('shots')
                    .then(([file]) => file && setShots(file))
                }
              />
              <Action
                small
                label={liveWords('aFolderOfFiles')}
                onPress={() =>
                  void bridge()
                    .pickFolder()
                    .then((folder) => folder && setShots(folder))
                }
              />
              {shots !== null && <Action small label={liveWords('noShots')} onPress={() => setShots(null)} />}
            </span>
          )}
        </dd>
      </dl>
      {!isOn && (
        <Check isOn={takeOld} onChange={setTakeOld}>
          {liveWords('alsoOldClips')}
        </Check>
      )}
      <div role="status">
        {isOn && (
          <>
            <p>{nodes(liveWords, 'liveNow', { live: <b>{liveWords('isLive')}</b> })}</p>
            <LiveTroubles state={state!} />
          </>
        )}
      </div>
    </Window>
  )
}
