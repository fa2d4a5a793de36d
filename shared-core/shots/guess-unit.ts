import { median } from 'simple-statistics'
import type { NumberTarget } from './column-target.ts'
import { dimensionOf } from './column-names.ts'
import { unitFactor } from './unit.ts'
import { said } from '../wording/phrase.ts'

/** How a unit was found. */
export type UnitHow = 'options' | 'usual' | 'like' | 'assumed'

/** A unit, how it was found, and why. */
export type UnitGuess = { unit: string; how: UnitHow; why: string }

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
  values: readonly { value: number; club: string | null }[],
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
      return { unit: likeliestSpeedUnit(target, values), how: 'assumed', why: said('unit.bySize') }
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

const likeliestSpeedUnit = (
  target: NumberTarget,
  values: readonly { value: number; club: string | null }[],
): string => {
  const positive = values.filter((v) => v.value > 0)
  if (positive.length === 0) return 'mph'
  const misfit = (unit: string) =>
    Math.abs(
      median(
        positive.map(({ value, club }) => {
          const { middle, spread } = target === 'ballSpeedMps' ? usualBallSpeed(club) : usualClubSpeed(club)
          return Math.log((value * unitFactor(unit, 'speed')) / middle) / spread
        }),
      ),
    )
  return ['mph', 'm/s', 'km/h']
    .map((unit) => ({ unit, misfit: misfit(unit) }))
    .reduce((a, b) => (b.misfit < a.misfit ? b : a)).unit
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
