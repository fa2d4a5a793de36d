import { difference, isSeenFaceOn, levelOf, type BodySeries, type Path, type Series } from './body-series.ts'
import { localFit, type LocalFit } from './local-fit.ts'
import { legM } from './way-changes.ts'

/** The hands' return to the ball, as it is seen: real seconds on the clock of the body that it was read off. */
export interface HandsReturn {
  /** When a ball that lay at the setup's place would have been struck, and one standard deviation of that. */
  readonly atSeconds: number
  readonly sdSeconds: number
  /** About where the hands turned before it. */
  readonly topSeconds: number
  /** Where they were last at rest before that; null where that was not seen. */
  readonly restSeconds: number | null
  /** They were seen to go on past the ball and up again. */
  readonly isThrough: boolean
  /** How fast they came down in the picture, m/s. */
  readonly speedMps: number
}

/**
 * Where the hands are at impact against setup, metres: ahead of it toward the target and a little higher. Common practice: 3 to 8 cm ahead with
 * an iron, about as at setup with the driver, behind it where a player flips; figures of scripts/worlds/body.ts −4 to 5, the captured player 10 (by
 * the model's points 4 to 9). Wide enough for all of them, and for the two centimetres by which the model's wrists lag behind fast hands.
 */
const ahead = { m: 0.035, sdM: 0.045 }
/** The same where the camera also sees how far the hands stand off the body. */
const aheadOblique = { m: 0.035, sdM: 0.08 }
/** A place of rest may be the one before a last waggle or press, metres. */
const restSdM = 0.015

/**
 * The hands are lowest so long before impact, seconds: by then the lead shoulder rises. Figures 0 to 18 ms face on and down the line, the
 * captured player 4 to 36.
 */
const lowest = { faceOn: { seconds: 0.014, sdSeconds: 0.014 }, other: { seconds: 0.03, sdSeconds: 0.02 } }

/** Real seconds within which hands come down from the top to the ball; a child's take half a second. */
const downWithin = { from: 0.12, to: 0.7 }
/** They come down by so much at least, and go up again, metres; a half swing's do. */
const leastDropM = 0.3
/** Hands that were lost for longer about their lowest, seconds, tell nothing of it: 15 frames a second with one gap. */
const longestGap = 0.14
/** And are seen past the lowest, metres. */
const leastRiseM = 0.04
/** Hands that come down from the finish are slower, m/s in the picture. */
const leastSpeedMps = 1.6
/** Hands move less than that over a quarter second while the player stands at the ball, metres. */
const stillM = 0.035
const stillSeconds = 0.25
/** A player stands over the ball no longer than that before the top, seconds. */
const longestBack = 2.4

type Sample = { t: number; x: number; y: number }

const samplesOf = ({ x, y }: Path): Sample[] =>
  Array.from(x.seconds, (t, k) => ({ t, x: x.values[k]!, y: y.values[k]! })).filter((s) =>
    Number.isFinite(s.x),
  )

/**
 * The middle of both wrists; where one is hidden the other one, moved by what the middle was off it at most a tenth of a second away.
 */
const handsOf = (body: BodySeries): Path => {
  const middle = body.middle('Wrist')
  const filled = (of: 'x' | 'y'): Series => {
    const values = middle[of].values.slice()
    for (const which of ['lead', 'trail'] as const) {
      const own = body.joint('Wrist', which)[of]
      const off = samplesOf(middle).length > 0 ? difference(middle[of], own) : null
      own.values.forEach((value, k) => {
        if (Number.isFinite(values[k]) || !Number.isFinite(value)) return
        const at = body.seconds[k]!
        const near = (reach: number) => off && levelOf(off, at - reach, at + reach)
        // Where frames lie far apart the hands' own breadth is the less of two evils.
        values[k] = value + ((near(alikeSeconds) ?? near(2 * alikeSeconds))?.value ?? 0)
      })
    }
    return { seconds: body.seconds, values }
  }
  const [x, y] = [filled('x'), filled('y')]
  if (samplesOf({ x, y }).length >= leastSeenShare * body.seconds.length) return { x, y }
  return (['lead', 'trail'] as const)
    .map((which) => body.joint('Wrist', which))
    .reduce((a, b) => (samplesOf(b).length > samplesOf(a).length ? b : a))
}
const alikeSeconds = 0.1
/** Where both wrists are hidden more often, one that is seen by itself is followed. */
const leastSeenShare = 0.5

/** Half a window that holds two values on each side, seconds: what was read may lie a frame or a tenth of a second apart. */
const halfWidthAt = (seconds: readonly number[], at: number, least: number): number => {
  const before = seconds.filter((t) => t <= at).at(-2) ?? at - most
  const after = seconds.filter((t) => t > at)[1] ?? at + most
  return Math.min(most, Math.max(least, 1.02 * Math.max(at - before, after - at)))
}
const most = 0.17

/** A series that hardly changes over a swing's strike, at an instant: a line through a tenth of a second about it. */
const slowly = (series: Series, at: number, half: number): LocalFit | null =>
  localFit(series.seconds, series.values, at, Math.max(0.1, 1.5 * half), 1)

/** All the times at which the hands come down fast, pass low and go up again, or are lost there. */
const passes = (
  hands: readonly Sample[],
  metrePx: number,
): { t: number; top: number; isThrough: boolean; speed: number }[] =>
  hands.flatMap((low, i) => {
    const near = hands.filter((s) => Math.abs(s.t - low.t) <= 0.12)
    if (near.some((s) => s.y > low.y)) return []
    const before = hands.filter((s) => s.t < low.t - 0.04 && s.t > low.t - downWithin.to)
    const top = before.reduce<Sample | null>((one, s) => (one && one.y <= s.y ? one : s), null)
    if (!top || low.y - top.y < leastDropM * metrePx) return []
    // Where they are lost on the way down, the lowest that was seen is no lowest.
    const [last, next] = [hands[i - 1], hands[i + 1]]
    if (!last || !next || low.t - last.t > longestGap || next.t - low.t > longestGap) return []
    if (!hands.some((s) => s.t > low.t && s.t < low.t + 0.25 && low.y - s.y > leastRiseM * metrePx)) return []
    const isThrough = hands.some(
      (s) => s.t > low.t && s.t < low.t + 0.6 && low.y - s.y > leastDropM * metrePx,
    )
    const speed = Math.max(
      ...hands.slice(1, i + 1).map((s, k) => {
        const last = hands[k]!
        const wide = s.t - last.t
        return s.t > low.t - 0.25 && wide > 0
          ? Math.hypot(s.x - last.x, s.y - last.y) / Math.max(0.02, wide) / metrePx
          : 0
      }),
    )
    return speed < leastSpeedMps ? [] : [{ t: low.t, top: top.t, isThrough, speed }]
  })

/** Where the hands last rested before the top, low over the ground. */
const restBefore = (hands: readonly Sample[], top: number, lowY: number, metrePx: number): number | null => {
  for (let at = top - 0.3; at > top - longestBack; at -= 0.03) {
    const own = hands.filter((s) => s.t > at - stillSeconds && s.t <= at)
    if (own.length < 3 || own.at(-1)!.t - own[0]!.t < 0.5 * stillSeconds) continue
    const range = (of: (s: Sample) => number) => Math.max(...own.map(of)) - Math.min(...own.map(of))
    if (
      Math.hypot(
        range((s) => s.x),
        range((s) => s.y),
      ) >
      stillM * metrePx
    ) {
      continue
    }
    if (Math.abs(own[0]!.y - lowY) < 0.25 * metrePx) return at
  }
  return null
}

/** Pixels a metre by the legs, or by the trunk where the picture ends above the feet; null where neither was seen. */
const metreOf = (body: BodySeries): number | null => {
  const between = (upper: Path, lower: Path) =>
    levelOf(
      { seconds: body.seconds, values: upper.y.values.map((y, k) => lower.y.values[k]! - y) },
      -Infinity,
      Infinity,
    )
  const leg = between(body.middle('Hip'), body.middle('Ankle'))
  if (leg && leg.value > 0) return leg.value / legM
  const trunk = between(body.middle('Shoulder'), body.middle('Hip'))
  return trunk && trunk.value > 0 ? trunk.value / leaningTrunkM : null
}
/** Shoulders over hips of a player who bends over the ball: 0.288 of a stature of 1.75 m (Drillis and Contini 1966), leaning by 30° to 40°. */
const leaningTrunkM = 0.41

/** A way as if the camera had stood as it did at an instant, by the lead foot; as it is where the foot was not seen. */
const againstFoot = (body: BodySeries, path: Path, at: number, half: number): Path => {
  const foot = body.joint('Ankle', 'lead')
  const steady = (way: Series, own: Series): Series => {
    const placeAt = (t: number) => localFit(own.seconds, own.values, t, half, 1)?.value
    const now = placeAt(at)
    if (now === undefined) return way
    let off = 0
    return {
      seconds: way.seconds,
      values: way.values.map((value, k) => {
        const place = placeAt(way.seconds[k]!)
        if (place !== undefined) off = place - now
        return value - off
      }),
    }
  }
  return { x: steady(path.x, foot.x), y: steady(path.y, foot.y) }
}

/**
 * When the hands came back to the ball, from the body alone: of the times at which they come down fast and pass low the fastest. Two things of
 * physics tell the instant: they are back where they were at rest, a little ahead of it along the line to the target (seen face on), and they are
 * just past their lowest. Both are weighed on a grid of instants, each with what players differ by and what the points scatter. The hands' way is
 * taken as an angle about the chest, which runs evenly where its coordinates bend, so that it holds between frames 1/15 s apart.
 *
 * A swish returns like a strike: that a ball was struck this cannot tell. Null where no such way is seen, or where it is not seen past the lowest.
 */
export const handsReturn = (body: BodySeries): HandsReturn | null => {
  const metrePx = metreOf(body)
  if (metrePx === null) return null
  const path = handsOf(body)
  const hands = samplesOf(path)
  const all = passes(hands, metrePx)
  const seen = all.some((p) => p.isThrough) ? all.filter((p) => p.isThrough) : all
  const pass = seen.reduce<(typeof all)[number] | null>(
    (one, p) => (one && one.speed >= p.speed ? one : p),
    null,
  )
  if (!pass) return null
  const seconds = hands.map((s) => s.t)
  const half = halfWidthAt(seconds, pass.t, Math.max(0.045, 2.2 * body.frameSeconds))
  // The camera may turn: at rest the hands are taken where they would be seen now, by the lead foot, which stands.
  const steady = againstFoot(body, path, pass.t, Math.max(0.2, 1.5 * half))
  const lowY = hands.find((s) => s.t === pass.t)!.y
  const rest = restBefore(samplesOf(steady), pass.top, lowY, metrePx)
  const isFaceOn = isSeenFaceOn(body, (rest ?? pass.top) - 0.4, rest ?? pass.top) !== false
  const restX = rest === null ? null : levelOf(steady.x, rest - stillSeconds, rest)

  // About the chest: angle and distance.
  const chest = body.middle('Shoulder')
  const polar = (k: number): [number, number] => {
    const [dx, dy] = [path.x.values[k]! - chest.x.values[k]!, path.y.values[k]! - chest.y.values[k]!]
    return [Math.atan2(dx, dy), Math.hypot(dx, dy)]
  }
  const of = (which: 0 | 1): Series => ({
    seconds: body.seconds,
    values: Float64Array.from(body.seconds, (t, k) => (Math.abs(t - pass.t) < 0.25 ? polar(k)[which] : NaN)),
  })
  const [angles, reaches] = [of(0), of(1)]
  const placeAt = (t: number): { x: number; y: number; sd: number } | null => {
    const angle = localFit(angles.seconds, angles.values, t, half)
    const reach = slowly(reaches, t, half)
    const [cx, cy] = [slowly(chest.x, t, half), slowly(chest.y, t, half)]
    if (!angle || !reach || !cx || !cy) return null
    const [sin, cos] = [Math.sin(angle.value), Math.cos(angle.value)]
    return {
      x: cx.value + reach.value * sin,
      y: cy.value + reach.value * cos,
      sd: Math.hypot(cx.sd, reach.value * cos * angle.sd, sin * reach.sd),
    }
  }
  const step = 0.001
  const grid: { t: number; x: number; y: number; sd: number }[] = []
  for (let t = pass.t - 0.13; t <= pass.t + 0.13; t += step) {
    const place = placeAt(t)
    if (place) grid.push({ t, ...place })
  }
  if (grid.length < 20) return null
  const bottom = grid.reduce((a, b) => (b.y > a.y ? b : a))
  const at = grid.indexOf(bottom)
  const [first, last] = [grid[Math.max(0, at - 15)]!, grid[Math.min(grid.length - 1, at + 15)]!]
  // Toward the target is where they go as they pass.
  const sign = Math.sign(last.x - first.x)
  const low = isFaceOn ? lowest.faceOn : lowest.other
  // Where the lowest lies at an end of what was seen it may lie beyond.
  const lowSd = Math.hypot(
    low.sdSeconds,
    (isFaceOn ? 0.15 : 0.35) * half,
    at < 3 || at > grid.length - 4 ? 0.05 : 0,
  )
  const own = isFaceOn ? ahead : aheadOblique
  const logs = grid.map(({ t, x, sd }) => {
    let log = -0.5 * ((t - bottom.t - low.seconds) / lowSd) ** 2
    if (restX) {
      const aheadM = ((x - restX.value) * sign) / metrePx
      const sdM = Math.hypot(own.sdM, restSdM, sd / metrePx, restX.sd / metrePx)
      log += -0.5 * ((aheadM - own.m) / sdM) ** 2
    }
    return log
  })
  const likeliest = Math.max(...logs)
  const weights = logs.map((log) => Math.exp(log - likeliest))
  const sum = weights.reduce((a, b) => a + b, 0)
  const mean = grid.reduce((total, { t }, i) => total + t * weights[i]!, 0) / sum
  const variance = grid.reduce((total, { t }, i) => total + (t - mean) ** 2 * weights[i]!, 0) / sum
  return {
    atSeconds: mean,
    sdSeconds: Math.max(leastSdSeconds, Math.sqrt(variance)),
    topSeconds: pass.top,
    restSeconds: rest,
    isThrough: pass.isThrough,
    speedMps: pass.speed,
  }
}

/** No return is told more surely than that, seconds: on the tuning films. */
const leastSdSeconds = 0.005
