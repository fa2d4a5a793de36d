import { useState } from 'react'
import { Input, Label, TextField } from 'react-aria-components'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { closeDialog } from '../store/app-store.ts'
import { edit, useDesk } from '../store/desk-store.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { liveWords } from '../../shared-core/wording/window/live.ts'
import './live.css'

/** Begins a block with a focus; what comes next belongs to it. */
export function BeginBlock({ lessonId }: { lessonId: string }) {
  const [focus, setFocus] = useState('')
  const opened = useDesk((s) => s.opened)
  const kinds = useDesk((s) => s.cueKinds)
  const earlier = [...new Set((opened?.blocks ?? []).map((b) => b.focus).filter(Boolean))]
  const cues = kinds.map((k) => k.label).filter((label) => !earlier.includes(label))
  const begin = (words: string) => {
    closeDialog()
    void edit('block.begin', { lessonId, focus: words.trim() })
  }
  return (
    <Window
      title={liveWords('newBlock')}
      onClose={closeDialog}
      foot={
        <>
          <Action label={commonWords('cancel')} onPress={closeDialog} />
          <Action tone="lead" label={liveWords('begin')} onPress={() => begin(focus)} />
        </>
      }
    >
      <form
        className="column"
        onSubmit={(event) => {
          event.preventDefault()
          begin(focus)
        }}
      >
        <TextField className="field" autoFocus value={focus} onChange={setFocus} maxLength={2000}>
          <Label>{liveWords('whatYouAsk')}</Label>
          <Input className="input" placeholder={liveWords('softShoulders')} />
        </TextField>
        <p className="fine soft">{liveWords('nextSwingBegins')}</p>
        <div className="focus-choices" role="group" aria-label={liveWords('askedBefore')}>
          {[...earlier, ...cues].slice(0, 12).map((words) => (
            <Action key={words} small label={words} onPress={() => begin(words)} />
          ))}
        </div>
      </form>
    </Window>
  )
}
