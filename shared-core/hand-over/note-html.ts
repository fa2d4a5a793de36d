import { readNote, type NoteRun } from '../notes/read-note.ts'
import { escapeHtml } from './escape-html.ts'

const runHtml = ({ text, isBold, isItalic }: NoteRun): string => {
  const inner = isItalic ? `<em>${escapeHtml(text)}</em>` : escapeHtml(text)
  return isBold ? `<strong>${inner}</strong>` : inner
}
const lineHtml = (runs: NoteRun[]) => runs.map(runHtml).join('')

/** A note as the page shows it; every tag is ours, all else is escaped. */
export const noteHtml = (text: string): string =>
  readNote(text)
    .map((block) =>
      block.kind === 'list'
        ? `<ul>${block.items.map((item) => `<li>${lineHtml(item)}</li>`).join('')}</ul>`
        : `<p>${block.lines.map(lineHtml).join('<br>')}</p>`,
    )
    .join('\n')
