import { ChevronDown } from 'lucide-react'
import { useState } from 'react'
import { Button, Menu, MenuItem, MenuTrigger, Popover, Separator } from 'react-aria-components'
import type { HandOverTemplate } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { sayNews, telling } from '../store/messages.ts'
import {
  changeDraft,
  closeComposerDialog,
  openComposerDialog,
  reloadTemplates,
  useComposer,
} from './composer-store.ts'
import { applyTemplate } from './draft-edits.ts'
import { Words } from './Words.tsx'

const apply = (template: HandOverTemplate, message: 'take' | 'keep' | 'below') => {
  changeDraft((draft) => applyTemplate(draft, template, message))
  closeComposerDialog()
  sayNews(`“${template.name}” applied`)
}

/** The coach's own templates: what to say and how the clips run. */
export function TemplateMenu() {
  const templates = useComposer((s) => s.templates)
  return (
    <MenuTrigger>
      <Button className="button">
        Templates <ChevronDown size={14} aria-hidden />
      </Button>
      <Popover className="popover">
        <Menu
          onAction={(key) => {
            if (key === 'save') return openComposerDialog({ name: 'save-template' })
            if (key === 'manage') return openComposerDialog({ name: 'templates' })
            const template = templates.find((t) => t.id === key)
            if (!template) return
            const written = useComposer.getState().draft?.message.trim() ?? ''
            if (written === '' || written === template.message.trim()) apply(template, 'take')
            else if (template.message.trim() === '') apply(template, 'keep')
            else openComposerDialog({ name: 'template', template })
          }}
        >
          {templates.length === 0 ? (
            <MenuItem id="none" isDisabled className="menu-item">
              No template yet
            </MenuItem>
          ) : (
            templates.map((t) => (
              <MenuItem key={t.id} id={t.id} className="menu-item">
                {t.name}
              </MenuItem>
            ))
          )}
          <Separator className="menu-line" />
          <MenuItem id="save" className="menu-item">
            Save as a template…
          </MenuItem>
          {templates.length > 0 && (
            <MenuItem id="manage" className="menu-item">
              Rename or delete…
            </MenuItem>
          )}
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}

/** There is a message already: the coach says what becomes of it. */
export function ApplyTemplate({ template }: { template: HandOverTemplate }) {
  return (
    <Window
      title={`Apply “${template.name}”`}
      onClose={closeComposerDialog}
      foot={
        <>
          <Action label="Cancel" onPress={closeComposerDialog} />
          <Action label="Replace mine" onPress={() => apply(template, 'take')} />
          <Action label="Put it below mine" onPress={() => apply(template, 'below')} />
          <Action tone="lead" label="Keep mine" onPress={() => apply(template, 'keep')} />
        </>
      }
    >
      <p>You have written a message already. The template brings this one:</p>
      <p className="note-box template-message">{template.message}</p>
      <p className="soft">
        Its other choices are taken in any case: clips at 1/{template.slowBy} of real speed,{' '}
        {template.maxHeight} lines, {template.withPlan ? 'with' : 'without'} the practice plan.
      </p>
    </Window>
  )
}

export function SaveTemplate() {
  const templates = useComposer((s) => s.templates)
  const draft = useComposer((s) => s.draft)!
  const [name, setName] = useState('')
  const [message, setMessage] = useState(draft.message)
  const same = templates.find((t) => t.name.toLowerCase() === name.trim().toLowerCase())
  const save = async () => {
    const { slowBy, maxHeight, withPlan } = draft
    const kept = await telling(
      ask('handOver.saveTemplate', {
        id: same?.id ?? null,
        name: name.trim(),
        message,
        slowBy,
        maxHeight,
        withPlan,
      }),
    )
    if (!kept) return
    await reloadTemplates()
    closeComposerDialog()
    sayNews(`Template “${name.trim()}” saved`)
  }
  return (
    <Window
      title="Save as a template"
      onClose={closeComposerDialog}
      foot={
        <>
          <Action label="Cancel" onPress={closeComposerDialog} />
          <Action
            tone="lead"
            label={same ? 'Replace the template' : 'Save'}
            isDisabled={name.trim() === ''}
            onPress={() => void save()}
          />
        </>
      }
    >
      <Words label="Name of the template" maxLength={200} value={name} onChange={setName} />
      {same && (
        <p className="note-box note-box-ask">There is a template of this name; it will be replaced.</p>
      )}
      <Words
        lines={4}
        label="Its message; take out what belongs to this student only"
        maxLength={20_000}
        value={message}
        onChange={setMessage}
      />
      <p className="soft">
        It also keeps: clips at 1/{draft.slowBy} of real speed, {draft.maxHeight} lines,{' '}
        {draft.withPlan ? 'with' : 'without'} the practice plan.
      </p>
    </Window>
  )
}
