import { ArrowDown, ArrowUp } from 'lucide-react'
import { Action } from '../parts/Action.tsx'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** One place up, one place down. */
export function MoveButtons(props: {
  what: string
  index: number
  count: number
  onMove: (to: number) => void
}) {
  const { what, index, count, onMove } = props
  return (
    <>
      <Action
        small
        tone="plain"
        icon={<ArrowUp size={15} />}
        label={handOverWords('moveUp', { what })}
        isDisabled={index === 0}
        onPress={() => onMove(index - 1)}
      />
      <Action
        small
        tone="plain"
        icon={<ArrowDown size={15} />}
        label={handOverWords('moveDown', { what })}
        isDisabled={index === count - 1}
        onPress={() => onMove(index + 1)}
      />
    </>
  )
}
