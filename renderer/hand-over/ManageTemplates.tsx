import { Trash2 } from 'lucide-react'
import { useState } from 'react'
import type { HandOverTemplate } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { SavedText } from '../parts/SavedText.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { closeComposerDialog, reloadTemplates, useComposer } from './composer-store.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** The coach's templates under other names, or gone. Hand-overs made with them stay as they are. */
export function ManageTemplates() {
  const templates = useComposer((s) => s.templates)
  return (
    <Window
      title={handOverWords('yourTemplates')}
      onClose={closeComposerDialog}
      foot={<Action tone="lead" label={commonWords('done')} onPress={closeComposerDialog} />}
    >
      {templates.length === 0 && <p className="soft">{handOverWords('noTemplateLeft')}</p>}
      <ul className="composer-list">
        {templates.map((template) => (
          <li key={template.id} className="composer-card column">
            <TemplateEntry template={template} others={templates.filter((t) => t.id !== template.id)} />
          </li>
        ))}
      </ul>
      <p className="soft fine">{handOverWords('toChangeTemplate')}</p>
    </Window>
  )
}

function TemplateEntry({ template, others }: { template: HandOverTemplate; others: HandOverTemplate[] }) {
  const [taken, setTaken] = useState<string | null>(null)
  const [asksToDelete, setAsks] = useState(false)
  const rename = async (typed: string) => {
    const name = typed.trim()
    const isTaken = others.some((t) => t.name.toLowerCase() === name.toLowerCase())
    setTaken(isTaken ? name : null)
    if (isTaken || name === template.name) return
    await telling(ask('handOver.saveTemplate', { ...template, name }))
    await reloadTemplates()
  }
  const remove = async () => {
    if ((await telling(ask('handOver.removeTemplate', { id: template.id }))) !== null) await reloadTemplates()
  }
  return (
    <>
      <div className="row template-row">
        <SavedText
          required
          hideLabel
          label={handOverWords('nameOfTemplate', { name: template.name })}
          maxLength={200}
          value={template.name}
          onSave={(name) => void rename(name)}
        />
        <Action
          small
          tone="plain"
          icon={<Trash2 size={15} />}
          label={handOverWords('deleteNamed', { name: template.name })}
          onPress={() => setAsks(true)}
        />
      </div>
      {taken !== null && (
        <p className="note-box note-box-ask fine" role="alert">
          {handOverWords('nameTaken', { taken, name: template.name })}
        </p>
      )}
      {template.message && <p className="soft fine template-words">{template.message}</p>}
      {asksToDelete && (
        <div className="note-box note-box-ask row row-wrap" role="alert">
          <span>{handOverWords('deleteTemplate', { name: template.name })}</span>
          <Action small tone="wrong" label={handOverWords('yesDeleteIt')} onPress={() => void remove()} />
          <Action small label={handOverWords('keepIt')} onPress={() => setAsks(false)} />
        </div>
      )}
    </>
  )
}
