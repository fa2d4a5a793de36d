import { useState } from 'react'
import { ListBox, ListBoxItem } from 'react-aria-components'
import { starterCueKinds } from '../../../shared-core/model/cue-kinds.ts'
import { cuesWords } from '../../../shared-core/wording/window/cues.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { Action } from '../../parts/Action.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { Window } from '../../parts/Window.tsx'
import { ask } from '../../store/bridge.ts'
import { closeDialog } from '../../store/app-store.ts'
import { activeView, edit, useDesk } from '../../store/desk-store.ts'
import { telling } from '../../store/messages.ts'
import { momentsInOrder } from '../../store/moments.ts'
import { Strength } from './Strength.tsx'

const here = 'here'
/** The order in which a coach looks: the body first, what follows from it after. */
const groupOrder = [...new Set(starterCueKinds.map((k) => k.group))]

const strengthWords = (strength: number): string =>
  strength === 0 ? cuesWords('onlySeen') : cuesWords(`strength.${strength as 1 | 2 | 3}`)

/** Pick a cue from the list, say how strong, put it on a moment. */
export function CueDialog(props: { momentId: string | null; x: number | null; y: number | null }) {
  const view = useDesk(activeView)
  const frame = useDesk((s) => s.frame)
  const kinds = useDesk((s) => s.cueKinds)
  const moments = view ? momentsInOrder(view) : []
  const onFrame = moments.find((m) => m.frame === frame)
  const given = moments.find((m) => m.id === props.momentId)
  const [kind, setKind] = useState(kinds.find((k) => k.group === groupOrder[0])?.key ?? kinds[0]?.key ?? '')
  const [strength, setStrength] = useState(2)
  const [note, setNote] = useState('')
  const [own, setOwn] = useState('')
  const [momentId, setMomentId] = useState((props.x === null ? (given ?? onFrame) : onFrame)?.id ?? here)
  if (!view) return null

  const groups = [...new Set([...groupOrder, ...kinds.map((k) => k.group)])]
  const save = async () => {
    closeDialog()
    let chosen = kind
    if (own.trim() !== '') {
      const key = `own-${own
        .trim()
        .toLowerCase()
        .replace(/[^\p{L}\p{N}]+/gu, '-')}`
      await telling(ask('cueKind.save', { key, group: 'own', label: own.trim() }))
      const next = await telling(ask('cueKind.list', {}))
      if (next) useDesk.setState({ cueKinds: next })
      chosen = key
    }
    let target = momentId
    if (target === here) {
      const placed = await edit('moment.place', {
        viewId: view.id,
        name: commonWords('frame', { frame }),
        frame,
      })
      if (!placed) return
      target = placed.id
    }
    await edit('cue.add', { momentId: target, kind: chosen, strength, x: props.x, y: props.y, note })
  }
  return (
    <Window
      title={cuesWords('addCue')}
      onClose={closeDialog}
      foot={
        <>
          <Action label={commonWords('cancel')} onPress={closeDialog} />
          <Action
            tone="lead"
            label={commonWords('add')}
            isDisabled={kind === '' && own.trim() === ''}
            onPress={() => void save()}
          />
        </>
      }
    >
      <ListBox
        className="cue-kinds"
        aria-label={commonWords('cue')}
        autoFocus
        selectionMode="single"
        disallowEmptySelection
        selectedKeys={[kind]}
        onSelectionChange={(keys) => {
          const [first] = [...(keys as Set<string | number>)]
          if (first !== undefined) {
            setKind(String(first))
            setOwn('')
          }
        }}
        onAction={() => void save()}
      >
        {groups.flatMap((group) =>
          kinds
            .filter((k) => k.group === group)
            .map((k) => (
              <ListBoxItem key={k.key} id={k.key} className="option" textValue={k.label}>
                {k.label}
              </ListBoxItem>
            )),
        )}
      </ListBox>
      <div className="field">
        <label htmlFor="own-cue">{cuesWords('own')}</label>
        <input id="own-cue" className="input" value={own} onChange={(event) => setOwn(event.target.value)} />
      </div>
      <div className="form-grid">
        <div className="field">
          <span className="label">{cuesWords('strength')}</span>
          <div className="row">
            <Strength label={cuesWords('strength')} value={strength} onChange={setStrength} />
            <span className="soft">{strengthWords(strength)}</span>
          </div>
        </div>
        <Pick
          label={cuesWords('on')}
          value={momentId}
          options={[
            ...moments.map((m) => ({ value: m.id, label: m.name })),
            ...(onFrame ? [] : [{ value: here, label: cuesWords('thisFrame', { frame }) }]),
          ]}
          onChange={setMomentId}
        />
      </div>
      <div className="field">
        <label htmlFor="cue-note">{commonWords('note')}</label>
        <input
          id="cue-note"
          className="input"
          value={note}
          onChange={(event) => setNote(event.target.value)}
          onKeyDown={(event) => event.key === 'Enter' && void save()}
        />
      </div>
      {props.x !== null && <p className="fine soft">{cuesWords('pinned')}</p>}
    </Window>
  )
}
