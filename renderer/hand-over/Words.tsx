import { useId, type CSSProperties } from 'react'

/** Text held by the composer, which saves it as it is typed; several lines grow with what is in them. */
export function Words(props: {
  label: string
  hideLabel?: boolean
  value: string
  onChange: (value: string) => void
  onLeave?: () => void
  /** Lines it begins with; without it, it is a field of one line. */
  lines?: number
  placeholder?: string
  maxLength: number
  quiet?: boolean
}) {
  const id = useId()
  const { lines } = props
  const shared = {
    id,
    className: `input${props.quiet ? ' input-quiet' : ''}${lines ? ' words' : ''}`,
    value: props.value,
    placeholder: props.placeholder,
    maxLength: props.maxLength,
    'aria-label': props.hideLabel ? props.label : undefined,
    onBlur: props.onLeave,
  }
  return (
    <div className="field">
      {!props.hideLabel && <label htmlFor={id}>{props.label}</label>}
      {lines ? (
        <textarea
          {...shared}
          rows={lines}
          style={{ '--lines': lines } as CSSProperties}
          onChange={(event) => props.onChange(event.target.value)}
        />
      ) : (
        <input {...shared} onChange={(event) => props.onChange(event.target.value)} />
      )}
    </div>
  )
}
