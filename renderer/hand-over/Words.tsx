import { useId } from 'react'

/** Text held by the composer, which saves it as it is typed; several lines grow with what is in them. */
export function Words(props: {
  label: string
  hideLabel?: boolean
  value: string
  onChange: (value: string) => void
  onLeave?: () => void
  lines?: number
  placeholder?: string
  maxLength: number
  quiet?: boolean
}) {
  const id = useId()
  const { lines = 1 } = props
  const shared = {
    id,
    className: `input${props.quiet ? ' input-quiet' : ''}${lines > 1 ? ' words' : ''}`,
    value: props.value,
    placeholder: props.placeholder,
    maxLength: props.maxLength,
    'aria-label': props.hideLabel ? props.label : undefined,
    onBlur: props.onLeave,
  }
  return (
    <div className="field">
      {!props.hideLabel && <label htmlFor={id}>{props.label}</label>}
      {lines > 1 ? (
        <textarea {...shared} rows={lines} onChange={(event) => props.onChange(event.target.value)} />
      ) : (
        <input {...shared} onChange={(event) => props.onChange(event.target.value)} />
      )}
    </div>
  )
}
