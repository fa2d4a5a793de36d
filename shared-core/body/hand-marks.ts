import { fitAt, isSeenFaceOn, levelOf, type BodySeries, type Path } from './body-series.ts'
import { turnInPicture } from './turn-in-picture.ts'
import {
  channelsOf,
  joinHint,
  leastScatter,
  legM,
  legPx,
  weighInstants,
  wristDriftMps,
  type BodyInstant,
  type Direction,
  type Hint,
  type Shape,
} from './way-changes.ts'

type Wrists = readonly [Path, Path]

/** Fewer sightings than that tell no change of course. */
const leastSightings = 8

const wristsOf = (body: BodySeries): Wrists => [body.joint('Wrist', 'lead'), body.joint('Wrist', 'trail')]

/** Both wrists must be seen in so much of what the better seen one is. */
const bothSeenShare = 0.6

/**
 * The way of the hands between two times: the middle of both wrists, because each by itself also turns about the other (a captured
 * player's lead wrist goes back 0.1 s after the trail one); each wrist where one of them is hidden too often.
 */
const handsBetween = (body: BodySeries, from: number, to: number): readonly Path[] => {
  const wrists = wristsOf(body)
  const seen = ({ x }: Path) =>
    x.values.filter((v, k) => x.seconds[k]! >= from && x.seconds[k]! <= to && Number.isFinite(v)).length
  const middle = body.middle('Wrist')
  const least = Math.max(leastSightings, bothSeenShare * Math.max(...wrists.map(seen)))
  return seen(middle) >= least ? [middle] : wrists
}

/** What the model errs by at the middle of two wrists against one, each on its own. */
const sharedError = (hands: readonly Path[]): number => (hands.length === 1 ? Math.SQRT1_2 : 1)

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

/** Hands that come no farther from where they strike were not followed by the model (or were hardly swung), metres in the picture. */
const leastTravelM = 0.4

/** Hands slower than this share of the way down's mean speed may be turning. */
const turningShare = 0.33

/**
 * Where the hands are farthest from where they strike, of the instants at which they are slow: near the top, whatever the camera sees of
 * the swing (a wide arc is as far away long before it, but fast).
 */
const farthest = (wrists: Wrists, halfWidth: number): { at: number; far: number } | null => {
  let best: { at: number; far: number } | null = null
  const strike = wrists.map((path) => placeOf(path, 0, halfWidth))
  for (let at = turnsWithin.to; at >= turnsWithin.from; at -= 0.01) {
    const far = meanOver(wrists, (path): [number] | null => {
      const place = placeOf(path, at, halfWidth)
      const own = strike[wrists.indexOf(path)]
      return place && own ? [Math.hypot(place[0] - own[0], place[1] - own[1])] : null
    })?.[0]
    if (far === undefined) continue
    const speed = speedAt(wrists, at, halfWidth)
    if ((!best || far > best.far) && speed !== null && speed < (turningShare * far) / -at) best = { at, far }
    else if (best && far < 0.7 * best.far) break
  }
  return best
}

/** No turn is told more surely than that by one wrist, seconds: what the model errs by on the way is alike on many frames. */
const leastTurnSd = 0.008

/** So much of the way down is looked at for its beginning. */
const outShare = 0.4
/**
 * How the acceleration of the way down changes, a share over the whole of it: it dies away, because the hands are fastest at 70 % of it
 * (from memory), or holds. And the way back's: it runs out steadily, or the gentler the nearer the turn.
 */
const downRisings = [-1, -0.5, 0]
const backRisings = [0, 1, 3]

/** A smooth way into the instant and another out of it, `down` seconds long. */
const turning = (down: number): Shape[] =>
  downRisings.flatMap((rising) =>
    backRisings.map((before) => ({
      terms: (s) =>
        s < 0 ? [s ** 2 * (1 - (before * s) / down), 0] : [0, s ** 2 * (1 + (rising * s) / down)],
      bend: ([back, out]) => Math.abs(back!) + Math.abs(out!),
    })),
  )

/** Of the turns that the model's places tell a quarter are far off what is said of them (a slow top, seen 480 high): by so much, seconds. */
const placesWildSd = 0.1

/**
 * Top: the hands turn. The model's places say where about, the picture's shifts when: their speed does not wander. Where both are told they
 * are weighed together.
 *
 * @param near where it was found before, real seconds from impact
 */
export const handsTurn = (
  body: BodySeries,
  hint: Hint | null = null,
  near: number | null = null,
): BodyInstant | null => {
  const weighed = turnByPlaces(body, hint)
  const leg = legPx(body)
  const byShifts = weighed && leg !== null ? turnInPicture(body, near ?? weighed.atSeconds, leg) : null
  const byPlaces = byShifts && hint ? turnByPlaces(body, null) : weighed
  if (!byPlaces || !byShifts) return weighed
  const both = joinHint(byShifts, { ...byPlaces, wildSdSeconds: placesWildSd })
  return hint ? joinHint(both, hint) : both
}

/**
 * The turn by the model's places. Along the way they will go down the hands come to rest and start again: a smooth way into the turn and
 * another out of it.
 */
const turnByPlaces = (body: BodySeries, hint: Hint | null): BodyInstant | null => {
  const wrists = wristsOf(body)
  const leg = legPx(body)
  const { frameSeconds, halfWidth } = body
  const end = farthest(wrists, Math.max(0.06, halfWidth))
  if (end === null || leg === null || end.far < (leastTravelM * leg) / legM) return null
  let turn = end.at
  let mark: BodyInstant | null = null
  for (let round = 0; round < 2; round++) {
    const at: number = turn
    // The slower the downswing, the longer the hands take to turn.
    const down = -at
    const from = at - Math.max(0.35 * down, 3.6 * frameSeconds)
    const to = at + Math.max(outShare * down, 3.6 * frameSeconds)
    const alongWay = (hands: readonly Path[]) =>
      channelsOf(hands, from, to, (path) => directionOf(path, at, at + 0.3 * down, halfWidth))
    // Where both are not seen at the turn itself, no way of their middle is known.
    const between = handsBetween(body, from, to)
    const hands = alongWay(between).length > 0 ? between : wrists
    const found: BodyInstant | null = weighInstants(
      alongWay(hands),
      turning(down),
      { from: at - 0.25 * down, to: at + 0.22 * down },
      {
        legPx: leg,
        channelsAJoint: 1,
        driftMps: wristDriftMps * sharedError(hands),
        hint,
      },
    )
    if (!found) return null
    mark = { ...found, sdSeconds: Math.max(leastTurnSd * sharedError(hands), found.sdSeconds) }
    turn = mark.atSeconds
  }
  return mark
}

/** How the hands' acceleration may change, a share over all of the way back: they are fastest at four ninths of it, or later. */
const risings = [-0.75, -0.35, 0]
/** So much of the way back is looked at for its beginning: the longer, the less a sway or a drift at rest passes for it. */
const awayShare = 0.46
/** Hands that press toward the target first may rest for so long before they go back, seconds. */
const pressRests = [0, 0.07]

/** Down the line arms and shoulders may set off before or after the hands by so much, seconds; with their drift set on the tuning films. */
const armsLeaveSdSeconds = 0.05
const armsDriftMps = 0.12
/** How the way of the arms may begin as seen down the line, a share a second: dying away, steady, growing. */
const armRisings = [-1.5, 0, 3]
/** Arms that are off their rest by so much have left it, a share of the leg. */
const leftRest = 0.022

const awayFrom = (rising: number, back: number) => (s: number) =>
  s > 0 ? s ** 2 * (1 + (rising * s) / back) : 0
const bendAway: Shape['bend'] = ([away]) => 2 * Math.abs(away!)

/** Out of rest, for a way back that lasts `back` seconds. */
const outOfRest = (rising: number, back: number): Shape => ({
  terms: (s) => [awayFrom(rising, back)(s)],
  bend: bendAway,
})

/** Out of rest, or out of a press toward the target that has just ended. */
const leaving = (back: number): Shape[] =>
  risings.flatMap((rising) => [
    outOfRest(rising, back),
    ...pressRests.map((rest) => ({
      terms: (s: number) => [awayFrom(rising, back)(s), s < -rest ? (s + rest) ** 2 : 0],
      bend: bendAway,
    })),
  ])

/**
 * Takeaway as it is seen down the line, where the hands first come toward the camera: arms and shoulders together leave their rest
 * for good.
 */
const armsLeaveRest = (body: BodySeries, topSeconds: number, leg: number): BodyInstant | null => {
  const joints = (['Wrist', 'Elbow', 'Shoulder'] as const).flatMap((part) => [
    body.joint(part, 'lead'),
    body.joint(part, 'trail'),
  ])
  const first = body.seconds.find((t) => t > topSeconds - 2)
  if (first === undefined) return null
  const rests = joints.map((path) => [
    levelOf(path.x, first, first + 0.3),
    levelOf(path.y, first, first + 0.3),
  ])
  const halfWidth = Math.max(0.04, body.halfWidth)
  const offRest = (at: number): number | null => {
    const offs = joints.flatMap((path, i) => {
      const [place, [x, y]] = [placeOf(path, at, halfWidth), rests[i]!] as const
      return place && x && y ? [Math.hypot(place[0] - x.value, place[1] - y.value)] : []
    })
    return offs.length < 3 ? null : offs.reduce((a, b) => a + b, 0) / offs.length
  }
  let near: number | null = null
  for (let at = topSeconds - 0.15; at > first; at -= 0.01) {
    const off = offRest(at)
    if (off === null || off > leftRest * leg) continue
    near = at
    break
  }
  if (near === null) return null
  const mark = weighInstants(
    channelsOf(joints, near - 0.35, near + 0.12, () => [
      [1, 0],
      [0, 1],
    ]),
    armRisings.map((rising) => outOfRest(rising, 1)),
    { from: near - 0.25, to: near + 0.03 },
    { legPx: leg, channelsAJoint: 2, driftMps: armsDriftMps, hint: null },
  )
  return (
    mark && {
      ...mark,
      sdSeconds: Math.hypot(mark.sdSeconds, armsLeaveSdSeconds),
    }
  )
}

/** Share of the way back's fastest at which the hands are looked for at rest. */
const slowShare = 0.15

/**
 * Takeaway: the hands leave rest, or the end of a press toward the target, for the way back, and go on with an acceleration through the
 * first half of it. The last time before the top: a waggle ends in rest, too. (The last still frame: the address of McNally et al.,
 * "GolfDB", CVPR 2019 Workshops, just before the takeaway is noticeable.)
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
  const travelPx = meanOver(wrists, (path): [number] | null => {
    const [from, to] = [placeOf(path, slow.at, halfWidth), placeOf(path, topSeconds, halfWidth)]
    return from && to ? [Math.hypot(to[0] - from[0], to[1] - from[1])] : null
  })
  if (!travelPx || travelPx[0] < (leastTravelM * leg) / legM) return null
  const leastPx = leastScatter * leg
  const isFaceOn = isSeenFaceOn(body, slow.at - 0.3, slow.at) !== false
  if (!isFaceOn) {
    const mark = armsLeaveRest(body, topSeconds, leg)
    return mark && hint ? joinHint(mark, hint) : mark
  }
  let near = slow.at
  for (;;) {
    const back = topSeconds - near
    const [from, to] = [near - 0.35, near + awayShare * back]
    const hands = handsBetween(body, from, to)
    const mark = weighInstants(
      channelsOf(hands, from, to, () => [
        [1, 0],
        [0, 1],
      ]),
      leaving(back),
      { from: near - 0.25, to: near + 0.1 },
      { legPx: leg, channelsAJoint: 2, driftMps: wristDriftMps * sharedError(hands), hint },
    )
    if (!mark) return null
    if (near < slow.at - 0.35) return mark
    const { atSeconds: at } = mark
    // They must not have been on their way back already; a press toward the target is another way.
    const moved = meanOver(wrists, (path): [number, number] | null => {
      const [away] = directionOf(path, at, at + 0.3, halfWidth)
      const [x0, y0] = [levelOf(path.x, at - 0.4, at - 0.2), levelOf(path.y, at - 0.4, at - 0.2)]
      const [x1, y1] = [levelOf(path.x, at - 0.09, at + 0.01), levelOf(path.y, at - 0.09, at + 0.01)]
      if (!away || !x0 || !y0 || !x1 || !y1) return null
      return [
        (x1.value - x0.value) * away[0] + (y1.value - y0.value) * away[1],
        Math.hypot(x0.sd, y0.sd, x1.sd, y1.sd),
      ]
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
