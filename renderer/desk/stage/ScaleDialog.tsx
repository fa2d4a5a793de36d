import { useState } from 'react'
import { knownLengths } from '../../../shared-core/drawing/ruler.ts'
import { Action } from '../../parts/Action.tsx'
import { Choice } from '../../parts/Choice.tsx'
import { Window } from '../../parts/Window.tsx'
import { closeDialog } from '../../store/app-store.ts'
import { edit, useDesk, viewOf } from '../../store/desk-store.ts'

/** Length of a thing the coach knows, as typed, millimetres. */
const knownMm = (key: (typeof knownLengths)[number]['key']): string =>
  String(Math.round(knownLengths.find((k) => k.key === key)!.lengthM * 100_000) / 100)

/** What was measured with the first ruler, so that all lengths in this clip can be told. */
export function ScaleDialog({ viewId, lengthPx }: { viewId: string; lengthPx: number }) {
  const [what, setWhat] = useState<'club' | 'ball' | 'shoulder' | 'other'>('club')
  const [text, setText] = useState(knownMm('driver'))
  const millimetres = Number(text.replace(',', '.'))
  const isGood = millimetres > 1 && millimetres < 100_000 && lengthPx > 1
  const save = async () => {
    const clipId = viewOf(useDesk.getState().opened, viewId)?.clipId
    closeDialog()
    if (clipId) {
      await edit('clip.update', { id: clipId, patch: { pixelsPerMeter: lengthPx / (millimetres / 1000) } })
    }
  }
  return (
    <Window
      title="What did you measure?"
      onClose={closeDialog}
      foot={
        <>
          <Action label="No scale" onPress={closeDialog} />
          <Action tone="lead" label="Use as the scale" isDisabled={!isGood} onPress={() => void save()} />
        </>
      }
    >
      <p>
        The ruler is {lengthPx.toFixed(0)} pixels long. Say how long the thing is in life, and rulers in this
        clip show lengths.
      </p>
      <Choice
        label="What"
        value={what}
        options={[
          { value: 'club', label: 'Club' },
          { value: 'ball', label: 'Ball' },
          { value: 'shoulder', label: 'Shoulder height' },
          { value: 'other', label: 'Something else' },
        ]}
        onChange={(next) => {
          setWhat(next)
          if (next === 'ball') setText(knownMm('ball'))
          if (next === 'club') setText(knownMm('driver'))
          if (next === 'shoulder' || next === 'other') setText('')
        }}
      />
      <div className="field">
        <label htmlFor="known-length">Length, millimetres</label>
        <input
          id="known-length"
          className="input"
          value={text}
          onChange={(event) => setText(event.target.value)}
        />
        {what === 'shoulder' && (
          <span className="fine soft">From the ground to the top of the shoulder, as measured standing.</span>
        )}
        {what === 'club' && (
          <span className="fine soft">A usual driver; better, measure the club itself.</span>
        )}
      </div>
      <p className="note-box">
        One camera cannot see depth: lengths hold only for what is as far from the camera as the thing you
        measured, and lies flat to it.
      </p>
    </Window>
  )
}
