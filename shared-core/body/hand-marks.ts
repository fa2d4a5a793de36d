import { fitAt, levelOf, type BodySeries, type Path } from './body-series.ts'
import {
  channelsOf,
  leastScatter,
  legM,
  legPx,
  weighInstants,
  wristDriftMps,
  type BodyInstant,
  type Direction,
  type Hint,
} from './way-changes.ts'

type Wrists = readonly [Path, Path]

const wristsOf = (body: BodySeries): Wrists => [body.joint('Wrist', 'lead'), body.joint('Wrist', 'trail')]

/** Mean of what each wrist that was seen gives. */
const meanOver = <T extends readonly number[]>(wrists: Wrists, of: (path: Path) => T | null): T | null => {
  const found = wrists.flatMap((path) => {
    const one = of(path)
    return one ? [one] : []
  })
  if (found.length === 0) return null
  return found[0]!.map((_, i) => found.reduce((sum, f) => sum + f[i]!, 0) / found.length) as unknown as T
}

const placeOf = (path: Path, at: number, halfWidth: number): [number, number] | null => {
  const x = fitAt(path.x, at, halfWidth)
  const y = fitAt(path.y, at, halfWidth)
  return x && y ? [x.value, y.value] : null
}

/** The way from one instant to another, as a direction; none where the wrist was not seen or did not move. */
const directionOf = (path: Path, from: number, to: number, halfWidth: number): Direction[] => {
  const a = placeOf(path, from, halfWidth)
  const b = placeOf(path, to, halfWidth)
  const size = a && b ? Math.hypot(b[0] - a[0], b[1] - a[1]) : 0
  return a && b && size > 0 ? [[(b[0] - a[0]) / size, (b[1] - a[1]) / size]] : []
}

/** Pixels a second. */
const speedAt = (wrists: Wrists, at: number, halfWidth: number): number | null =>
  meanOver(wrists, (path): [number] | null => {
    const x = fitAt(path.x, at, halfWidth, 1)
    const y = fitAt(path.y, at, halfWidth, 1)
    return x && y ? [Math.hypot(x.slope, y.slope)] : null
  })?.[0] ?? null

/** No turn lies outside these, real seconds from impact (tour players' downswings last 0.2 to 0.35; slow ones up to 0.7). */
const turnsWithin = { from: -0.9, to: -0.12 }

/** Where the hands are farthest from where they strike: near the top, whatever the camera sees of the swing. */
const farthest = (wrists: Wrists, halfWidth: number): number | null => {
  let best: { at: number; far: number } | null = null
  const strike = wrists.map((path) => placeOf(path, 0, halfWidth))
  for (let at = turnsWithin.to; at >= turnsWithin.from; at -= 0.01) {
    const far = meanOver(wrists, (path): [number] | null => {
      const place = placeOf(path, at, halfWidth)
      const own = strike[wrists.indexOf(path)]
      return place && own ? [Math.hypot(place[0] - own[0], place[1] - own[1])] : null
    })?.[0]
    if (far === undefined) continue
    if (!best || far > best.far) best = { at, far }
    else if (far < 0.7 * best.far) break
  }
  return best?.at ?? null
}

/**
 * Top: the hands turn. Along the way they will go down they come to rest and start again: a smooth way into the turn and another out
 * of it.
 */
export const handsTurn = (body: BodySeries, hint: Hint | null = null): BodyInstant | null => {
  const wrists = wristsOf(body)
  const leg = legPx(body)
  const { frameSeconds, halfWidth } = body
  let turn = farthest(wrists, Math.max(0.06, halfWidth))
  if (turn === null || leg === null) return null
  let mark: BodyInstant | null = null
  for (let round = 0; round < 2; round++) {
    const at: number = turn
    // The slower the downswing, the longer the hands take to turn.
    const down = -at
    mark = weighInstants(
      channelsOf(
        wrists,
        at - Math.max(0.35 * down, 3.6 * frameSeconds),
        at + Math.max(0.28 * down, 3.6 * frameSeconds),
        (path) => directionOf(path, at, at + 0.3 * down, halfWidth),
      ),
      [(t0) => (t) => (t < t0 ? [(t - t0) ** 2, 0] : [0, (t - t0) ** 2])],
      { from: at - 0.25 * down, to: at + 0.22 * down },
      {
        legPx: leg,
        bendOf: ([back, out]) => Math.abs(back!) + Math.abs(out!),
        channelsAJoint: 1,
        driftMps: wristDriftMps,
        hint,
      },
    )
    if (!mark) return null
    turn = mark.atSeconds
  }
  return mark
}

/** How the hands' acceleration may change in the first quarter of a second, a share a second: steady, dying away, growing. */
const risings = [-1.5, -0.75, 0, 1, 3]

/** Share of the way back's fastest at which the hands are looked for at rest. */
const slowShare = 0.15

/**
 * Takeaway: the hands leave rest for the way back; at rest before, then off with an acceleration. The last time before the top:
 * a waggle ends in rest, too.
 */
export const handsLeave = (
  body: BodySeries,
  topSeconds: number,
  hint: Hint | null = null,
): BodyInstant | null => {
  const wrists = wristsOf(body)
  const leg = legPx(body)
  const halfWidth = Math.max(0.07, body.halfWidth)
  const speeds: { at: number; speed: number }[] = []
  for (let at = topSeconds - 0.1; at > topSeconds - 2; at -= 0.01) {
    const speed = speedAt(wrists, at, halfWidth)
    if (speed !== null) speeds.push({ at, speed })
  }
  const fastest = speeds
    .filter((s) => s.at > topSeconds - 1)
    .reduce<{ at: number; speed: number } | null>((one, s) => (one && one.speed > s.speed ? one : s), null)
  const slow = fastest && speeds.find((s) => s.at < fastest.at && s.speed < slowShare * fastest.speed)
  if (!slow || leg === null) return null
  const leastPx = leastScatter * leg
  let near = slow.at
  for (;;) {
    // Down the line the hands first come toward the camera: neither direction of the picture tells by itself.
    const mark = weighInstants(
      channelsOf(wrists, near - 0.35, near + 0.22, () => [
        [1, 0],
        [0, 1],
      ]),
      risings.map((rising) => (t0: number) => (t: number) => {
        const s = Math.max(0, t - t0)
        return [s ** 2 * (1 + rising * s)]
      }),
      { from: near - 0.25, to: near + 0.1 },
      { legPx: leg, bendOf: ([a]) => 2 * Math.abs(a!), channelsAJoint: 2, driftMps: wristDriftMps, hint },
    )
    if (!mark || near < slow.at - 0.35) return mark
    const { atSeconds: at } = mark
    // They must have been at rest before: else they were on their way already, only slower in the picture.
    const moved = meanOver(wrists, (path): [number, number] | null => {
      const [x0, y0] = [levelOf(path.x, at - 0.4, at - 0.2), levelOf(path.y, at - 0.4, at - 0.2)]
      const [x1, y1] = [levelOf(path.x, at - 0.09, at + 0.01), levelOf(path.y, at - 0.09, at + 0.01)]
      return x0 && y0 && x1 && y1
        ? [Math.hypot(x1.value - x0.value, y1.value - y0.value), Math.hypot(x0.sd, y0.sd, x1.sd, y1.sd)]
        : null
    })
    if (!moved || moved[0] < 3 * Math.hypot(leastPx, moved[1])) return mark
    near -= 0.08
  }
}

/** Hands slower than this are at rest, m/s; our own choice. */
export const restingSpeedMps = 0.3

/** Of films of the tuning seed two thirds lay within this, seconds. */
const restSdSeconds = 0.06

/** Of a speed in space a picture shows so much, if all directions are alike: √(2/3). */
const inPictureShare = Math.sqrt(2 / 3)

/** Finish: after the strike the hands are slower than `restingSpeedMps` from there on. */
export const handsRest = (body: BodySeries): BodyInstant | null => {
  const wrists = wristsOf(body)
  const leg = legPx(body)
  if (leg === null) return null
  const limit = (inPictureShare * restingSpeedMps * leg) / legM
  const halfWidth = Math.max(0.09, body.halfWidth)
  let last: number | null = null
  let slowest = 0
  for (let at = 0.15; at < 1.6; at += 0.01) {
    const speed = speedAt(wrists, at, halfWidth)
    if (speed === null) continue
    if (speed > limit) {
      last = at
      slowest = 0
    } else slowest += 1
  }
  // It must have been seen at rest, not just lost.
  if (last === null || slowest < 8) return null
  return { atSeconds: last, sdSeconds: restSdSeconds }
}
