import { useEffect, useId, useRef, useState, type KeyboardEvent } from 'react'
import { mergeNote } from '../../shared-core/notes/merge-note.ts'

/** Saves a text; `before` is what it was when typing began. */
export type SaveText = (value: string, before: string) => void

/**
 * A text that is saved as it is typed: a moment after the last key, and when its field is left or goes away.
 * What comes from elsewhere (undo, another window) shows at once, beside what is being typed here.
 */
export const useSavedText = (value: string, onSave: SaveText, isRequired = false) => {
  const [text, setText] = useState(value)
  const [known, setKnown] = useState(value)
  /** What `text` was typed on; what was sent last counts as known there. */
  const [base, setBase] = useState(value)
  const pending = useRef<{ timer: ReturnType<typeof setTimeout>; text: string; base: string } | null>(null)
  const save = useRef(onSave)
  useEffect(() => {
    save.current = onSave
  })
  if (value !== known) {
    setKnown(value)
    setBase(value)
    if (value !== base) setText(mergeNote(base, text, value))
  }
  // What waits to be saved follows what was merged in.
  useEffect(() => {
    if (pending.current) pending.current = { ...pending.current, text, base }
  }, [text, base])

  const flush = () => {
    const waiting = pending.current
    if (!waiting) return
    clearTimeout(waiting.timer)
    pending.current = null
    setBase(waiting.text)
    save.current(waiting.text, waiting.base)
  }
  useEffect(() => flush, [])

  const change = (next: string) => {
    setText(next)
    if (pending.current) clearTimeout(pending.current.timer)
    pending.current = null
    if (isRequired && next.trim() === '') return
    pending.current = { text: next, base, timer: setTimeout(flush, 500) }
  }
  const leave = () => {
    flush()
    if (isRequired && text.trim() === '') setText(value)
  }
  return { text, change, leave }
}

/** One line or several, saved as typed. */
export function SavedText(props: {
  label: string
  value: string
  onSave: SaveText
  /** 1 is one line that Enter leaves; more (1.5 begins with one) grow with the text. */
  lines?: number
  placeholder?: string
  quiet?: boolean
  hideLabel?: boolean
  maxLength?: number
  /** An empty text is not saved; leaving the field brings the old one back. */
  required?: boolean
}) {
  const { value, onSave, lines = 1, required } = props
  const id = useId()
  const { text, change, leave } = useSavedText(value, onSave, required)
  const shared = {
    id,
    className: `input${props.quiet ? ' input-quiet' : ''}`,
    value: text,
    placeholder: props.placeholder,
    maxLength: props.maxLength,
    'aria-label': props.hideLabel ? props.label : undefined,
    onBlur: leave,
  }
  return (
    <div className="field">
      {!props.hideLabel && <label htmlFor={id}>{props.label}</label>}
      {lines === 1 ? (
        <input
          {...shared}
          onChange={(event) => change(event.target.value)}
          onKeyDown={(event: KeyboardEvent<HTMLInputElement>) => {
            if (event.key === 'Enter') event.currentTarget.blur()
          }}
        />
      ) : (
        <textarea {...shared} rows={Math.floor(lines)} onChange={(event) => change(event.target.value)} />
      )}
    </div>
  )
}
