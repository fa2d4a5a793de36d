import { useState } from 'react'
import { knownLengths } from '../../../shared-core/drawing/ruler.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
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
      title={stageWords('whatDidYouMeasure')}
      onClose={closeDialog}
      foot={
        <>
          <Action label={stageWords('noScale')} onPress={closeDialog} />
          <Action
            tone="lead"
            label={stageWords('useAsScale')}
            isDisabled={!isGood}
            onPress={() => void save()}
          />
        </>
      }
    >
      <p>{stageWords('rulerIs', { length: lengthPx.toFixed(0) })}</p>
      <Choice
        label={stageWords('what')}
        value={what}
        options={[
          { value: 'club', label: commonWords('club') },
          { value: 'ball', label: stageWords('ball') },
          { value: 'shoulder', label: stageWords('shoulderHeight') },
          { value: 'other', label: stageWords('somethingElse') },
        ]}
        onChange={(next) => {
          setWhat(next)
          if (next === 'ball') setText(knownMm('ball'))
          if (next === 'club') setText(knownMm('driver'))
          if (next === 'shoulder' || next === 'other') setText('')
        }}
      />
      <div className="field">
        <label htmlFor="known-length">{stageWords('lengthMm')}</label>
        <input
          id="known-length"
          className="input"
          value={text}
          onChange={(event) => setText(event.target.value)}
        />
        {what === 'shoulder' && <span className="fine soft">{stageWords('shoulderHow')}</span>}
        {what === 'club' && <span className="fine soft">{stageWords('usualDriver')}</span>}
      </div>
      <p className="note-box">{stageWords('oneCamera')}</p>
    </Window>
  )
}
