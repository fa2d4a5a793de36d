/**
 * The coach's notes are plain text with three signs, of our own choosing and readable as they stand: **bold**, *italic*,
 * and lines that begin with "- " as a list. A blank line begins a paragraph. What is not a pair of signs stays as typed.
 */
export interface NoteRun {
  text: string
  isBold: boolean
  isItalic: boolean
}

/** A paragraph or a list of a note. */
export type NoteBlock = { kind: 'paragraph'; lines: NoteRun[][] } | { kind: 'list'; items: NoteRun[][] }

const listItem = /^\s*- +(?=\S)/

/** A note as paragraphs and lists. */
export const readNote = (text: string): NoteBlock[] => {
  const blocks: NoteBlock[] = []
  let isNewParagraph = true
  for (const line of text.split(/\r\n|\r|\n/)) {
    if (line.trim() === '') {
      isNewParagraph = true
      continue
    }
    const last = blocks.at(-1)
    const dash = listItem.exec(line)
    if (dash) {
      const item = runsOf(line.slice(dash[0].length).trimEnd())
      if (last?.kind === 'list' && !isNewParagraph) last.items.push(item)
      else blocks.push({ kind: 'list', items: [item] })
    } else {
      const runs = runsOf(line.trim())
      if (last?.kind === 'paragraph' && !isNewParagraph) last.lines.push(runs)
      else blocks.push({ kind: 'paragraph', lines: [runs] })
    }
    isNewParagraph = false
  }
  return blocks
}

/** True if something in the note looks other than plain paragraphs. */
export const isFormatted = (text: string): boolean =>
  readNote(text).some(
    (block) => block.kind === 'list' || block.lines.some((runs) => runs.some((r) => r.isBold || r.isItalic)),
  )

interface Piece {
  text: string
  /** Stars that may still find their partner; text otherwise. */
  stars: number
  opens: number
  closes: number
}

const isWord = (c: string | undefined) => c !== undefined && /[\p{L}\p{N}]/u.test(c)
const isSpace = (c: string | undefined) => c === undefined || /\s/.test(c)

/** Stars find their partners in one pass: an end goes with the nearest beginning of as many stars. */
function runsOf(line: string): NoteRun[] {
  const pieces: Piece[] = []
  const open: number[] = []
  const openOf = [0, 0, 0, 0]
  let from = 0
  for (const { 0: run, index } of line.matchAll(/\*+/g)) {
    if (index > from) pieces.push({ text: line.slice(from, index), stars: 0, opens: 0, closes: 0 })
    from = index + run.length
    const stars = run.length <= 3 ? run.length : 0
    const piece: Piece = { text: run, stars, opens: 0, closes: 0 }
    pieces.push(piece)
    if (stars === 0) continue
    const [before, after] = [line[index - 1], line[from]]
    if (!isSpace(before) && !isWord(after) && openOf[stars]! > 0) {
      for (;;) {
        const at = open.pop()!
        const partner = pieces[at]!
        openOf[partner.stars]!--
        if (partner.stars !== stars) continue
        partner.opens = stars
        piece.closes = stars
        break
      }
    } else if (!isSpace(after) && !isWord(before)) {
      open.push(pieces.length - 1)
      openOf[stars]!++
    }
  }
  if (from < line.length) pieces.push({ text: line.slice(from), stars: 0, opens: 0, closes: 0 })

  const runs: NoteRun[] = []
  let bold = 0
  let italic = 0
  for (const { text, opens, closes } of pieces) {
    const signs = opens || closes
    if (signs > 0) {
      const by = opens > 0 ? 1 : -1
      if (signs >= 2) bold += by
      if (signs !== 2) italic += by
      continue
    }
    const last = runs.at(-1)
    const look = { isBold: bold > 0, isItalic: italic > 0 }
    if (last && last.isBold === look.isBold && last.isItalic === look.isItalic) last.text += text
    else runs.push({ text, ...look })
  }
  return runs
}
