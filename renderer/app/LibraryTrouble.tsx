import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { openDialog } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { capital } from '../parts/capital.ts'

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
        The folder of the library is not there any more. What you change now is not saved. Connect the drive,
        or put the folder back; the work goes on by itself then.
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
        <span>Only looking: {trouble.words}. Nothing is changed.</span>
        <span className="push" />
        <Action small label="Restore a backup…" onPress={() => void restore()} />
        <Action small label="What to do…" onPress={() => setLooking(false)} />
      </div>
    )
  }
  return (
    <Window
      title="These are not the records of this library"
      isAlert
      onClose={() => setLooking(true)}
      foot={
        <>
          <Action label="Only look" onPress={() => setLooking(true)} />
          <Action label="Rebuild from the files" onPress={() => void telling(ask('library.rebuild', {}))} />
          <Action
            tone="lead"
            label="Restore a backup…"
            onPress={() => {
              setLooking(true)
              void restore()
            }}
          />
        </>
      }
    >
      <p>{capital(trouble.words)}. Nothing was deleted, and nothing will be.</p>
      <p>
        Restoring a backup brings students, lessons, marks and drawings back. Rebuilding goes on with the
        records that are here and puts every clip they don’t know into a lesson called “Found clips”; marks
        and names can’t be rebuilt from the clips.
      </p>
    </Window>
  )
}
