import { IntlMessageFormat } from 'intl-messageformat'
import { isStandardClub } from '../model/club.ts'
import { metricLabel, metricText, type FormatOptions, type ShownMetric, type UnitSystem } from '../units.ts'
import { de } from './de.ts'
import { en, type MessageKey } from './en.ts'
import { es } from './es.ts'
import { localeOf, type Language } from './language.ts'

/** Every message of every language. */
export const catalogues: Record<Language, Record<MessageKey, string>> = { en, de, es }

/** What fills a message's places: texts as they are, and numbers that are already written. */
export type MessageValues = Readonly<Record<string, string>>

/** Says a message in one language. */
export interface Say {
  (key: MessageKey, values?: MessageValues): string
  readonly language: Language
}

const makeSay = (language: Language): Say => {
  const made = new Map<MessageKey, IntlMessageFormat>()
  const say = (key: MessageKey, values: MessageValues = {}): string => {
    let format = made.get(key)
    if (!format) {
      format = new IntlMessageFormat(catalogues[language][key], localeOf[language])
      made.set(key, format)
    }
    return String(format.format(values))
  }
  return Object.assign(say, { language })
}

const says: Record<Language, Say> = { en: makeSay('en'), de: makeSay('de'), es: makeSay('es') }

/** The words of a language. A message whose places are not all filled throws: that is a bug. */
export const sayIn = (language: Language): Say => says[language]

const isKey = (key: string): key is MessageKey => Object.hasOwn(en, key)

const quotes: Record<Language, readonly [string, string]> = {
  en: ['“', '”'],
  de: ['„', '“'],
  es: ['«', '»'],
}

/** What the coach named, set off as the language does. */
export const quotedIn = ({ language }: Say, text: string): string =>
  `${quotes[language][0]}${text}${quotes[language][1]}`

/** A number that is written in English (2.5), as the language writes it (2,5). */
export const numberIn = ({ language }: Say, text: string): string =>
  language === 'en' ? text : text.replace(/(\d)\.(?=\d)/g, '$1,')

/** "this, that and the other", as the language joins them. */
export const listIn = ({ language }: Say, parts: readonly string[]): string =>
  new Intl.ListFormat(localeOf[language], { type: 'conjunction' }).format(parts)

/** A metric in the student's words; where the language has none, in English. */
export const labelIn = (say: Say, metric: ShownMetric): string => {
  const key = `label.${metric}`
  return isKey(key) ? say(key) : metricLabel(metric)
}

/** `metricText` as the language writes numbers and units. */
export const metricTextIn = (
  say: Say,
  metric: ShownMetric,
  value: number | null | undefined,
  units: UnitSystem,
  options: FormatOptions = {},
): string =>
  numberIn(say, metricText(metric, value, units, options)).replace(
    en['unit.shoulderWidths'],
    say('unit.shoulderWidths'),
  )

/** A club's name; what the coach named stays as it is. */
export const clubIn = (say: Say, club: string | null): string => {
  if (club === null) return say('club.unknown')
  const numbered = /^(\d)-(wood|hybrid|iron)$/.exec(club)
  if (numbered && isStandardClub(club)) {
    return say(`club.${numbered[2] as 'wood' | 'hybrid' | 'iron'}`, { n: numbered[1]! })
  }
  return /^\d/.test(club) ? club : club.replace(/-/g, ' ')
}

/** A block's name; one that the program gave is said in the language, the coach's own stays as it is. */
export const blockIn = (say: Say, name: string): string => {
  if (name === en['block.baseline']) return say('block.baseline')
  const numbered = /^Block (\d+)$/.exec(name)
  return numbered ? say('block.numbered', { n: numbered[1]! }) : name
}

/** A moment's name; the coach's own words stay as they are. */
export const momentIn = (say: Say, name: string): string => {
  const key = `moment.${name}`
  return isKey(key) ? say(key) : name
}

/** A cue's name: a starter's in the language (it is kept without a label), the coach's own as it is. */
export const cueKindIn = (say: Say, kind: { key: string; label: string }): string => {
  const key = `cueKind.${kind.key}`
  return kind.label === '' && isKey(key) ? say(key) : kind.label
}

/** A cue's label as it is kept: none where it is the starter's own name. */
export const keptCueLabel = ({ key, label }: { key: string; label: string }): string =>
  cueKindIn(sayIn('en'), { key, label: '' }) === label ? '' : label

const days = new Map<Language, Intl.DateTimeFormat>()

/** A date (YYYY-MM-DD) as the student reads it: "Saturday 16 May 2026", "Samstag, 16. Mai 2026". */
export const dayIn = ({ language }: Say, date: string): string => {
  // Made once: a formatter costs far more than a formatting.
  let format = days.get(language)
  if (!format) {
    format = new Intl.DateTimeFormat(localeOf[language], {
      weekday: 'long',
      day: 'numeric',
      month: 'long',
      year: 'numeric',
      timeZone: 'UTC',
    })
    days.set(language, format)
  }
  const words = format.format(new Date(`${date}T00:00:00Z`))
  return language === 'en' ? words.replace(',', '') : words
}

/** "1/8 of real speed", for the label beside a clip. */
export const speedIn = (say: Say, slowBy: number): string =>
  Math.abs(slowBy - 1) < 0.005
    ? say('clip.realSpeed')
    : Number.isInteger(slowBy)
      ? say('clip.partOfRealSpeed', { n: String(slowBy) })
      : say('clip.percentOfRealSpeed', { n: String(Math.round(100 / slowBy)) })

/** The cautions that go with any practice (common practice; see the plan's own cautions beside each drill). */
export const standingCautions = (say: Say): string[] => [
  say('caution.warmUp'),
  say('caution.stop'),
  say('caution.lookAround'),
  say('caution.buildUp'),
]
