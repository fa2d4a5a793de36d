import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { closeDialog } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { momentText } from './KeepingDialog.tsx'
import { keepingWords } from '../../shared-core/wording/window/keeping.ts'

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
    setDoing(keepingWords('restoring'))
    const done = await telling(ask('library.restore', { file, snapshotId: chosen }))
    setDoing(null)
    if (done) closeDialog()
  }
  return (
    <Window
      title={keepingWords('restoreTitle')}
      isAlert
      onClose={closeDialog}
      foot={
        <>
          {doing === null ? (
            <Action label={keepingWords('keepAsItIs')} onPress={closeDialog} />
          ) : (
            <Action
              label={keepingWords('stopRestoring')}
              onPress={() => void telling(ask('library.stop', {}))}
            />
          )}
          <Action
            tone="lead"
            label={keepingWords('restore')}
            isDisabled={chosen === '' || doing !== null}
            onPress={() => void restore()}
          />
        </>
      }
    >
      <div className="field">
        <label htmlFor="which-backup">{keepingWords('madeOn')}</label>
        <select
          id="which-backup"
          className="input"
          value={chosen}
          onChange={(event) => setChosen(event.target.value)}
        >
          {list?.map((s) => (
            <option key={s.id} value={s.id}>
              {keepingWords('backupOf', {
                madeAt: momentText(s.madeAt),
                students: s.students,
                lessons: s.lessons,
                clips: s.clips,
              })}
              {s.isVerified ? '' : keepingWords('notReadBack')}
            </option>
          ))}
        </select>
      </div>
      <p>{keepingWords('isSetAside')}</p>
      {doing && <p role="status">{doing}</p>}
    </Window>
  )
}
