import { median } from 'simple-statistics'
import type { NumberTarget } from './column-target.ts'
import { dimensionOf } from './column-names.ts'
import { longestCarryM } from './flags-of.ts'
import { unitFactor } from './unit.ts'
import { said } from '../wording/phrase.ts'

/** How a unit was found. */
export type UnitHow = 'options' | 'usual' | 'like' | 'assumed'

/** A unit, how it was found, and why. */
export type UnitGuess = { unit: string; how: UnitHow; why: string }

/** A number as the file writes it, with its club and the carry beside it, in whatever unit, if there is one. */
export type SpeedValue = { value: number; club: string | null; carry?: number | null }

/** Middle of what players do with a club, m/s, and its spread as a factor (natural log); from memory, wide on purpose. */
const usualBallSpeed = (club: string | null): { middle: number; spread: number } =>
  club === null
    ? { middle: 50, spread: 0.3 }
    : club === 'driver'
      ? { middle: 62, spread: 0.18 }
      : club === 'putter'
        ? { middle: 5, spread: 0.6 }
        : /wedge/.test(club)
          ? { middle: 34, spread: 0.3 }
          : /wood|hybrid/.test(club)
            ? { middle: 56, spread: 0.2 }
            : /^[89]-iron/.test(club)
              ? { middle: 44, spread: 0.2 }
              : { middle: 49, spread: 0.22 }

const usualClubSpeed = (club: string | null) => {
  const ball = usualBallSpeed(club)
  // Ball over club speed on tour, radar averages printed in the golf press: 1.48 woods, about 1.35 irons, 1.2 wedges.
  const ratio =
    club === null
      ? 1.4
      : club === 'driver' || /wood|hybrid/.test(club)
        ? 1.47
        : /wedge/.test(club)
          ? 1.2
          : 1.35
  return { middle: ball.middle / ratio, spread: ball.spread }
}

/**
 * Unit of a column whose file states none, from the other columns and from the size of its values. Metres and yards differ by 9 % and
 * can't be told by size: they follow the speeds. Says how it came about, so that the coach can be asked.
 */
export const guessUnit = (
  target: NumberTarget,
  values: readonly SpeedValue[],
  settled: readonly { target: NumberTarget; unit: string }[],
): UnitGuess => {
  const unitOf = (name: NumberTarget) => settled.find((s) => s.target === name)?.unit ?? null
  const sizes = values.map((v) => Math.abs(v.value)).filter((v) => v > 0)
  switch (dimensionOf[target]) {
    case 'angle':
      return { unit: 'deg', how: 'usual', why: '' }
    case 'spin':
      return { unit: 'rpm', how: 'usual', why: '' }
    case 'time':
      return { unit: 's', how: 'usual', why: '' }
    case 'ratio':
      return sizes.length > 0 && median(sizes) > 10
        ? { unit: '%', how: 'assumed', why: said('unit.bySize') }
        : { unit: '', how: 'usual', why: '' }
    case 'speed': {
      const twin = unitOf(target === 'ballSpeedMps' ? 'clubSpeedMps' : 'ballSpeedMps')
      if (twin !== null) return { unit: twin, how: 'like', why: said('unit.likeOtherSpeed') }
      return likeliestSpeedUnit(target, values, unitOf('carryM'))
    }
    case 'length':
      return lengthUnit(target, sizes, unitOf)
    case 'faceLength': {
      const twin = unitOf(target === 'impactXMm' ? 'impactYMm' : 'impactXMm')
      if (twin !== null) return { unit: twin, how: 'like', why: said('unit.likeOtherImpact') }
      // Half an inch is a clear miss; hits more than 3 in from the middle miss the face, so larger numbers are mm.
      const isMm = sizes.length === 0 || Math.max(...sizes) > 3
      return { unit: isMm ? 'mm' : 'in', how: 'assumed', why: said('unit.bySize') }
    }
  }
}

/** How far a ball of that speed may carry by physics against what the file says, at most so many spreads count for size alone. */
const mostForSize = 2.5
/** A full shot carries about 0.95 of the longest flight of its ball speed; a fifth less or more is usual. Judged, no source. */
const usualReach = { share: 0.95, spread: 0.2 }
/** A ball speed told from the club speed alone is known less. */
const reachByClubSpread = 0.35

/**
 * The unit of speeds by two signs: their size, which is what players do and differs from child to professional, and
 * their carry, which is physics (64 m/s flies about 200 m; where the file says 78, it is 64 mph). The second counts more.
 */
const likeliestSpeedUnit = (
  target: NumberTarget,
  values: readonly SpeedValue[],
  carryUnit: string | null,
): UnitGuess => {
  const positive = values.filter((v) => v.value > 0)
  if (positive.length === 0) return { unit: 'mph', how: 'assumed', why: said('unit.bySize') }
  const flown = positive.filter((v) => v.club !== 'putter' && (v.carry ?? 0) > 0)
  const candidates = ['mph', 'm/s', 'km/h'].map((unit) => {
    const factor = unitFactor(unit, 'speed')
    const usual = target === 'ballSpeedMps' ? usualBallSpeed : usualClubSpeed
    const size = Math.abs(
      median(
        positive.map(
          ({ value, club }) => Math.log((value * factor) / usual(club).middle) / usual(club).spread,
        ),
      ),
    )
    if (flown.length === 0) return { unit, misfit: size }
    const perMetre = unitFactor(carryUnit ?? (unit === 'mph' ? 'yd' : 'm'), 'length')
    const reach = Math.abs(
      median(
        flown.map(({ value, club, carry }) => {
          const ball =
            target === 'ballSpeedMps'
              ? value * factor
              : (value * factor * usualBallSpeed(club).middle) / usualClubSpeed(club).middle
          return (
            Math.log((carry! * perMetre) / (usualReach.share * longestCarryM(ball))) /
            (target === 'ballSpeedMps' ? usualReach.spread : reachByClubSpread)
          )
        }),
      ),
    )
    return { unit, misfit: Math.hypot(Math.min(size, mostForSize), reach) }
  })
  const { unit } = candidates.reduce((a, b) => (b.misfit < a.misfit ? b : a))
  return {
    unit,
    how: 'assumed',
    why: said(flown.length > 0 ? 'unit.bySizeAndCarry' : 'unit.bySize'),
  }
}

const lengthUnit = (
  target: NumberTarget,
  sizes: readonly number[],
  unitOf: (name: NumberTarget) => string | null,
): UnitGuess => {
  const flights = ['carryM', 'totalM', 'sideM'] as const
  const flight = flights.map(unitOf).find((u) => u === 'yd' || u === 'm')
  const speed = unitOf('ballSpeedMps') ?? unitOf('clubSpeedMps')
  const unit = flight ?? (speed === 'm/s' || speed === 'km/h' ? 'm' : 'yd')
  const why =
    flight !== undefined
      ? said('unit.likeOther')
      : speed !== null
        ? said('unit.bySpeeds', { unit: speed })
        : said('unit.commonest')
  const how = flight !== undefined ? 'like' : 'assumed'
  // A ball rises 20 to 40 yd, 60 to 120 ft: where lengths are imperial, size tells those two apart.
  if (target === 'apexM' && unit === 'yd' && sizes.length > 0 && median(sizes) > 48) {
    return { unit: 'ft', how: 'assumed', why: said('unit.bySize') }
  }
  return { unit, how, why }
}
