import { bare } from './unit.ts'

/** Order of the numbers in dates like 03/04/2026 (year-first dates need none). */
export type DateOrder = 'day-month' | 'month-day'

/** A day, or two numbers of which one is the day and one the month. */
export type DateReading =
  { year: number; month: number; day: number } | { first: number; second: number; year: number }

/** A time of day. */
export type ClockReading = { hour: number; minute: number; second: string | null }

/** A date, a time, or both. */
export type WallTimeReading = {
  date: DateReading | null
  clock: ClockReading | null
  /** As the file gives it (`Z`, `+02:00`), else null; none is ever made up. */
  zone: string | null
  /** True if the clock was written with am or pm. */
  hasHalfDay: boolean
}

const months: Readonly<Record<string, number>> = Object.fromEntries(
  [
    ['jan', 'january', 'januar', 'januari', 'janner', 'ene', 'enero', 'janvier', 'janv', 'gen', 'gennaio'],
    ['feb', 'february', 'februar', 'februari', 'febrero', 'febbraio', 'fevrier', 'fevr', 'fev'],
    ['mar', 'march', 'marz', 'mrz', 'marzo', 'mars', 'maart', 'mrt'],
    ['apr', 'april', 'abr', 'abril', 'avril', 'avr', 'aprile'],
    ['may', 'mai', 'mayo', 'maj', 'mei', 'mag', 'maggio'],
    ['jun', 'june', 'juni', 'junio', 'juin', 'giu', 'giugno'],
    ['jul', 'july', 'juli', 'julio', 'juillet', 'juil', 'lug', 'luglio'],
    ['aug', 'august', 'augusti', 'augustus', 'ago', 'agosto', 'aout'],
    ['sep', 'sept', 'september', 'septiembre', 'septembre', 'set', 'settembre'],
    ['oct', 'october', 'okt', 'oktober', 'octubre', 'octobre', 'ott', 'ottobre'],
    ['nov', 'november', 'noviembre', 'novembre'],
    ['dec', 'december', 'dez', 'dezember', 'dic', 'diciembre', 'dicembre', 'decembre'],
  ].flatMap((list, i) => list.map((word) => [word, i + 1])),
)

const clockPattern =
  /(?:^|[T\s,])(\d{1,2})[:h.](\d{2})(?:[:.](\d{2}(?:[.,]\d{1,9})?))?\s*([ap]\.?\s?m\.?)?(?:\s*uhr)?\s*(Z|[+-]\d{2}:?\d{2}|UTC|GMT)?$/i
const hourOnlyPattern = /(?:^|[T\s,])(\d{1,2})\s*([ap]\.?\s?m\.?)$/i

/**
 * Date, clock or both out of a cell: ISO 8601, `14.05.2026 14:03`, `5/14/2026 2:03:20 PM`, `14 May 2026`,
 * `14:03:20`, seconds or milliseconds since 1970 (which are UTC by definition). Null if it is none of these.
 */
export const readWallTime = (text: string): WallTimeReading | null => {
  if (text.length > 120) return null
  let rest = text.trim().replace(/[\u00a0\u202f]/g, ' ')
  if (/^1\d{9}(\.\d+)?$|^1\d{12}$/.test(rest)) return fromEpoch(rest)
  const serial = fromSerial(rest)
  if (serial) return serial
  rest = rest
    .replace(/年|月/g, '-')
    .replace(/日/g, ' ')
    .replace(/時|分/g, ':')
    .replace(/:?秒|:$/g, '')
    .trim()

  let clock: ClockReading | null = null
  let zone: string | null = null
  let hasHalfDay = false
  const withClock = looksLikeDateOnly(rest) ? null : clockPattern.exec(rest)
  const hourOnly = withClock ? null : hourOnlyPattern.exec(rest)
  const match = withClock ?? hourOnly
  if (match) {
    const halfDay = (withClock ? match[4] : match[2])?.[0]?.toLowerCase() ?? null
    const hour = hour24(Number(match[1]), halfDay)
    const minute = withClock ? Number(match[2]) : 0
    const second = withClock ? (match[3]?.replace(',', '.') ?? null) : null
    if (hour === null || minute > 59 || (second !== null && Number(second) >= 61)) return null
    clock = { hour, minute, second }
    hasHalfDay = halfDay !== null
    zone = withClock && match[5] ? zoneOf(match[5]) : null
    rest = rest.slice(0, match.index).replace(/[T,\s]+$/, '')
  }
  if (rest === '') return clock ? { date: null, clock, zone, hasHalfDay } : null
  const date = readDate(rest)
  return date ? { date, clock, zone, hasHalfDay } : null
}

const looksLikeDateOnly = (text: string) => /^\d{1,4}[./-]\d{1,2}[./-]\d{1,4}\.?$/.test(text)

const zoneOf = (text: string): string =>
  /^(z|utc|gmt)$/i.test(text) ? 'Z' : text.includes(':') ? text : `${text.slice(0, 3)}:${text.slice(3)}`

const hour24 = (hour: number, halfDay: string | null): number | null => {
  if (halfDay === null) return hour <= 23 ? hour : null
  if (hour < 1 || hour > 12) return null
  return (hour % 12) + (halfDay === 'p' ? 12 : 0)
}

const fullYear = (year: string): number => (year.length <= 2 ? 2000 + Number(year) : Number(year))

const readDate = (text: string): DateReading | null => {
  const yearFirst =
    /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/.exec(text) ?? /^(20\d{2})(\d{2})(\d{2})$/.exec(text)
  if (yearFirst) {
    return real({ year: Number(yearFirst[1]), month: Number(yearFirst[2]), day: Number(yearFirst[3]) })
  }

  // Points between the numbers are the German way, always day first.
  const dotted = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d{2})$/.exec(text)
  if (dotted) return real({ day: Number(dotted[1]), month: Number(dotted[2]), year: fullYear(dotted[3]!) })

  const slashed = /^(\d{1,2})[/-](\d{1,2})[/-](\d{4}|\d{2})$/.exec(text)
  if (slashed) {
    const [first, second, year] = [Number(slashed[1]), Number(slashed[2]), fullYear(slashed[3]!)]
    const possible = real({ year, month: second, day: first }) ?? real({ year, month: first, day: second })
    return possible ? { first, second, year } : null
  }
  const words = text
    .split(/[\s,./-]+/)
    .map(bare)
    .filter((w) => w !== '' && w !== 'de')
  const month = words.map((w) => months[w]).find((m) => m !== undefined)
  const numbers = words.filter((w) => /^\d+(st|nd|rd|th|er)?$/.test(w))
  // A weekday or other word may stand in front; anything more is no date.
  if (month === undefined || numbers.length !== 2 || words.length > 4) return null
  const [a, b] = numbers as [string, string]
  const yearText = a.length === 4 ? a : b
  const dayText = a.length === 4 ? b : a
  return real({ year: fullYear(yearText), month, day: Number.parseInt(dayText, 10) })
}

const real = (date: { year: number; month: number; day: number }) => {
  const { year, month, day } = date
  if (month < 1 || month > 12 || day < 1 || year < 1970 || year > 2199) return null
  return day <= new Date(Date.UTC(year, month, 0)).getUTCDate() ? date : null
}

const fromEpoch = (digits: string): WallTimeReading => {
  const ms = digits.length === 13 ? Number(digits) : Number(digits) * 1000
  const iso = new Date(ms).toISOString()
  const fraction = ms % 1000 === 0 ? iso.slice(17, 19) : iso.slice(17, 23)
  return {
    date: { year: Number(iso.slice(0, 4)), month: Number(iso.slice(5, 7)), day: Number(iso.slice(8, 10)) },
    clock: { hour: Number(iso.slice(11, 13)), minute: Number(iso.slice(14, 16)), second: fraction },
    zone: 'Z',
    hasHalfDay: false,
  }
}

/** Days that spreadsheets count from the last of 1899, for 2000 to 2099; the fraction is the time of day. */
const serialDays = [36_526, 73_050] as const
const epochDay = 25_569

/** A spreadsheet's number for a date ("46156"), a date and time ("46156.4236") or a time of day ("0.4236"), or null. */
const fromSerial = (text: string): WallTimeReading | null => {
  const match = /^(0|\d{5})(?:[.,](\d{1,15}))?$/.exec(text)
  if (!match || (match[1] === '0' && (match[2]?.length ?? 0) < 3)) return null
  const day = Number(match[1])
  if (day !== 0 && (day < serialDays[0] || day > serialDays[1])) return null
  const decimals = match[2] ?? ''
  // A hundred-thousandth of a day is 0.9 s: with fewer digits the second can't be told.
  const step = decimals.length >= 5 ? 1 : 60
  const seconds = Math.round((Number(`0.${decimals || '0'}`) * 86_400) / step) * step
  const when = new Date(((day === 0 ? epochDay : day) - epochDay) * 86_400_000 + seconds * 1000)
  return {
    date:
      day === 0
        ? null
        : { year: when.getUTCFullYear(), month: when.getUTCMonth() + 1, day: when.getUTCDate() },
    clock:
      decimals === ''
        ? null
        : {
            hour: when.getUTCHours(),
            minute: when.getUTCMinutes(),
            second: step === 1 ? two(when.getUTCSeconds()) : null,
          },
    zone: null,
    hasHalfDay: false,
  }
}

/**
 * Which order the slashed dates of one file are in: a number over 12 decides it for all; null `order` if no row
 * does (then it is open), `mixed` if rows contradict each other.
 */
export const findDateOrder = (
  dates: readonly DateReading[],
): { order: DateOrder | null; mixed: boolean; isOpen: boolean } => {
  let dayFirst = false
  let monthFirst = false
  let isOpen = false
  for (const date of dates) {
    if (!('first' in date)) continue
    if (date.first > 12) dayFirst = true
    else if (date.second > 12) monthFirst = true
    else if (date.first !== date.second) isOpen = true
  }
  const order = dayFirst === monthFirst ? null : dayFirst ? 'day-month' : 'month-day'
  return { order, mixed: dayFirst && monthFirst, isOpen: isOpen && order === null }
}

const two = (n: number) => String(n).padStart(2, '0')

/** ISO 8601 of a reading, only as precise as it is: `2026-05-14T14:03:20`, `2026-05-14`, `T14:03`; null if the date is impossible in this order. */
export const isoOf = (reading: Omit<WallTimeReading, 'hasHalfDay'>, order: DateOrder): string | null => {
  const { date, clock, zone } = reading
  let text = ''
  if (date) {
    const dated =
      'first' in date
        ? real({
            year: date.year,
            month: order === 'day-month' ? date.second : date.first,
            day: order === 'day-month' ? date.first : date.second,
          })
        : date
    if (!dated) return null
    text = `${dated.year}-${two(dated.month)}-${two(dated.day)}`
  }
  if (clock) {
    text += `T${two(clock.hour)}:${two(clock.minute)}${clock.second === null ? '' : `:${clock.second}`}${zone ?? ''}`
  }
  return text
}

const isoPattern = /^(?:(\d{4})-(\d{2})-(\d{2}))?T(\d{2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?(Z|[+-]\d{2}:\d{2})?$/

/**
 * Seconds on a common scale of the shots' times (`ShotReading.at`), for pairing: with a date, seconds since
 * 1970 as if the wall clock were UTC (or truly, where the file states a zone); without one, seconds since the
 * first midnight, going on over midnight when the clock falls back by more than half a day. Null where a shot has no time of day.
 */
export const wallSeconds = (times: readonly (string | null)[]): (number | null)[] => {
  let daysPassed = 0
  let lastClock: number | null = null
  return times.map((at) => {
    const match = at === null ? null : isoPattern.exec(at)
    if (!match) return null
    const clock = Number(match[4]) * 3600 + Number(match[5]) * 60 + Number(match[6] ?? 0)
    const zone =
      match[7] && match[7] !== 'Z'
        ? (match[7][0] === '-' ? -1 : 1) *
          (Number(match[7].slice(1, 3)) * 3600 + Number(match[7].slice(4, 6)) * 60)
        : 0
    if (match[1] !== undefined) {
      return Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3])) / 1000 + clock - zone
    }
    if (lastClock !== null && clock < lastClock - 43_200) daysPassed++
    lastClock = clock
    return daysPassed * 86_400 + clock - zone
  })
}
