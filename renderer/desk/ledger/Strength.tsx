import { Radio, RadioGroup } from 'react-aria-components'
import { cuesWords } from '../../../shared-core/wording/window/cues.ts'

const strengths = [0, 1, 2, 3] as const

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
      {strengths.map((i) => (
        <Radio
          key={i}
          value={String(i)}
          aria-label={`${i}, ${cuesWords(`strength.${i}`)}`}
          className={`strength-bar${i > 0 && i <= props.value ? ' is-filled' : ''}${i === 0 ? ' is-zero' : ''}`}
          style={{ height: 7 + i * 4 }}
        />
      ))}
    </RadioGroup>
  )
}
