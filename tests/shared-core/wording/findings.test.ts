import { describe, expect, it } from 'vitest'
import { variedReport } from '../../../scripts/worlds/support/varied-lesson.ts'
import {
  andList,
  messageOf,
  phraseKeys,
  sayOrNull,
  capital,
  dayWord,
  keepWord,
  phrase,
  sayKept,
  sayWord,
  sentences,
  type Word,
} from '../../../shared-core/wording/phrase.ts'
import { parse, TYPE } from '@formatjs/icu-messageformat-parser'
import { de } from '../../../shared-core/wording/de.ts'
import { en } from '../../../shared-core/wording/en.ts'
import { holdingBack } from '../../../shared-core/impact/holding-back.ts'
import { mersenneGenerator } from '../../../shared-core/statistics/generator.ts'
import type { Language } from '../../../shared-core/wording/language.ts'
import { findingPhrases } from '../../../shared-core/wording/coach/findings.ts'
import type { SpokenKey } from '../../../shared-core/wording/coach/spoken.ts'
import { sayHowWeKnow } from '../../../shared-core/wording/how-we-know.ts'
import { catalogues } from '../../../shared-core/wording/say.ts'
import { findingIn, findingsIn, sayFindingIn } from '../../../shared-core/wording/say-finding.ts'

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
    for (const { key, sentence, howSure, caution, howWeKnow, words } of findings) {
      const crossed = JSON.parse(JSON.stringify(words)) as typeof words
      expect(sayWord(crossed.sentence), key).toBe(sentence)
      expect(sayWord(crossed.howSure), key).toBe(howSure)
      expect(sayOrNull(crossed.caution), key).toBe(caution)
      expect(sayHowWeKnow(crossed.howWeKnow), key).toEqual(howWeKnow)
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

  it('lie in the records as data, and are said from it; text that somebody wrote, or an older Leadside, stays as it is', () => {
    expect(sayKept(keepWord(phrase('result.already', { clip: 'a.mp4' })))).toBe(
      'already in this lesson as a.mp4',
    )
    for (const text of ['added, but its end is missing', '{"a": 1}', '{swing}.mp4', '3', '']) {
      expect(sayKept(keepWord(text))).toBe(text)
    }
    const newer = '{"phrase":"result.unheardOf","values":{}}'
    expect(sayKept(newer)).toBe(newer)
  })
})

const other = ['de', 'es'] as const
const placesIn = (message: string): string[] => [
  ...new Set(
    parse(message).flatMap((e) => (e.type === TYPE.argument || e.type === TYPE.plural ? [e.value] : [])),
  ),
]

describe.each(other)('findings in %s', (language) => {
  const messages = Object.entries(findingsIn[language]) as [SpokenKey, string][]

  it('have every message, with the same places to fill', () => {
    const spoken = phraseKeys.filter((key) => key in findingPhrases || key.startsWith('metric.'))
    expect(messages.map(([key]) => key).toSorted()).toEqual(spoken.toSorted())
    for (const [key, message] of messages) {
      expect(placesIn(message).toSorted(), key).toEqual(placesIn(messageOf(key)).toSorted())
    }
  })

  it('call numbers as the student’s page does', () => {
    const page = Object.entries(catalogues[language]).flatMap(([key, label]) =>
      key.startsWith('label.') ? [[key.replace('label.', 'metric.'), label] as const] : [],
    )
    expect(page.length).toBeGreaterThan(3)
    expect(Object.fromEntries(messages)).toMatchObject(Object.fromEntries(page))
  })

  it('leave no sentence in English', () => {
    const words = (message: string) => message.replaceAll(/\{[^{}]*\}/g, '').match(/\p{L}{3,}/gu) ?? []
    const same = messages.filter(([key, message]) => message === messageOf(key) && words(message).length > 1)
    expect(same).toEqual([])
  })

  it('claim no cause', () => {
    for (const [key, message] of messages) {
      expect(message, key).not.toMatch(
        /\b(weil|wegen|dank|verursacht|porque|debido|gracias a|causó|causa de)\b/i,
      )
    }
  })

  it('say every finding of the lessons, with the same numbers', () => {
    const digits = (text: string) =>
      (text.match(/\d+(?:[.,]\d+)?/g) ?? []).map((n) => n.replace(',', '.')).toSorted()
    for (const finding of findings) {
      const said = findingIn(language, finding)
      for (const [english, other] of [
        [finding.sentence, said.sentence],
        [finding.howWeKnow.data, said.howWeKnow.data],
        [finding.howWeKnow.method, said.howWeKnow.method],
      ] as const) {
        expect(other, finding.key).not.toMatch(/[{}]|undefined|object Object/)
        if (/[a-z]{3}/.test(english)) expect(other, finding.key).not.toBe(english)
        const missing = digits(english).filter((n) => !digits(other).includes(n))
        expect(missing, `${finding.key}\n${english}\n${other}`).toEqual([])
      }
    }
  })
})

describe('a reason that a finding quotes', () => {
  const shots = (club: string, launchDeg: number | null) =>
    Array.from({ length: 8 }, (_, i) => ({
      club,
      clubSpeedMps: 40 + 0.2 * i,
      ballSpeedMps: 58 + 0.2 * i,
      launchDeg,
      spinRpm: null,
    }))
  const saidOf = (club: string, language: Language) => {
    const held = holdingBack(shots(club, null), { generator: mersenneGenerator(1) })
    return findingIn(language, held).sentence
  }

  it('is said in the language of the finding', () => {
    expect(saidOf('old brassie', 'en')).toBe(
      'Can\'t tell: no ceiling is known for "old brassie"; 20 own shots would give one (0 so far).',
    )
    expect(saidOf('old brassie', 'de')).toBe(
      'Lässt sich nicht sagen: für "old brassie" ist keine Obergrenze bekannt; 20 eigene Schläge ergäben eine (bisher 0).',
    )
    expect(saidOf('old brassie', 'es')).toBe(
      'No se puede decir: no se conoce ningún techo para "old brassie"; 20 golpes propios darían uno (0 hasta ahora).',
    )
  })

  it('stands in what it rests on, too, with the decimal mark of the language', () => {
    const held = holdingBack(shots('driver', null), { generator: mersenneGenerator(1) })
    const { data, method } = findingIn('de', held).howWeKnow
    expect(data).toMatch(
      /Start 10,9° ± 3° und Spin 2700 ± 500 U\/min angenommen: Durchschnitt der Herren-Tour/,
    )
    expect(method).toMatch(
      /Durchschnitt der Herren-Tour mit driver .*eine weiche Obergrenze; die Formel ergibt 1,4/,
    )
  })
})

describe('numbers in a finding', () => {
  it('have the decimal mark of the language; a name stays as somebody gave it', () => {
    const finding = phrase('compare.shotsInMedian', {
      shots: phrase('count.shot', { n: 1 }),
      block: phrase('text.quoted', { label: '2.1' }),
      median: '41.6 m/s',
    })
    expect(other.map((language) => sayFindingIn(language, finding))).toEqual([
      '1 Schlag in „2.1“, Median 41,6 m/s',
      '1 golpe en «2.1», mediana 41,6 m/s',
    ])
    expect(sayFindingIn('en', finding)).toBe('1 shot in “2.1”, median 41.6 m/s')
  })

  it('stand beside blocks and clubs as the language calls those that nobody has named', () => {
    const said = (label: string, club: string) => {
      const kind = phrase('count.clubShot', { n: 3, club })
      return sayFindingIn('de', phrase('text.inBlock', { kind, block: phrase('text.quoted', { label }) }))
    }
    expect(said('Block 2', '7-iron')).toBe('3 Schläge mit Eisen 7 in „Abschnitt 2“')
    expect(said(en['block.baseline'], 'driver')).toBe(`3 Schläge mit driver in „${de['block.baseline']}“`)
    expect(said('Softer', 'old brassie')).toBe('3 Schläge mit old brassie in „Softer“')
  })
})
