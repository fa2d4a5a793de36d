import { Trash2 } from 'lucide-react'
import { useState } from 'react'
import type { HandOverTemplate } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { SavedText } from '../parts/SavedText.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { closeComposerDialog, reloadTemplates, useComposer } from './composer-store.ts'

/** The coach's templates under other names, or gone. Hand-overs made with them stay as they are. */
export function ManageTemplates() {
  const templates = useComposer((s) => s.templates)
  return (
    <Window
      title="Your templates"
      onClose={closeComposerDialog}
      foot={<Action tone="lead" label="Done" onPress={closeComposerDialog} />}
    >
      {templates.length === 0 && <p className="soft">There is no template any more.</p>}
      <ul className="composer-list">
        {templates.map((template) => (
          <li key={template.id} className="composer-card column">
            <TemplateEntry template={template} others={templates.filter((t) => t.id !== template.id)} />
          </li>
        ))}
      </ul>
      <p className="soft fine">
        To change what a template says, apply it, edit the message, and save it again under the same name.
      </p>
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
          label={`Name of the template ${template.name}`}
          maxLength={200}
          value={template.name}
          onSave={(name) => void rename(name)}
        />
        <Action
          small
          tone="plain"
          icon={<Trash2 size={15} />}
          label={`Delete ${template.name}`}
          onPress={() => setAsks(true)}
        />
      </div>
      {taken !== null && (
        <p className="note-box note-box-ask fine" role="alert">
          Another template is called “{taken}” already; this one stays “{template.name}”.
        </p>
      )}
      {template.message && <p className="soft fine template-words">{template.message}</p>}
      {asksToDelete && (
        <div className="note-box note-box-ask row row-wrap" role="alert">
          <span>Delete “{template.name}”? Its message can’t be brought back.</span>
          <Action small tone="wrong" label="Yes, delete it" onPress={() => void remove()} />
          <Action small label="Keep it" onPress={() => setAsks(false)} />
        </div>
      )}
    </>
  )
}
