/** A whole number in a small field, saved as it is typed. */
export function Millimetres(props: {
  label: string
  value: number | null
  min?: number
  max?: number
  onSave: (value: number) => void
}) {
  const { label, value, min = -60, max = 60, onSave } = props
  return (
    <label className="field">
      <span className="label">{label}</span>
      <input
        className="input"
        type="number"
        step={1}
        min={min}
        max={max}
        value={value ?? ''}
        onChange={(event) => {
          const typed = event.target.valueAsNumber
          if (typed >= min && typed <= max) onSave(typed)
        }}
      />
    </label>
  )
}
