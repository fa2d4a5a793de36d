import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { openDialog } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { capital } from '../parts/capital.ts'
import { keepingWords } from '../../shared-core/wording/window/keeping.ts'

type State = CallOutput<'library.state'>

/** Says, before anything else, that the records can't be those of the files, or that the folder is gone. */
export function LibraryTrouble() {
  const [state, setState] = useState<State | null>(null)
  const [isLooking, setLooking] = useState(false)
  useEffect(() => {
    void telling(ask('library.state', {})).then((found) => found && setState(found))
    return bridge().on('library.place', ({ isThere }) => setState((s) => (s ? { ...s, isThere } : s)))
  }, [])
  // Another library stands in its place: the window begins anew.
  useEffect(
    () =>
      bridge().on('library.opened', () => {
        location.hash = '#/'
        location.reload()
      }),
    [],
  )
  if (!state) return null
  if (!state.isThere) {
    return (
      <p className="note-box note-box-ask trouble-banner" role="alert">
        {keepingWords('folderGone')}
      </p>
    )
  }
  const { trouble } = state
  if (!trouble) return null
  const restore = async () => {
    const [file] = await bridge().pickFiles('backup')
    if (file) openDialog({ name: 'restore', file })
  }
  if (isLooking) {
    return (
      <div className="note-box note-box-ask trouble-banner row row-wrap" role="alert">
        <span>{keepingWords('onlyLooking', { words: trouble.words })}</span>
        <span className="push" />
        <Action small label={keepingWords('restoreBackup')} onPress={() => void restore()} />
        <Action small label={keepingWords('whatToDo')} onPress={() => setLooking(false)} />
      </div>
    )
  }
  return (
    <Window
      title={keepingWords('notTheRecords')}
      isAlert
      onClose={() => setLooking(true)}
      foot={
        <>
          <Action label={keepingWords('onlyLook')} onPress={() => setLooking(true)} />
          <Action
            label={keepingWords('rebuildFromFiles')}
            onPress={() => void telling(ask('library.rebuild', {}))}
          />
          <Action
            tone="lead"
            label={keepingWords('restoreBackup')}
            onPress={() => {
              setLooking(true)
              void restore()
            }}
          />
        </>
      }
    >
      <p>{keepingWords('nothingDeleted', { words: capital(trouble.words) })}</p>
      <p>{keepingWords('whatEachBrings')}</p>
    </Window>
  )
}
