import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { renderToStaticMarkup } from 'react-dom/server'
import { noteElements } from '../../../shared-core/hand-over/note-elements.ts'
import { isFormatted, readNote } from '../../../shared-core/notes/read-note.ts'

const noteHtml = (text: string) => renderToStaticMarkup(noteElements(text))

/** Notes as coaches type them, and as nobody would. */
const notes = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 200 }),
  fc
    .array(
      fc.constantFrom(
        '*',
        '**',
        '***',
        '****',
        ' ',
        '\n',
        '\n\n',
        '\r\n',
        '- ',
        '-',
        'a',
        'soft',
        '7',
        'é',
        '<b>',
        '</p>',
        '&lt;',
        '<script>alert(1)</script>',
        '"',
        "'",
        '.',
        '<img src=x onerror=y>',
      ),
      { maxLength: 40 },
    )
    .map((parts) => parts.join('')),
)

const ours = /<\/?(?:p|ul|li|strong|em)>|<br\/>/g

describe('notes', () => {
  test('bold, italic, lists and paragraphs', () => {
    expect(noteHtml('**Soft** hands, *then* turn\nand ***both***\n\n- one\n- **two**\nafter')).toBe(
      '<p><strong>Soft</strong> hands, <em>then</em> turn<br/>and <strong><em>both</em></strong></p>' +
        '<ul><li>one</li><li><strong>two</strong></li></ul><p>after</p>',
    )
    expect(noteHtml('**bold with *italic* inside**')).toBe(
      '<p><strong>bold with </strong><strong><em>italic</em></strong><strong> inside</strong></p>',
    )
  })

  test.each([
    '3 * 4 * 5',
    '3*4*5',
    '* a star alone',
    '**',
    '**not closed',
    'not opened**',
    '-5 degrees',
    '-',
    '- ',
    'a ** b ** c',
    '****four****',
    '*',
    '**one* two',
  ])('%j stays as typed', (text) => {
    expect(noteHtml(text)).toBe(`<p>${text.trim()}</p>`)
    expect(isFormatted(text)).toBe(false)
  })

  test('no note makes a tag that is not ours, and ours are closed in order', () => {
    fc.assert(
      fc.property(notes, (text) => {
        const html = noteHtml(text)
        expect(html.replace(ours, '')).not.toMatch(/[<>"']/)
        const open: string[] = []
        for (const [tag] of html.matchAll(ours)) {
          if (tag === '<br/>') continue
          if (tag.startsWith('</')) expect(open.pop()).toBe(tag.replace('/', ''))
          else open.push(tag)
        }
        expect(open).toEqual([])
      }),
      { numRuns: 2000 },
    )
  })

  test('no text is lost: only stars that found a partner, dashes of a list and space at the ends go', () => {
    const kept = (text: string) => text.replace(/[\s*-]/g, '')
    fc.assert(
      fc.property(notes, (text) => {
        const runs = readNote(text).flatMap((b) => (b.kind === 'list' ? b.items : b.lines).flat())
        expect(kept(runs.map((r) => r.text).join(''))).toBe(kept(text))
        const stars = (t: string) => t.split('*').length - 1
        const gone = stars(text) - stars(runs.map((r) => r.text).join(''))
        expect(gone % 2).toBe(0)
        if (!isFormatted(text)) expect(gone).toBe(0)
      }),
      { numRuns: 2000 },
    )
  })
})
