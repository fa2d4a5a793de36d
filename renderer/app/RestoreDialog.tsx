import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { closeDialog } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { counted, momentText } from './KeepingDialog.tsx'

/** Asks which of the backups in a file comes back, and says what happens to the library that is there. */
export function RestoreDialog({ file }: { file: string }) {
  const [list, setList] = useState<CallOutput<'backup.look'> | null>(null)
  const [chosen, setChosen] = useState('')
  const [doing, setDoing] = useState<string | null>(null)
  useEffect(() => {
    void telling(ask('backup.look', { file })).then((found) => {
      if (!found) return closeDialog()
      setList(found)
      setChosen(found.find((s) => s.isVerified)?.id ?? found[0]?.id ?? '')
    })
  }, [file])
  useEffect(
    () =>
      bridge().on('library.progress', ({ doing: what, progress }) =>
        setDoing(`${what}, ${Math.round(progress * 100)} %`),
      ),
    [],
  )
  const restore = async () => {
    setDoing('restoring')
    const done = await telling(ask('library.restore', { file, snapshotId: chosen }))
    setDoing(null)
    if (done) closeDialog()
  }
  return (
    <Window
      title="Restore a backup"
      isAlert
      onClose={closeDialog}
      foot={
        <>
          {doing === null ? (
            <Action label="Keep the library as it is" onPress={closeDialog} />
          ) : (
            <Action label="Stop restoring" onPress={() => void telling(ask('library.stop', {}))} />
          )}
          <Action
            tone="lead"
            label="Restore"
            isDisabled={chosen === '' || doing !== null}
            onPress={() => void restore()}
          />
        </>
      }
    >
      <div className="field">
        <label htmlFor="which-backup">Made on</label>
        <select
          id="which-backup"
          className="input"
          value={chosen}
          onChange={(event) => setChosen(event.target.value)}
        >
          {list?.map((s) => (
            <option key={s.id} value={s.id}>
              {momentText(s.madeAt)}: {counted(s.students, 'student')}, {counted(s.lessons, 'lesson')},{' '}
              {counted(s.clips, 'clip')}
              {s.isVerified ? '' : ' (not read back)'}
            </option>
          ))}
        </select>
      </div>
      <p>
        The library that is here now is set aside in a folder beside it, as it is. Nothing of it is
        overwritten or deleted.
      </p>
      {doing && <p role="status">{doing}</p>}
    </Window>
  )
}
