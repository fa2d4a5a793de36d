/** One reading of a shot; null, undefined or a number that is not finite means: missing. */
export type Reading = number | null | undefined
/** Readings in the order taken. */
export type Readings = readonly Reading[]

/** Why a number is null. */
export type Reason = 'no-data' | 'too-few' | 'no-spread' | 'not-enough-range'

/** True for a finite number; everything else is a missing reading. */
export const isPresent = (value: Reading): value is number =>
  typeof value === 'number' && Number.isFinite(value)

/** The readings that are there, in order. */
export const presentValues = (values: Readings): number[] => values.filter(isPresent)

/** The places where both sides are there, in order (missing values are left out pairwise). */
export function presentPairs(first: Readings, second: Readings): { first: number[]; second: number[] } {
  const pairs = { first: [] as number[], second: [] as number[] }
  const length = Math.min(first.length, second.length)
  for (let i = 0; i < length; i++) {
    const a = first[i]
    const b = second[i]
    if (isPresent(a) && isPresent(b)) {
      pairs.first.push(a)
      pairs.second.push(b)
    }
  }
  return pairs
}

/** The number itself, or null where arithmetic left the finite numbers. */
export const finiteOrNull = (value: number): number | null => (Number.isFinite(value) ? value : null)
