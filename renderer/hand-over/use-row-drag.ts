import { useRef, useState } from 'react'
import { useDrag, useDrop, type DragPreviewRenderer } from 'react-aria'

const rowType = 'leadside-row'

interface DraggedRow {
  /** The row that is being dragged; null while none is. */
  from: number | null
  setFrom: (index: number | null) => void
  onMove: (from: number, to: number) => void
}

/** A list whose rows can be moved; what comes back is for `useRowDrag` of each. */
export const useRowsDrag = (onMove: (from: number, to: number) => void): DraggedRow => {
  const [from, setFrom] = useState<number | null>(null)
  return { from, setFrom, onMove }
}

/**
 * A row that is moved by its handle: with a pointer; or by Enter on the handle, Tab to another row, Enter.
 * `row` goes on the row, `grip` on what is dragged, `button` on the button in it.
 */
export const useRowDrag = (index: number, { from, setFrom, onMove }: DraggedRow) => {
  const rowRef = useRef<HTMLLIElement>(null)
  const preview = useRef<DragPreviewRenderer>((_items, show) => show(rowRef.current, 12, 12))
  const { dragProps, dragButtonProps } = useDrag({
    hasDragButton: true,
    getItems: () => [{ [rowType]: String(index) }],
    getAllowedDropOperations: () => ['move'],
    preview,
    onDragStart: () => setFrom(index),
    onDragEnd: () => setFrom(null),
  })
  const { dropProps, isDropTarget } = useDrop({
    ref: rowRef,
    getDropOperation: (types) => (types.has(rowType) && from !== null && from !== index ? 'move' : 'cancel'),
    onDrop: () => {
      if (from !== null) onMove(from, index)
    },
  })
  return {
    row: {
      ...dropProps,
      ref: rowRef,
      // With keys the row that it would be dropped on has the focus.
      tabIndex: -1,
      'data-dragged': from === index || undefined,
      'data-drop': isDropTarget && from !== null ? (from < index ? 'after' : 'before') : undefined,
    },
    grip: dragProps,
    button: dragButtonProps,
  }
}
