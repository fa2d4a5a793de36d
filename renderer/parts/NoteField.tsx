import { Pencil } from 'lucide-react'
import { useId, useLayoutEffect, useRef, useState, type KeyboardEvent } from 'react'
import { isFormatted } from '../../shared-core/notes/read-note.ts'
import { Action } from './Action.tsx'
import { NoteText } from './NoteText.tsx'
import { useSavedText, type SaveText } from './SavedText.tsx'
import { partWords } from '../../shared-core/wording/window/parts.ts'

/** The caret stays where the coach types when text from another window comes in. */
const useSteadyCaret = (text: string) => {
  const field = useRef<HTMLTextAreaElement>(null)
  const last = useRef({ text, caret: 0 })
  useLayoutEffect(() => {
    const element = field.current
    const { text: before, caret } = last.current
    if (!element || before === text) return
    last.current = { ...last.current, text }
    if (document.activeElement !== element) return
    const isBehind = !text.startsWith(before.slice(0, caret))
    const at = isBehind ? Math.max(0, text.length - (before.length - caret)) : caret
    element.setSelectionRange(at, at)
  }, [text])
  const remember = (element: HTMLTextAreaElement) => {
    last.current = { text: element.value, caret: element.selectionEnd }
  }
  return { field, remember }
}

/** Puts the sign around what is selected, as typing would, so that the field's own undo takes it back. */
const surround = (element: HTMLTextAreaElement, sign: string) => {
  const { selectionStart: from, selectionEnd: to, value } = element
  document.execCommand('insertText', false, `${sign}${value.slice(from, to)}${sign}`)
  element.setSelectionRange(from + sign.length, to + sign.length)
}

/**
 * A note: saved as it is typed, formatted where it is read. A note without signs of formatting looks the same either
 * way and stays a field.
 */
export function NoteField(props: { label: string; value: string; lines?: number; onSave: SaveText }) {
  const { label, value, lines = 2, onSave } = props
  const id = useId()
  const { text, change, leave } = useSavedText(value, onSave)
  const { field, remember } = useSteadyCaret(text)
  const [isEditing, setEditing] = useState(false)
  const [isFocused, setFocused] = useState(false)
  const isRead = isFormatted(text) && !isEditing && !isFocused
  const begin = () => {
    setEditing(true)
    requestAnimationFrame(() => field.current?.focus())
  }
  const onKeyDown = (event: KeyboardEvent<HTMLTextAreaElement>) => {
    const sign = event.ctrlKey || event.metaKey ? { b: '**', i: '*' }[event.key] : undefined
    if (sign) {
      event.preventDefault()
      surround(event.currentTarget, sign)
    }
    if (event.key === 'Escape') event.currentTarget.blur()
  }
  return (
    <div className="field">
      <div className="note-head">
        <label htmlFor={isRead ? undefined : id}>{label}</label>
        {isRead && (
          <Action
            small
            tone="plain"
            icon={<Pencil size={13} />}
            label={partWords('edit', { label })}
            onPress={begin}
          />
        )}
      </div>
      {isRead ? (
        <div className="note-read" onClick={() => (getSelection()?.isCollapsed ?? true) && begin()}>
          <NoteText text={text} />
        </div>
      ) : (
        <textarea
          id={id}
          ref={field}
          className="input"
          rows={lines}
          value={text}
          aria-describedby={isFocused ? `${id}-signs` : undefined}
          onChange={(event) => {
            remember(event.target)
            change(event.target.value)
          }}
          onSelect={(event) => remember(event.currentTarget)}
          onKeyDown={onKeyDown}
          onFocus={() => setFocused(true)}
          onBlur={() => {
            leave()
            setFocused(false)
            setEditing(false)
          }}
        />
      )}
      {isFocused && (
        <p id={`${id}-signs`} className="fine soft">
          {partWords('noteSigns')}
        </p>
      )}
    </div>
  )
}
