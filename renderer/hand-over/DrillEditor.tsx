import { useState } from 'react'
import type { Drill } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { useDesk } from '../store/desk-store.ts'
import { telling } from '../store/messages.ts'
import { CoachPictureField } from './CoachPicture.tsx'
import { openComposerDialog, reloadDrills } from './composer-store.ts'
import { toggleId } from './draft-edits.ts'
import { Words } from './Words.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

const empty: Omit<Drill, 'id'> = {
  name: '',
  purpose: '',
  cueKinds: [],
  how: '',
  dose: '',
  watchFor: '',
  caution: handOverWords('usualCaution'),
  isLoading: false,
  pictureId: null,
}

/** One drill of the coach's library. Plans already made keep the words they were made with. */
export function DrillEditor({ drill }: { drill: Drill | null }) {
  const cueKinds = useDesk((s) => s.cueKinds)
  const [draft, setDraft] = useState<Omit<Drill, 'id'>>(drill ?? empty)
  const [asksToDelete, setAsks] = useState(false)
  const change = (patch: Partial<Drill>) => setDraft({ ...draft, ...patch })
  const back = () => openComposerDialog({ name: 'drills' })
  const save = async () => {
    const saved = await telling(ask('drill.save', { ...draft, id: drill?.id ?? null }))
    if (!saved) return
    await reloadDrills()
    back()
  }
  const remove = async () => {
    if (!drill || (await telling(ask('drill.remove', { id: drill.id }))) === null) return
    await reloadDrills()
    back()
  }
  return (
    <Window
      wide
      title={drill ? handOverWords('editDrill') : handOverWords('newDrill')}
      onClose={back}
      foot={
        <>
          {drill && (
            <Action
              tone="wrong"
              label={asksToDelete ? handOverWords('yesDeleteDrill') : handOverWords('delete')}
              onPress={() => (asksToDelete ? void remove() : setAsks(true))}
            />
          )}
          <span className="push" />
          <Action label={commonWords('cancel')} onPress={back} />
          <Action
            tone="lead"
            label={handOverWords('keepDrill')}
            isDisabled={draft.name.trim() === ''}
            onPress={() => void save()}
          />
        </>
      }
    >
      <Words
        label={commonWords('name')}
        maxLength={200}
        value={draft.name}
        onChange={(name) => change({ name })}
      />
      <Words
        label={handOverWords('purpose')}
        maxLength={1000}
        value={draft.purpose}
        onChange={(purpose) => change({ purpose })}
      />
      <div className="field" role="group" aria-label={handOverWords('cuesServed')}>
        <span className="label">{handOverWords('cuesServedHint')}</span>
        <div className="row row-wrap cue-checks">
          {cueKinds.map((kind) => (
            <Check
              key={kind.key}
              isOn={draft.cueKinds.includes(kind.key)}
              onChange={(on) => change({ cueKinds: toggleId(draft.cueKinds, kind.key, on) })}
            >
              {kind.label}
            </Check>
          ))}
        </div>
      </div>
      <Words
        lines={4}
        label={handOverWords('how')}
        maxLength={8000}
        value={draft.how}
        onChange={(how) => change({ how })}
      />
      <Words
        label={handOverWords('doseOfDrill')}
        maxLength={1000}
        value={draft.dose}
        onChange={(dose) => change({ dose })}
      />
      <Words
        lines={2}
        label={handOverWords('watchFor')}
        maxLength={2000}
        value={draft.watchFor}
        onChange={(watchFor) => change({ watchFor })}
      />
      <Words
        lines={2}
        label={handOverWords('caution')}
        maxLength={2000}
        value={draft.caution}
        onChange={(caution) => change({ caution })}
      />
      <CoachPictureField
        use="drill"
        label={handOverWords('drillPicture')}
        hint={handOverWords('drillPictureHint')}
        pictureId={draft.pictureId}
        onChange={(pictureId) => change({ pictureId })}
      />
      <Check isOn={draft.isLoading} onChange={(isLoading) => change({ isLoading })}>
        {handOverWords('loadsBodyDrill')}
      </Check>
    </Window>
  )
}
