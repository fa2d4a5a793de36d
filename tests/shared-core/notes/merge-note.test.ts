import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { mergeNote } from '../../../shared-core/notes/merge-note.ts'

describe('two hands in one note', () => {
  test('changes in different places are both made', () => {
    expect(mergeNote('grip\nstance', 'grip: stronger\nstance', 'grip\nstance: wider')).toBe(
      'grip: stronger\nstance: wider',
    )
    expect(mergeNote('a long note', 'a note', 'a long note, kept')).toBe('a note, kept')
  })

  test('both at the end: theirs first, mine on a line of its own', () => {
    expect(mergeNote('', 'mine', 'theirs')).toBe('theirs\nmine')
    expect(mergeNote('soft', 'soft hands', 'soft arms')).toBe('soft arms\n hands')
  })

  test('one hand alone simply writes', () => {
    expect(mergeNote('a', 'ab', 'a')).toBe('ab')
    expect(mergeNote('a', 'a', 'ac')).toBe('ac')
    expect(mergeNote('a', '', 'a')).toBe('')
  })

  test('whatever either typed is in the result', () => {
    const letters = (from: string) => fc.string({ unit: fc.constantFrom(...from), maxLength: 12 })
    const typing = (from: string) => fc.tuple(fc.nat(30), fc.nat(10), letters(from))
    const type = (text: string, [at, gone, by]: [number, number, string]) =>
      text.slice(0, at) + by + text.slice(at + gone)
    fc.assert(
      fc.property(letters('abc \n'), typing('XYZ'), typing('123'), (before, first, second) => {
        const merged = mergeNote(before, type(before, first), type(before, second))
        expect(merged).toContain(first[2])
        expect(merged).toContain(second[2])
      }),
      { numRuns: 3000 },
    )
  })
})
