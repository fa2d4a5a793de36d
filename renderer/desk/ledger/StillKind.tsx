import type { Clip } from '../../../shared-core/model/entities.ts'
import { stillKinds, stillTitle } from '../../../shared-core/model/still.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { Pick } from '../../parts/Pick.tsx'
import { SavedText } from '../../parts/SavedText.tsx'
import { edit } from '../../store/desk-store.ts'

/** What a still picture shows: one of four, or the coach's own word. */
export function StillKind({ clip }: { clip: Clip }) {
  const set = (stillKind: string) => {
    if (stillKind.trim() !== '') void edit('clip.update', { id: clip.id, patch: { stillKind } })
  }
  const isKnown = (stillKinds as readonly string[]).includes(clip.stillKind!)
  return (
    <section className="ledger-part" aria-label={ledgerWords('picture')}>
      <h2>{stillTitle(clip)}</h2>
      <Pick
        label={ledgerWords('stillShows')}
        value={isKnown ? clip.stillKind! : 'own'}
        options={[
          ...stillKinds.map((kind) => ({ value: kind as string, label: kind })),
          ...(isKnown ? [] : [{ value: 'own', label: clip.stillKind! }]),
        ]}
        onChange={(kind) => kind !== 'own' && set(kind)}
      />
      <SavedText label={ledgerWords('ownWord')} value={isKnown ? '' : clip.stillKind!} onSave={set} />
    </section>
  )
}
