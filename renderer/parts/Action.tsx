import type { ReactNode } from 'react'
import { Button, ToggleButton, Tooltip, TooltipTrigger } from 'react-aria-components'

interface ActionProps {
  label: string
  /** Shown beside the label in the tooltip. */
  keys?: string
  icon?: ReactNode
  /** Shows the words, too. */
  withLabel?: boolean
  tone?: 'lead' | 'plain' | 'wrong' | 'usual'
  small?: boolean
  isDisabled?: boolean
  onPress: () => void
}

const classOf = ({ tone = 'usual', small, icon, withLabel }: Partial<ActionProps>) =>
  [
    'button',
    tone === 'usual' ? '' : `button-${tone}`,
    small ? 'button-small' : '',
    icon && !withLabel ? 'button-icon' : '',
  ]
    .filter(Boolean)
    .join(' ')

/** A button with a name for everyone: as words, or as a tooltip and for screen readers. */
export function Action(props: ActionProps) {
  const { label, keys, icon, withLabel, isDisabled, onPress } = props
  const showsLabel = withLabel || !icon
  const button = (
    <Button
      className={classOf(props)}
      aria-label={showsLabel ? undefined : label}
      isDisabled={isDisabled}
      onPress={onPress}
    >
      {icon}
      {showsLabel && <span>{label}</span>}
    </Button>
  )
  return showsLabel && !keys ? (
    button
  ) : (
    <Hinted label={label} keys={keys}>
      {button}
    </Hinted>
  )
}

interface ToggleProps extends Omit<ActionProps, 'onPress'> {
  isOn: boolean
  onChange: (isOn: boolean) => void
}

export function Toggle(props: ToggleProps) {
  const { label, keys, icon, withLabel, isDisabled, isOn, onChange } = props
  const showsLabel = withLabel || !icon
  return (
    <Hinted label={label} keys={keys}>
      <ToggleButton
        className={classOf(props)}
        aria-label={showsLabel ? undefined : label}
        isDisabled={isDisabled}
        isSelected={isOn}
        onChange={onChange}
      >
        {icon}
        {showsLabel && <span>{label}</span>}
      </ToggleButton>
    </Hinted>
  )
}

export function Hinted({ label, keys, children }: { label: string; keys?: string; children: ReactNode }) {
  return (
    <TooltipTrigger delay={500} closeDelay={0}>
      {children}
      <Tooltip className="tooltip" offset={6}>
        {label}
        {keys && <kbd>{keys}</kbd>}
      </Tooltip>
    </TooltipTrigger>
  )
}
