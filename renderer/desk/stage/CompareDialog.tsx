import { Trash2 } from 'lucide-react'
import { useState } from 'react'
import type { LessonView, Swing } from '../../../shared-core/model/entities.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import { Action } from '../../parts/Action.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { Window } from '../../parts/Window.tsx'
import { closeDialog } from '../../store/app-store.ts'
import {
  blockOf,
  clipOf,
  edit,
  shotOf,
  swingsInOrder,
  useDesk,
  type Compared,
} from '../../store/desk-store.ts'

const labelOf = (view: LessonView, swing: Swing, number: number, camera: string) =>
  [
    `${number}`,
    blockOf(view, swing)?.name,
    swing.shotId ? clubWords(shotOf(view, swing)?.club ?? null) : null,
    camera === 'other' ? null : camera.replaceAll('-', ' '),
  ]
    .filter(Boolean)
    .join(' · ')

/** Two pictures to set beside or over each other; or one of the comparisons kept with the lesson. */
export function CompareDialog() {
  const view = useDesk((s) => s.view)
  const state = useDesk.getState()
  const options = view
    ? swingsInOrder(view).flatMap((swing, i) =>
        swing.views.map((v) => ({
          value: v.id,
          label: labelOf(view, swing, i + 1, clipOf(view, v)?.camera ?? 'other'),
          swingId: swing.id,
        })),
      )
    : []
  const selected = [...state.selectedIds].flatMap((id) => options.find((o) => o.swingId === id)?.value ?? [])
  const firstGuess = selected.length >= 2 ? selected[0]! : (state.activeViewId ?? options[0]?.value ?? '')
  const [first, setFirst] = useState(firstGuess)
  const [second, setSecond] = useState(
    selected.find((id) => id !== firstGuess) ?? options.find((o) => o.value !== firstGuess)?.value ?? '',
  )
  const show = (compared: Compared) => {
    useDesk.setState({ compared, tool: { name: 'look' }, loop: null, selectedDrawingIds: new Set() })
    closeDialog()
  }
  return (
    <Window
      title="Compare two swings"
      onClose={closeDialog}
      foot={
        <>
          <Action label="Cancel" onPress={closeDialog} />
          <Action
            tone="lead"
            label="Compare"
            isDisabled={!first || !second || first === second}
            onPress={() =>
              show({
                id: null,
                name: '',
                firstViewId: first,
                secondViewId: second,
                lockedOn: 'impact',
                arrangement: 'beside',
                opacity: 0.5,
                isStretched: false,
                mirrorSecond: false,
              })
            }
          />
        </>
      }
    >
      {options.length < 2 ? (
        <p>Two clips are needed; this lesson has {options.length === 0 ? 'none' : 'one'} so far.</p>
      ) : (
        <div className="form-grid">
          <Pick label="First" value={first} options={options} onChange={setFirst} />
          <Pick label="Second" value={second} options={options} onChange={setSecond} />
        </div>
      )}
      {view && view.comparisons.length > 0 && (
        <section className="column" aria-label="Kept with the lesson">
          <h3>Kept with the lesson</h3>
          {view.comparisons.map((c) => {
            const name = (id: string) => options.find((o) => o.value === id)?.label ?? 'a swing that is gone'
            const label = c.name || `${name(c.firstViewId)} and ${name(c.secondViewId)}`
            return (
              <div key={c.id} className="row">
                <Action label={label} onPress={() => show(c)} />
                <span className="push" />
                <Action
                  small
                  tone="plain"
                  icon={<Trash2 size={15} />}
                  label={`Remove the comparison ${label}`}
                  onPress={() => void edit('comparison.remove', { id: c.id })}
                />
              </div>
            )
          })}
        </section>
      )}
    </Window>
  )
}
