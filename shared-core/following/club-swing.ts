/** Rays round the hands, one a degree. */
export const rays = 360

/**
 * What was seen round the hands on each frame of one stretch. Along every ray the samples of how much it looks like a shaft there, 0 to 255
 * (frames × rays × samples), from `innerShare` to `outerShare` of the club's length.
 */
export interface ShaftSight {
  readonly frames: number
  readonly samples: number
  readonly looks: Uint8Array
}

/** The club's seen length is told by its marked one: nearer to the hands lies the grip, farther off nothing of it. */
export const innerShare = 0.2
/**
 * The seen length grows as the head comes nearer to the camera: from down the line at 3 m a club of 1.1 m that points at it is seen 3 / 1.9 times
 * as large, and one that leaned at the setup is seen whole (a driver's shaft lies some 58° to the ground: common practice).
 */
export const outerShare = 1.8

/**
 * A share of a ray's samples that look like a shaft from which on a shaft is likelier than none. Own choice, half of what a whole shaft in
 * front of a plain background gives.
 */
export const halfSeen = 0.3

/**
 * How a club turns about the hands in the picture: no faster than so, degrees a second (a club head of 55 m/s some 1.2 m from the point
 * it turns about: 2,600; nearer the camera a fifth more), and gaining speed so, one sigma, degrees a second squared (from rest to
 * that within a tenth of a second). From memory of published swings; loose bounds, not fits.
 */
const mostTurn = 3300
const turnGain = 25_000
/** How fast the seen length changes, club lengths a second, one sigma: seen from down the line a good part of the head's speed goes into it. */
const lengthChange = 10
/**
 * Where the club points at the camera its shaft is seen short or not at all, and comes out on the other side at once: any turn between two frames
 * costs so much, two or three frames' whole shafts.
 */
const jumpCost = 1.2
/** What one sigma of either costs, in shafts seen. */
const turnCost = 0.1
const lengthCost = 0.02

/** What a frame says about the club. */
export interface ClubSighting {
  /** Radians in the picture, from the right turning down. */
  readonly angle: number
  /** From the hands to the far end of what is seen along that ray, club lengths. */
  readonly endShare: number
  /** How much of a shaft is seen on this very frame, 0 to about 0.6. */
  readonly seen: number
  /** By how much the whole stretch is better explained so than with the shaft elsewhere on this frame. */
  readonly margin: number
}

/** Sum of what speaks for a shaft from the grip to each sample of a ray, club lengths. */
const sumsAlong = (sight: ShaftSight, frame: number, ray: number, into: Float32Array): void => {
  const { samples, looks } = sight
  const from = (frame * rays + ray) * samples
  const step = (outerShare - innerShare) / samples
  let sum = 0
  for (let k = 0; k < samples; k++) {
    sum += (looks[from + k]! / 255 - halfSeen) * step
    into[k] = sum
  }
}

/** How well a shaft lies on every ray of every frame: the best end's sum, never less than nothing. */
const fits = (sight: ShaftSight): Float32Array => {
  const out = new Float32Array(sight.frames * rays)
  const sums = new Float32Array(sight.samples)
  for (let i = 0; i < out.length; i++) {
    sumsAlong(sight, Math.floor(i / rays), i % rays, sums)
    let best = 0
    for (const sum of sums) if (sum > best) best = sum
    out[i] = best
  }
  return out
}

const turned = (ray: number, of = rays): number => ((ray % of) + of) % of
const apartRays = (a: number, b: number, of = rays): number => {
  const d = turned(a - b, of)
  return Math.min(d, of - d)
}

/** No club is pinned to another ray than its mark's, as good as. */
const never = -1e3
/** A mark pins the shaft so near, rays. */
const pinRays = 3
/** Farther off than this the shaft is elsewhere, degrees. */
const elsewhereDegrees = 12

/**
 * Where the shaft was on every frame of a stretch: of all ways that a club can turn the one along which most of a shaft is seen (A. Viterbi,
 * "Error bounds for convolutional codes", 1967, over angle and speed of turn, from both ends). `pins`: frames on which the head was marked, with its angle and
 * distance in club lengths.
 */
export const clubSwing = (
  sight: ShaftSight,
  captureRate: number,
  pins: ReadonlyMap<number, { readonly angle: number; readonly endShare: number }>,
): ClubSighting[] => {
  const { frames } = sight
  const fit = fits(sight)
  for (const [frame, { angle }] of pins) {
    const at = (angle * rays) / (2 * Math.PI)
    for (let ray = 0; ray < rays; ray++) {
      if (apartRays(ray, at) > pinRays) fit[frame * rays + ray] = never
    }
  }
  const { chosen, margins } = likeliestWay(fit, frames, captureRate)
  const ends = endsAlong(sight, chosen, captureRate, pins)
  return Array.from(chosen, (ray, i) => ({
    angle: ((ray + bend(fit, i, ray)) * 2 * Math.PI) / rays,
    endShare: ends[i]!,
    seen: Math.max(0, fit[i * rays + ray]!),
    margin: margins[i]!,
  }))
}

const mostOf = (values: Float32Array): number => {
  let most = -Infinity
  for (const value of values) if (value > most) most = value
  return most
}

/** The way over all frames and rays along which the fits add up to most, and how much less any way elsewhere has, frame by frame. */
const likeliestWay = (fit: Float32Array, frames: number, captureRate: number) => {
  // The fewer frames a second, the farther a club turns between them: coarser rays do, and take less time.
  const merged = captureRate >= 100 ? 1 : captureRate >= 50 ? 2 : 3
  const n = rays / merged
  const coarse = new Float32Array(frames * n).fill(-Infinity)
  for (let i = 0; i < fit.length; i++) {
    const at = Math.floor(i / merged)
    if (fit[i]! > coarse[at]!) coarse[at] = fit[i]!
  }
  const degrees = 360 / n
  const most = Math.ceil(mostTurn / captureRate / degrees)
  const speeds = 2 * most + 1
  const gain = turnGain / captureRate ** 2 / degrees
  const reach = Math.ceil(2.5 * gain) + 1
  // A step of one ray is no turn: the rays are coarser than a slow club.
  const costs = Float32Array.from(
    { length: 2 * reach + 1 },
    (_, i) => turnCost * (Math.max(0, Math.abs(i - reach) - 1) / Math.max(gain, 0.5)) ** 2,
  )
  const layer = n * speeds
  /** The best way from the first frame to each ray, reached at each speed. */
  const forth = new Float32Array(frames * layer)
  for (let s = 0; s < layer; s++) forth[s] = coarse[Math.floor(s / speeds)]!
  for (let i = 1; i < frames; i++) {
    const [from, to] = [(i - 1) * layer, i * layer]
    const jumped = mostOf(forth.subarray(from, to)) - jumpCost
    for (let ray = 0; ray < n; ray++) {
      for (let v = 0; v < speeds; v++) {
        let best = jumped
        const [low, high] = [Math.max(0, v - reach), Math.min(speeds - 1, v + reach)]
        for (let u = low; u <= high; u++) {
          const value = forth[from + ray * speeds + u]! - costs[v - u + reach]!
          if (value > best) best = value
        }
        const next = turned(ray + v - most, n)
        forth[to + next * speeds + v] = best + coarse[i * n + next]!
      }
    }
  }
  const chosen = new Int16Array(frames)
  const margins = new Float32Array(frames)
  /** The best way on from each ray, reached at each speed, to the last frame. */
  let back = new Float32Array(layer)
  let before = new Float32Array(layer)
  const through = new Float32Array(n)
  for (let i = frames - 1; i >= 0; i--) {
    through.fill(-Infinity)
    for (let s = 0; s < layer; s++) {
      const ray = Math.floor(s / speeds)
      through[ray] = Math.max(through[ray]!, forth[i * layer + s]! + back[s]!)
    }
    let best = 0
    for (let ray = 1; ray < n; ray++) if (through[ray]! > through[best]!) best = ray
    let other = -Infinity
    for (let ray = 0; ray < n; ray++) {
      if (apartRays(ray, best, n) * degrees > elsewhereDegrees) other = Math.max(other, through[ray]!)
    }
    let fine = best * merged
    for (let ray = fine + 1; ray < (best + 1) * merged; ray++) {
      if (fit[i * rays + ray]! > fit[i * rays + fine]!) fine = ray
    }
    chosen[i] = fine
    margins[i] = through[best]! - other
    if (i === 0) break
    const jumped = mostOf(back.map((value, s) => value + coarse[i * n + Math.floor(s / speeds)]!)) - jumpCost
    for (let ray = 0; ray < n; ray++) {
      for (let u = 0; u < speeds; u++) {
        let value = jumped
        const [low, high] = [Math.max(0, u - reach), Math.min(speeds - 1, u + reach)]
        for (let v = low; v <= high; v++) {
          const next = turned(ray + v - most, n)
          const own = coarse[i * n + next]! + back[next * speeds + v]! - costs[v - u + reach]!
          if (own > value) value = own
        }
        before[ray * speeds + u] = value
      }
    }
    ;[back, before] = [before, back]
  }
  return { chosen, margins }
}

/** A parabola through the fits of three neighbouring rays: where between them the shaft lies. */
const bend = (fit: Float32Array, frame: number, ray: number): number => {
  const at = (r: number) => fit[frame * rays + turned(r)]!
  const [a, b, c] = [at(ray - 1), at(ray), at(ray + 1)]
  const curve = a - 2 * b + c
  return a > never / 2 && c > never / 2 && curve < -1e-9
    ? Math.max(-0.5, Math.min(0.5, (0.5 * (a - c)) / curve))
    : 0
}

/** The far end of the shaft along the chosen rays, changing as slowly as a club does that leans towards the camera or away. */
const endsAlong = (
  sight: ShaftSight,
  chosen: Int16Array,
  captureRate: number,
  pins: ReadonlyMap<number, { readonly endShare: number }>,
): Float32Array => {
  const { samples, frames } = sight
  const step = (outerShare - innerShare) / samples
  const sigma = Math.max(0.5, lengthChange / captureRate / step)
  const reach = Math.ceil(3 * sigma)
  const score = new Float32Array(frames * samples)
  const from = new Int16Array(frames * samples)
  const sums = new Float32Array(samples)
  for (let i = 0; i < frames; i++) {
    sumsAlong(sight, i, chosen[i]!, sums)
    const pin = pins.get(i)
    for (let k = 0; k < samples; k++) {
      let own = sums[k]!
      if (pin && Math.abs(innerShare + (k + 1) * step - pin.endShare) > 0.05) own = never
      if (i > 0) {
        let best = -Infinity
        for (let j = Math.max(0, k - reach); j <= Math.min(samples - 1, k + reach); j++) {
          const value = score[(i - 1) * samples + j]! - lengthCost * ((k - j) / sigma) ** 2
          if (value > best) {
            best = value
            from[i * samples + k] = j
          }
        }
        own += best
      }
      score[i * samples + k] = own
    }
  }
  const ends = new Float32Array(frames)
  let k = 0
  for (let j = 1; j < samples; j++) {
    if (score[(frames - 1) * samples + j]! > score[(frames - 1) * samples + k]!) k = j
  }
  for (let i = frames - 1; i >= 0; i--) {
    ends[i] = innerShare + (k + 1) * step
    k = from[i * samples + k]!
  }
  return ends
}
