import { Fragment } from 'react'
import { readNote, type NoteRun } from '../../shared-core/notes/read-note.ts'
import './note.css'

function Runs({ runs }: { runs: NoteRun[] }) {
  return runs.map(({ text, isBold, isItalic }, i) => {
    const inner = isItalic ? <em>{text}</em> : text
    return isBold ? <strong key={i}>{inner}</strong> : <Fragment key={i}>{inner}</Fragment>
  })
}

/** A note as it reads: paragraphs, lists, bold and italic. */
export function NoteText({ text }: { text: string }) {
  return (
    <div className="note-text">
      {readNote(text).map((block, i) =>
        block.kind === 'list' ? (
          <ul key={i}>
            {block.items.map((runs, j) => (
              <li key={j}>
                <Runs runs={runs} />
              </li>
            ))}
          </ul>
        ) : (
          <p key={i}>
            {block.lines.map((runs, j) => (
              <Fragment key={j}>
                {j > 0 && <br />}
                <Runs runs={runs} />
              </Fragment>
            ))}
          </p>
        ),
      )}
    </div>
  )
}
