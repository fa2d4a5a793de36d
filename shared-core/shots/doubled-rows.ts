import { metricNames, type ShotReading } from '../model/shot.ts'
import { shotIdentity } from './same-shot.ts'

const numbersOf = (shot: ShotReading) => metricNames.filter((name) => shot[name] !== null).length
const hasSeconds = (shot: ShotReading) => shot.at !== null && /T\d{2}:\d{2}:\d{2}/.test(shot.at)

/**
 * Rows that list a shot a second time: equal to an earlier row in every cell, the device's running number at most
 * excepted. Two shots may well agree in one or two rounded numbers, so that counts only with three numbers or more, with
 * a time to the second, or where the whole file lists everything twice.
 *
 * @param cells all cells of each row but its number, as text.
 * @param numbers the device's number of each shot as text, or null.
 * @returns for each shot the line of the row it repeats, or null; and how many rows have all the numbers of another but
 *   differ from it elsewhere, which may be shots or not.
 */
export const doubledRows = (
  shots: readonly ShotReading[],
  cells: readonly string[],
  numbers: readonly (string | null)[],
): { repeats: (number | null)[]; alike: number } => {
  const groups = new Map<string, number[]>()
  const values = new Map<string, number>()
  shots.forEach((shot, i) => {
    const identity = shotIdentity(shot)
    const key = `${identity} ${cells[i]}`
    groups.set(key, [...(groups.get(key) ?? []), i])
    if (numbersOf(shot) >= 5) values.set(identity, (values.get(identity) ?? 0) + 1)
  })
  const isAllTwice =
    shots.length >= 4 && groups.size >= 2 && [...groups.values()].every((g) => g.length % 2 === 0)
  const repeats: (number | null)[] = shots.map(() => null)
  for (const group of groups.values()) {
    // Where everything stands twice, half of each group stays: shots that really were equal are kept.
    const kept = isAllTwice ? group.length / 2 : 1
    for (const i of group.slice(kept)) {
      const shot = shots[i]!
      const saysOther =
        !isAllTwice && numbers[i] !== null && group.every((k) => k === i || numbers[k] !== numbers[i])
      const isTelling = isAllTwice || numbersOf(shot) >= (saysOther ? 5 : 3) || hasSeconds(shot)
      if (isTelling) repeats[i] = shots[group[0]!]!.line
    }
  }
  const single = shots.filter((_, i) => repeats[i] === null)
  const seen = new Set<string>()
  const alike = single.filter((shot) => {
    const identity = shotIdentity(shot)
    if (!values.has(identity)) return false
    const isSecond = seen.has(identity)
    seen.add(identity)
    return isSecond
  }).length
  return { repeats, alike }
}
