import { useEffect, useId, useRef, useState } from 'react'

/**
 * Text that is saved as it is typed: a moment after the last key, and when the field is left or goes away.
 * What comes from elsewhere (undo, another window) shows unless the coach is typing here.
 */
export function SavedText(props: {
  label: string
  value: string
  onSave: (value: string) => void
  /** 1 is one line that Enter leaves; more (1.5 begins with one) grow with the text. */
  lines?: number
  placeholder?: string
  quiet?: boolean
  hideLabel?: boolean
  maxLength?: number
  /** Enter saves and leaves the field; Shift+Enter never breaks the line in a one-line field. */
  required?: boolean
}) {
  const { value, onSave, lines = 1 } = props
  const id = useId()
  const [text, setText] = useState(value)
  const [known, setKnown] = useState(value)
  const pending = useRef<{ timer: ReturnType<typeof setTimeout>; text: string } | null>(null)
  const save = useRef(onSave)
  useEffect(() => {
    save.current = onSave
  })
  if (value !== known) {
    setKnown(value)
    setText(value)
  }

  const flush = () => {
    const waiting = pending.current
    if (!waiting) return
    clearTimeout(waiting.timer)
    pending.current = null
    save.current(waiting.text)
  }
  useEffect(() => flush, [])

  const change = (next: string) => {
    setText(next)
    if (pending.current) clearTimeout(pending.current.timer)
    pending.current = null
    if (props.required && next.trim() === '') return
    pending.current = { text: next, timer: setTimeout(flush, 500) }
  }
  const shared = {
    id,
    className: `input${props.quiet ? ' input-quiet' : ''}`,
    value: text,
    placeholder: props.placeholder,
    maxLength: props.maxLength,
    'aria-label': props.hideLabel ? props.label : undefined,
    onBlur: () => {
      flush()
      if (props.required && text.trim() === '') setText(value)
    },
  }
  return (
    <div className="field">
      {!props.hideLabel && <label htmlFor={id}>{props.label}</label>}
      {lines === 1 ? (
        <input
          {...shared}
          onChange={(event) => change(event.target.value)}
          onKeyDown={(event) => {
            if (event.key === 'Enter') event.currentTarget.blur()
          }}
        />
      ) : (
        <textarea {...shared} rows={Math.floor(lines)} onChange={(event) => change(event.target.value)} />
      )}
    </div>
  )
}
