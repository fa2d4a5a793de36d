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
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

const apply = (template: HandOverTemplate, message: 'take' | 'keep' | 'below') => {
  changeDraft((draft) => applyTemplate(draft, template, message))
  closeComposerDialog()
  sayNews(handOverWords('templateApplied', { name: template.name }))
}

const choicesOf = ({
  slowBy,
  maxHeight,
  withPlan,
}: Pick<HandOverTemplate, 'slowBy' | 'maxHeight' | 'withPlan'>) => ({
  slowBy,
  maxHeight,
  plan: handOverWords(withPlan ? 'withPlan' : 'withoutPlan'),
})

/** The coach's own templates: what to say and how the clips run. */
export function TemplateMenu() {
  const templates = useComposer((s) => s.templates)
  return (
    <MenuTrigger>
      <Button className="button">
        {handOverWords('templates')} <ChevronDown size={14} aria-hidden />
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
              {handOverWords('noTemplateYet')}
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
            {handOverWords('saveAsTemplate')}
          </MenuItem>
          {templates.length > 0 && (
            <MenuItem id="manage" className="menu-item">
              {handOverWords('renameOrDelete')}
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
      title={handOverWords('applyTemplate', { name: template.name })}
      onClose={closeComposerDialog}
      foot={
        <>
          <Action label={commonWords('cancel')} onPress={closeComposerDialog} />
          <Action label={handOverWords('replaceMine')} onPress={() => apply(template, 'take')} />
          <Action label={handOverWords('putItBelow')} onPress={() => apply(template, 'below')} />
          <Action tone="lead" label={handOverWords('keepMine')} onPress={() => apply(template, 'keep')} />
        </>
      }
    >
      <p>{handOverWords('messageThere')}</p>
      <p className="note-box template-message">{template.message}</p>
      <p className="soft">{handOverWords('otherChoices', { ...choicesOf(template) })}</p>
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
    sayNews(handOverWords('templateSaved', { name: name.trim() }))
  }
  return (
    <Window
      title={handOverWords('saveTemplateTitle')}
      onClose={closeComposerDialog}
      foot={
        <>
          <Action label={commonWords('cancel')} onPress={closeComposerDialog} />
          <Action
            tone="lead"
            label={same ? handOverWords('replaceTemplate') : handOverWords('save')}
            isDisabled={name.trim() === ''}
            onPress={() => void save()}
          />
        </>
      }
    >
      <Words label={handOverWords('templateName')} maxLength={200} value={name} onChange={setName} />
      {same && <p className="note-box note-box-ask">{handOverWords('willBeReplaced')}</p>}
      <Words
        lines={4}
        label={handOverWords('templateMessage')}
        maxLength={20_000}
        value={message}
        onChange={setMessage}
      />
      <p className="soft">{handOverWords('alsoKeeps', { ...choicesOf(draft) })}</p>
    </Window>
  )
}
