import { windowWords } from './window-words.ts'

/** Words of parts that many screens use. */
export const partWords = windowWords({
  // FindingText
  data: 'Data',
  method: 'Method',
  source: 'Source',

  // NoteField
  edit: 'Edit: {label}',
  noteSigns: '**bold**, *italic*; “- ” begins a line of a list',
})
