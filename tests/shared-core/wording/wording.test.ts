import { describe, expect, it } from 'vitest'
import { parse, TYPE, type MessageFormatElement } from '@formatjs/icu-messageformat-parser'
import { starterCueKinds } from '../../../shared-core/model/cue-kinds.ts'
import { starterDrills } from '../../../shared-core/model/starter-drills.ts'
import { momentNames } from '../../../shared-core/model/entities.ts'
import { languageCaution, languages, type Language } from '../../../shared-core/wording/language.ts'
import { en, type MessageKey } from '../../../shared-core/wording/en.ts'
import { starterDrillText, starterTextIn } from '../../../shared-core/wording/starter-texts.ts'
import {
  catalogues,
  clubIn,
  cueKindIn,
  dayIn,
  keptCueLabel,
  metricTextIn,
  momentIn,
  numberIn,
  sayIn,
  speedIn,
} from '../../../shared-core/wording/say.ts'

const keys = Object.keys(en) as MessageKey[]

const placesOf = (elements: MessageFormatElement[]): string[] =>
  elements
    .flatMap((e) => (e.type === TYPE.argument ? [e.value] : e.type === TYPE.plural ? [e.value] : []))
    .toSorted()

/** Words that are the same in both, by right: names of places in a message aside. */
const sameOnPurpose: Partial<Record<Language, readonly MessageKey[]>> = {
  de: ['clip.plain', 'chart.text'],
  es: ['clip.plain', 'chart.text', 'clip.swing', 'page.swingsShort', 'cueKind.grip', 'cueKind.stance'],
}

describe('the words of every language', () => {
  it.each(languages)('%s has every message, with the same places to fill', (language) => {
    expect(Object.keys(catalogues[language]).toSorted()).toEqual(keys.toSorted())
    for (const key of keys) {
      expect(placesOf(parse(catalogues[language][key])), key).toEqual(placesOf(parse(en[key])))
    }
  })

  it.each(['de', 'es'] as const)('%s leaves nothing in English', (language) => {
    const same = keys.filter((key) => catalogues[language][key] === en[key])
    expect(same.toSorted()).toEqual((sameOnPurpose[language] ?? []).toSorted())
  })

  it.each(languages)('%s claims no cause, and gives no interval or share', (language) => {
    const causes =
      /\b(because|due to|caused|thanks to|weil|wegen|dank|verursacht|porque|debido|gracias a|causó)\b/i
    for (const key of keys) {
      expect(catalogues[language][key], key).not.toMatch(causes)
      if (!key.startsWith('clip.')) expect(catalogues[language][key], key).not.toMatch(/%|±|interval/i)
    }
  })

  it.each(languages)('%s says every message with its places filled, and none that is not', (language) => {
    const say = sayIn(language)
    for (const key of keys) {
      const places = placesOf(parse(en[key]))
      const filled = say(key, Object.fromEntries(places.map((p) => [p, `<${p}>`])))
      for (const p of places) expect(filled, key).toContain(`<${p}>`)
      expect(filled).not.toMatch(/[{}]|undefined/)
      if (places.length > 0) expect(() => say(key), key).toThrow()
    }
  })

  it('warn of what no speaker has read, and only of that', () => {
    expect(languages.map((l) => languageCaution(l) === null)).toEqual([true, false, false])
  })
})

describe('names of the trade', () => {
  it('every moment and every cue of a new library has its name in every language', () => {
    for (const language of languages) {
      const say = sayIn(language)
      for (const name of momentNames) {
        expect(momentIn(say, name) === name, `${language} ${name}`).toBe(language === 'en')
      }
      for (const kind of starterCueKinds) {
        expect(kind.label).toBe('')
        expect(cueKindIn(say, kind), kind.key).toBe(catalogues[language][`cueKind.${kind.key}` as MessageKey])
        const named = { key: kind.key, label: cueKindIn(sayIn('en'), kind) }
        expect(keptCueLabel(named)).toBe('')
      }
    }
  })

  it('what the coach named stays as the coach named it', () => {
    const say = sayIn('de')
    expect(momentIn(say, 'my own moment')).toBe('my own moment')
    expect(cueKindIn(say, { key: 'grip', label: 'Grip, but mine' })).toBe('Grip, but mine')
    expect(cueKindIn(say, { key: 'own-1', label: 'Belt' })).toBe('Belt')
    expect(keptCueLabel({ key: 'grip', label: 'Grip, but mine' })).toBe('Grip, but mine')
    expect(keptCueLabel({ key: 'own-1', label: 'Belt' })).toBe('Belt')
    expect(clubIn(say, 'old brassie')).toBe('old brassie')
  })

  it('clubs are called as the language calls them', () => {
    expect(languages.map((l) => clubIn(sayIn(l), '7-iron'))).toEqual(['7-iron', 'Eisen 7', 'hierro 7'])
    expect(languages.map((l) => clubIn(sayIn(l), 'driver'))).toEqual(['driver', 'driver', 'driver'])
  })
})

describe('the starter drills', () => {
  it.each(['de', 'es'] as const)(
    'are there in %s, every text a plan shows, until the coach changes it',
    (language) => {
      for (const { key } of starterDrills) {
        const { name, how, dose, watchFor, caution } = starterDrillText(key)
        const shown = [name, how, dose, watchFor, caution]
        const said = shown.map((text) => starterTextIn(language, text))
        for (const [i, text] of shown.entries()) expect(said[i], text).not.toBe(text)
        expect(starterTextIn('en', how)).toBe(how)
        expect(starterTextIn(language, `${how} Slowly.`)).toBe(`${how} Slowly.`)
      }
      // A loading drill's caution defers to medical professionals in every language.
      const loading = starterDrills.filter((d) => d.isLoading)
      expect(loading.length).toBeGreaterThan(0)
      for (const { key } of loading) {
        const { caution } = starterDrillText(key)
        expect(starterTextIn(language, caution)).toMatch(/medizinisch|médico/)
      }
    },
  )
})

describe('numbers and days', () => {
  // As Unicode CLDR writes them (Intl); the decimal mark of German and European Spanish is the comma.
  it('have the language’s decimal mark', () => {
    for (const language of ['de', 'es'] as const) {
      const locale = { de: 'de-DE', es: 'es-ES' }[language]
      expect(numberIn(sayIn(language), (2.5).toFixed(1))).toBe(new Intl.NumberFormat(locale).format(2.5))
      expect(metricTextIn(sayIn(language), 'efficiency', 1.4812, 'mph-yd')).toBe('1,48')
    }
    expect(metricTextIn(sayIn('en'), 'efficiency', 1.4812, 'mph-yd')).toBe('1.48')
  })

  it('name the month, so that day and month are not confused', () => {
    expect(languages.map((l) => dayIn(sayIn(l), '2026-05-16'))).toEqual([
      'Saturday 16 May 2026',
      'Samstag, 16. Mai 2026',
      'sábado, 16 de mayo de 2026',
    ])
  })

  it('the speed of a clip is said as a part of real speed', () => {
    expect([1, 8, 2.5].map((n) => speedIn(sayIn('de'), n))).toEqual([
      'echtes Tempo',
      '1/8 des echten Tempos',
      '40 % des echten Tempos',
    ])
  })
})
