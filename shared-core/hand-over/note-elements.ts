import { createElement as h, Fragment, type ReactElement } from 'react'
import { readNote, type NoteRun } from '../notes/read-note.ts'

const runElement = ({ text, isBold, isItalic }: NoteRun) => {
  const inner = isItalic ? h('em', null, text) : text
  return isBold ? h('strong', null, inner) : inner
}

const runsElement = (runs: readonly NoteRun[]) => h(Fragment, null, ...runs.map(runElement))

/** A note as it reads: paragraphs, lists, bold and italic; all else is text. */
export const noteElements = (text: string): ReactElement =>
  h(
    Fragment,
    null,
    ...readNote(text).map((block) =>
      block.kind === 'list'
        ? h('ul', null, ...block.items.map((item) => h('li', null, runsElement(item))))
        : h(
            'p',
            null,
            ...block.lines.flatMap((line, i) => (i > 0 ? [h('br'), runsElement(line)] : [runsElement(line)])),
          ),
    ),
  )
