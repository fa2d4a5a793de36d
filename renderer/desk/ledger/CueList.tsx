import { X } from 'lucide-react'
import type { View } from '../../../shared-core/model/entities.ts'
import { cuesWords } from '../../../shared-core/wording/window/cues.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { Action } from '../../parts/Action.tsx'
import { SavedText } from '../../parts/SavedText.tsx'
import { edit, useDesk } from '../../store/desk-store.ts'
import { jumpToMoment } from '../../store/moments.ts'
import { Strength } from './Strength.tsx'

/** The cues of this picture by moment; strength and note changed in place. */
export function CueList({ view }: { view: View }) {
  const kinds = useDesk((s) => s.cueKinds)
  const moments = new Map(view.moments.map((m) => [m.id, m]))
  const cues = [...view.cues].sort(
    (a, b) => (moments.get(a.momentId)?.frame ?? 0) - (moments.get(b.momentId)?.frame ?? 0),
  )
  if (cues.length === 0) {
    return <p className="fine soft">{cuesWords('empty')}</p>
  }
  return (
    <ul className="cues">
      {cues.map((cue) => {
        const label = kinds.find((k) => k.key === cue.kind)?.label ?? cue.kind
        const moment = moments.get(cue.momentId)
        return (
          <li key={cue.id} className="cue">
            <div className="row" style={{ gap: 6 }}>
              <span className="cue-name">{label}</span>
              {moment && (
                <Action small tone="plain" label={moment.name} onPress={() => jumpToMoment(moment)} />
              )}
              <span className="push" />
              <Strength
                label={cuesWords('strengthOf', { cue: label })}
                value={cue.strength}
                onChange={(strength) => void edit('cue.update', { id: cue.id, patch: { strength } })}
              />
              <Action
                small
                tone="plain"
                icon={<X size={14} />}
                label={cuesWords('remove', { cue: label })}
                onPress={() => void edit('cue.remove', { id: cue.id })}
              />
            </div>
            <SavedText
              quiet
              lines={1.5}
              hideLabel
              label={cuesWords('noteOn', { cue: label })}
              placeholder={commonWords('note')}
              value={cue.note}
              onSave={(note, noteBefore) =>
                void edit('cue.update', { id: cue.id, patch: { note }, noteBefore })
              }
            />
          </li>
        )
      })}
    </ul>
  )
}
