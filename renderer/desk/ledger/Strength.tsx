import { Radio, RadioGroup } from 'react-aria-components'

const words = ['seen', 'slight', 'clear', 'strong']

/** Strength 0 to 3, as filled bars. */
export function Strength(props: { label: string; value: number; onChange: (value: number) => void }) {
  return (
    <RadioGroup
      className="strength"
      orientation="horizontal"
      aria-label={props.label}
      value={String(props.value)}
      onChange={(value) => props.onChange(Number(value))}
    >
      {words.map((word, i) => (
        <Radio
          key={word}
          value={String(i)}
          aria-label={`${i}, ${word}`}
          className={`strength-bar${i > 0 && i <= props.value ? ' is-filled' : ''}${i === 0 ? ' is-zero' : ''}`}
          style={{ height: 7 + i * 4 }}
        />
      ))}
    </RadioGroup>
  )
}
