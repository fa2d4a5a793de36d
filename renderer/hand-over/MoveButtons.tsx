import { ArrowDown, ArrowUp } from 'lucide-react'
import { Action } from '../parts/Action.tsx'

/** One place up, one place down. */
export function MoveButtons(props: {
  what: string
  place: number
  count: number
  onMove: (to: number) => void
}) {
  const { what, place, count, onMove } = props
  return (
    <>
      <Action
        small
        tone="plain"
        icon={<ArrowUp size={15} />}
        label={`Move ${what} up`}
        isDisabled={place === 0}
        onPress={() => onMove(place - 1)}
      />
      <Action
        small
        tone="plain"
        icon={<ArrowDown size={15} />}
        label={`Move ${what} down`}
        isDisabled={place === count - 1}
        onPress={() => onMove(place + 1)}
      />
    </>
  )
}
