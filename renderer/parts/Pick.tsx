import { ChevronDown } from 'lucide-react'
import {
  Button,
  Label,
  ListBox,
  ListBoxItem,
  Popover,
  Select,
  SelectValue,
  type Key,
} from 'react-aria-components'
import { useRef } from 'react'

export interface PickOption<T extends string> {
  value: T
  label: string
}

/** One of a few. */
export function Pick<T extends string>(props: {
  label: string
  hideLabel?: boolean
  value: T
  options: readonly PickOption<T>[]
  onChange: (value: T) => void
  isDisabled?: boolean
}) {
  /** Picked with the pointer; by keys the trigger stays in hand. */
  const isByPointer = useRef(false)
  return (
    <Select
      className="select field"
      aria-label={props.hideLabel ? props.label : undefined}
      value={props.value}
      onChange={(value: Key | null) => value !== null && props.onChange(String(value) as T)}
      isDisabled={props.isDisabled}
    >
      {!props.hideLabel && <Label>{props.label}</Label>}
      <Button
        className="button"
        onFocus={(event) => {
          // Keys go to the picture again; on the trigger, arrows would go on choosing unseen.
          if (isByPointer.current) (event.target as HTMLElement).blur()
          isByPointer.current = false
        }}
      >
        <SelectValue />
        <ChevronDown size={14} aria-hidden />
      </Button>
      <Popover className="popover">
        <ListBox items={props.options.map((o) => ({ id: o.value, label: o.label }))}>
          {(item) => (
            <ListBoxItem
              className="option"
              id={item.id}
              textValue={item.label}
              onPress={(event) => {
                isByPointer.current = event.pointerType !== 'keyboard' && event.pointerType !== 'virtual'
              }}
            >
              {item.label}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </Select>
  )
}
