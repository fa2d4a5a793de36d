import { describe, expect, it } from 'vitest'
import { variedReport } from '../../../scripts/worlds/support/varied-lesson.ts'
import {
  andList,
  capital,
  dayWord,
  phrase,
  sayWord,
  sentences,
  type Word,
} from '../../../shared-core/wording/phrase.ts'

const findings = Array.from({ length: 40 }, (_, seed) => variedReport(seed + 1)).flatMap((r) => r.findings)

/** Keys of all phrases that a word is made of. */
const keysIn = (word: Word): string[] => {
  if (typeof word !== 'object') return []
  if ('phrase' in word) return [word.phrase, ...Object.values(word.values).flatMap(keysIn)]
  if ('capital' in word) return keysIn(word.capital)
  return 'join' in word ? word.words.flatMap(keysIn) : []
}

describe('findings of varied lessons', () => {
  it('carry what their sentences are made of, as data that crosses processes', () => {
    expect(findings.length).toBeGreaterThan(300)
    for (const { key, sentence, howSure, words } of findings) {
      const crossed = JSON.parse(JSON.stringify(words)) as typeof words
      expect(sayWord(crossed.sentence), key).toBe(sentence)
      expect(sayWord(crossed.howSure), key).toBe(howSure)
      expect(keysIn(words.sentence).length, `${key}: ${sentence}`).toBeGreaterThan(0)
    }
  })

  it('are made of phrases of many kinds, each part a phrase, and nothing is left unsaid', () => {
    const kinds = new Set(findings.flatMap((f) => keysIn(f.words.sentence)).map((key) => key.split('.')[0]))
    for (const kind of ['compare', 'held', 'speed', 'way', 'count']) expect(kinds).toContain(kind)
    for (const { sentence, howSure, howWeKnow, caution } of findings) {
      for (const said of [sentence, howSure, ...Object.values(howWeKnow), caution ?? '']) {
        expect(said).not.toMatch(/object Object|undefined|[{}]|\.\.|\s\s/)
      }
    }
  })
})

describe('words', () => {
  it('are joined as English joins them', () => {
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map((list) => sayWord(andList(list)))).toEqual([
      '',
      'a',
      'a and b',
      'a, b and c',
    ])
    expect(sayWord(sentences(phrase('sure.clear'), null, capital('that is all.')))).toBe(
      'Clear. That is all.',
    )
    expect(sayWord(dayWord('2026-05-09'))).toBe('9 May 2026')
  })
})
