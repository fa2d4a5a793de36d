import { metricNames, type ShotMetrics } from '../model/shot.ts'

/** What is needed of a shot, read or kept, to tell whether two records are the same one. */
export interface RecordedShot extends ShotMetrics {
  readonly at: string | null
  readonly club: string | null
}

/** All recorded values of a shot as one text: two records with the same text are the same shot as often as it occurs. */
export const shotIdentity = (shot: RecordedShot): string =>
  JSON.stringify([shot.at, shot.club, ...metricNames.map((name) => shot[name])])

const hasSeconds = (at: string | null): at is string => at !== null && /T\d{2}:\d{2}:\d{2}/.test(at)

/** The coach may mark the strike point by hand, so it tells nothing about the device's record. */
const fromDevice = metricNames.filter((name) => name !== 'impactXMm' && name !== 'impactYMm')

/** The same number written with other units or fewer digits: within 1 %, or half of the last digit usually shown. */
const agrees = (a: number, b: number): boolean => Math.abs(a - b) <= Math.max(0.06, 0.01 * Math.abs(a))

const isSameToRounding = (a: RecordedShot, b: RecordedShot): boolean => {
  let compared = 0
  for (const name of fromDevice) {
    const [x, y] = [a[name], b[name]]
    if (x === null || y === null) continue
    if (!agrees(x, y)) return false
    compared++
  }
  return compared > 0
}

/**
 * Which of a file's shots are there already. The same values occur as often as they were recorded: three equal shots
 * beside two kept ones are one new shot. Records of the same second are the same shot also when an export in other
 * units or with fewer digits rounds them otherwise; everything else that differs is another shot.
 *
 * @param kept what is there; `identity` as `shotIdentity` gave it when the shot was taken in.
 * @returns for each read shot whether it is there.
 */
export const alreadyThere = (
  kept: readonly { identity: string; shot: RecordedShot }[],
  read: readonly RecordedShot[],
): boolean[] => {
  const left = new Map<string, number[]>()
  kept.forEach(({ identity }, index) => left.set(identity, [...(left.get(identity) ?? []), index]))
  const taken = new Set<number>()
  const found = read.map((shot) => {
    const index = left.get(shotIdentity(shot))?.shift()
    if (index !== undefined) taken.add(index)
    return index !== undefined
  })
  return read.map((shot, i) => {
    if (found[i]) return true
    if (!hasSeconds(shot.at)) return false
    const index = kept.findIndex(
      (k, at) => !taken.has(at) && k.shot.at === shot.at && isSameToRounding(k.shot, shot),
    )
    if (index >= 0) taken.add(index)
    return index >= 0
  })
}
