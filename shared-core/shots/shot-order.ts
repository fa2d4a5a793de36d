import { wallSeconds } from './read-wall-time.ts'
import { phrase, said } from '../wording/phrase.ts'

/** What the order of a file's shots was taken from. */
export type OrderHow = 'time' | 'number' | 'file'

/** In which order shots were hit, and how that is known. */
export type ShotOrder = {
  /** Places in the list given, in the order the shots were hit. */
  readonly order: number[]
  readonly how: OrderHow
  /** True if the list runs from the last shot to the first. */
  readonly isNewestFirst: boolean
}

/** What a shot says of its place. */
export type Orderable = {
  /** As `ShotReading.at`: ISO 8601 as precise as the file gives it, or null. */
  readonly at: string | null
  /** The device's own number of the shot, or null. */
  readonly number: number | null
}

/** Steps up less steps down from each value to the next known one. */
const rising = (values: readonly (number | null)[]): number => {
  let sum = 0
  let last: number | null = null
  for (const value of values) {
    if (value === null) continue
    if (last !== null) sum += Math.sign(value - last)
    last = value
  }
  return sum
}

/** A time of day without its date, among others with one, is of the same day as the row before it. */
const withDays = (times: readonly (string | null)[]): (string | null)[] => {
  let day = times.find((at) => at !== null && !at.startsWith('T'))?.slice(0, 10) ?? ''
  return times.map((at) => {
    if (at === null) return null
    if (at.startsWith('T')) return day + at
    day = at.slice(0, 10)
    return at
  })
}

const daySeconds = (at: string | null): number | null =>
  at !== null && /^\d{4}-\d{2}-\d{2}/.test(at) ? Date.parse(at.slice(0, 10)) / 1000 : null

/**
 * The order in which shots were hit: by time, else by the device's own shot number, else as the list stands. A list
 * that runs backwards is recognised by its times, its days or its numbers, and is turned round as a whole first, so
 * that shots of the same minute or without a time keep their place among their neighbours.
 *
 * @param known.isRising the list runs forwards, whatever its times look like (several files one after another).
 */
export const orderOfShots = (given: readonly Orderable[], known: { isRising?: boolean } = {}): ShotOrder => {
  const dated = withDays(given.map((s) => s.at))
  const shots = given.map(({ number }, i) => ({ at: dated[i]!, number }))
  const clockRise = rising(shots.map((s) => wallSeconds([s.at])[0] ?? null))
  const dayRise = rising(shots.map((s) => daySeconds(s.at)))
  const numberRise = rising(shots.map((s) => s.number))
  const isNewestFirst = !known.isRising && (clockRise || dayRise || numberRise) < 0

  const list = shots.map((shot, index) => ({ shot, index }))
  if (isNewestFirst) list.reverse()

  const seconds = wallSeconds(list.map(({ shot }) => shot.at))
  const numbers = list.map(({ shot }) => shot.number)
  const stated = numbers.filter((n) => n !== null)
  // Numbers that start again with each club tell nothing over the whole list.
  const areNumbersTelling = stated.length === shots.length && new Set(stated).size === stated.length
  // Numbers given to the rows of the page (1 for the newest) run against the times.
  const agree = clockRise === 0 || numberRise === 0 || Math.sign(clockRise) === Math.sign(numberRise)
  const hasTimes = new Set(seconds.filter((s) => s !== null)).size > 1
  const days = list.map(({ shot }) => daySeconds(shot.at))
  const hasDays = new Set(days.filter((d) => d !== null)).size > 1

  // A shot without a time stands behind the one it follows.
  const filled = (values: readonly (number | null)[]) => {
    let last = Number.NEGATIVE_INFINITY
    return values.map((value) => (last = value ?? last))
  }
  const first = hasTimes ? filled(seconds) : hasDays ? filled(days) : null
  const second = areNumbersTelling && agree ? numbers : null
  const order = list
    .map(({ index }, position) => ({ index, position }))
    .sort(
      (a, b) =>
        (first && first[a.position] !== first[b.position] ? first[a.position]! - first[b.position]! : 0) ||
        (second ? second[a.position]! - second[b.position]! : 0) ||
        a.position - b.position,
    )
    .map(({ index }) => index)
  return {
    order,
    how: hasTimes || hasDays ? 'time' : second || numberRise !== 0 ? 'number' : 'file',
    isNewestFirst,
  }
}

/** How the order was found, as a sentence for the coach. */
export const orderWords = ({ how, isNewestFirst }: Pick<ShotOrder, 'how' | 'isNewestFirst'>): string =>
  how === 'file'
    ? said('order.asListed')
    : said(isNewestFirst ? 'order.newestFirst' : 'order.by', {
        what: phrase(how === 'time' ? 'order.times' : 'order.numbers'),
      })
