import type { ReactNode } from 'react'
import { ToggleButton, ToggleButtonGroup } from 'react-aria-components'
import { Hinted } from './Action.tsx'

/** One of two to five, side by side. */
export function Choice<T extends string>(props: {
  label: string
  value: T
  options: readonly { value: T; label: string; icon?: ReactNode }[]
  onChange: (value: T) => void
  small?: boolean
}) {
  return (
    <ToggleButtonGroup
      className="choice"
      aria-label={props.label}
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={[props.value]}
      onSelectionChange={(keys) => {
        const [first] = [...keys]
        if (first !== undefined) props.onChange(String(first) as T)
      }}
    >
      {props.options.map((option) => {
        const button = (
          <ToggleButton
            key={option.value}
            id={option.value}
            className={`button${props.small ? ' button-small' : ''}${option.icon ? ' button-icon' : ''}`}
            aria-label={option.icon ? option.label : undefined}
          >
            {option.icon ?? option.label}
          </ToggleButton>
        )
        return option.icon ? (
          <Hinted key={option.value} label={option.label}>
            {button}
          </Hinted>
        ) : (
          button
        )
      })}
    </ToggleButtonGroup>
  )
}
