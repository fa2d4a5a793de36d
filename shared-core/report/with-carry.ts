import { airOf } from '../flight/air.ts'
import { carryInStandardAir, carryOf } from '../flight/carry.ts'
import type { DeviceError } from '../impact/device-error.ts'
import type { ReportLesson } from './report-input.ts'

/**
 * A lesson with the carries that comparisons use. Where the device gave none at all with a club, carry is computed
 * from ball speed, launch and spin in the lesson's air; measured and computed ones are never mixed within a club.
 * With `inStandardAir` they are brought to standard air, as far as the lesson's air is known, so that days compare.
 */
export const withCarry = (
  lesson: ReportLesson,
  options: { deviceError: DeviceError; inStandardAir?: boolean },
): { lesson: ReportLesson; computedClubs: (string | null)[] } => {
  const { deviceError: error, inStandardAir = false } = options
  const air = airOf(lesson.air)
  const isAirKnown = Object.values(lesson.air).some((value) => value !== null)
  const shots = lesson.blocks.flatMap((block) => block.shots)
  const measured = new Set(shots.filter((s) => s.carryM != null).map((s) => s.club))
  const computed = new Set<string | null>()
  const carry = (shot: (typeof shots)[number]): number | null => {
    const hasOwn = shot.carryM != null
    if (!hasOwn && measured.has(shot.club)) return null
    if (hasOwn && !(inStandardAir && isAirKnown)) return shot.carryM!
    const answer = inStandardAir ? carryInStandardAir(shot, air, { error }) : carryOf(shot, { air, error })
    if (hasOwn) return answer.carryM ?? shot.carryM!
    if (answer.carryM !== null) computed.add(shot.club)
    return answer.carryM
  }
  const blocks = lesson.blocks.map((block) => ({
    ...block,
    shots: block.shots.map((shot) => ({ ...shot, carryM: carry(shot) })),
  }))
  return { lesson: { ...lesson, blocks }, computedClubs: [...computed] }
}
