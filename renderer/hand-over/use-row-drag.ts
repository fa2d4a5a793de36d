import { useState, type DragEvent } from 'react'

/**
 * Rows moved by dragging their handle; `props(i)` goes on the row, `handle(i)` on its handle. For keys there are
 * buttons beside it.
 */
export const useRowDrag = (onMove: (from: number, to: number) => void) => {
  const [from, setFrom] = useState<number | null>(null)
  const [over, setOver] = useState<number | null>(null)
  const end = () => {
    setFrom(null)
    setOver(null)
  }
  return {
    handle: (index: number) => ({
      draggable: true,
      onDragStart: (event: DragEvent<HTMLElement>) => {
        event.dataTransfer.effectAllowed = 'move'
        event.dataTransfer.setData('text/plain', String(index))
        const row = event.currentTarget.closest('li')
        if (row) event.dataTransfer.setDragImage(row, 12, 12)
        setFrom(index)
      },
      onDragEnd: end,
    }),
    row: (index: number) => ({
      'data-dragged': from === index || undefined,
      'data-drop':
        from !== null && over === index && from !== index ? (from < index ? 'after' : 'before') : undefined,
      onDragOver: (event: DragEvent<HTMLElement>) => {
        if (from === null) return
        event.preventDefault()
        setOver(index)
      },
      onDrop: (event: DragEvent<HTMLElement>) => {
        if (from === null) return
        event.preventDefault()
        if (from !== index) onMove(from, index)
        end()
      },
    }),
  }
}
