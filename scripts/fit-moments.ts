// node scripts/run.mjs scripts/fit-moments.ts [FOLDER [FILMS]]: fits the weights of ball-spot, impact-chance and phase-chance on made
// films (seeds 0 to FILMS − 1, 240 unless said; the worlds report on others) and prints them. FOLDER keeps the films' readings
// from run to run. The weights of the ball come first: put them in, then run again for those that rest on it.
import {
  byFrame,
  companyOf,
  isSame,
  motionRanks,
  spotFeatures,
  sweptFeatures,
} from '../shared-core/moments/ball-spot.ts'
import type { SweptSpot } from '../shared-core/moments/swept-ground.ts'
import { leftAt } from '../shared-core/moments/vanished-spots.ts'
import { evidenceTerms } from '../shared-core/moments/impact-chance.ts'
import { phaseTerms } from '../shared-core/moments/phase-chance.ts'
import { Film } from '../tests/worlds/film/film-frames.ts'
import { filmOf } from '../tests/worlds/film/film-spec.ts'
import { keptReading } from '../tests/worlds/film/kept-reading.ts'
import { allowedMs, findInFilm } from '../tests/worlds/film/judge-film.ts'

type Sample = { x: number[]; y: boolean; weight?: number }
const [folder, films = '240'] = process.argv.slice(2)

/** Logistic regression by Newton's method; a little ridge keeps what a few samples would blow up. */
const fit = (samples: readonly Sample[], ridge = 1): number[] => {
  const n = samples[0]!.x.length
  let w = Array.from({ length: n }, () => 0)
  for (let round = 0; round < 40; round++) {
    const rows = Array.from({ length: n }, (_, i) =>
      Array.from({ length: n + 1 }, (_, k) => (i === k && i > 0 ? ridge : i === k ? 1e-6 : 0)),
    )
    for (let i = 1; i < n; i++) rows[i]![n]! -= ridge * w[i]!
    for (const { x, y, weight = 1 } of samples) {
      const p = 1 / (1 + Math.exp(-x.reduce((sum, v, i) => sum + v * w[i]!, 0)))
      const curve = Math.max(1e-4, p * (1 - p)) * weight
      for (let i = 0; i < n; i++) {
        rows[i]![n]! += weight * ((y ? 1 : 0) - p) * x[i]!
        for (let k = 0; k < n; k++) rows[i]![k]! += curve * x[i]! * x[k]!
      }
    }
    for (let i = 0; i < n; i++) {
      const pivot = rows.findIndex(
        (r, k) => k >= i && Math.abs(r[i]!) === Math.max(...rows.slice(i).map((q) => Math.abs(q[i]!))),
      )
      ;[rows[i], rows[pivot]] = [rows[pivot]!, rows[i]!]
      const lead = rows[i]![i]! || 1e-9
      rows[i] = rows[i]!.map((v) => v / lead)
      for (let k = 0; k < n; k++) {
        if (k === i) continue
        const factor = rows[k]![i]!
        rows[k] = rows[k]!.map((v, c) => v - factor * rows[i]![c]!)
      }
    }
    const step = rows.map((r) => r[n]!)
    w = w.map((v, i) => v + Math.max(-2, Math.min(2, step[i]!)))
    if (Math.max(...step.map(Math.abs)) < 1e-5) break
  }
  return w
}

const tell = (what: string, samples: readonly Sample[]) => {
  if (samples.length === 0) return
  const w = fit(samples)
  const said = samples.map(({ x, y }) => ({
    p: 1 / (1 + Math.exp(-x.reduce((s, v, i) => s + v * w[i]!, 0))),
    y,
  }))
  const bands = [0, 0.2, 0.5, 0.8, 0.9].map((from, i, all) => {
    const own = said.filter((s) => s.p >= from && s.p < (all[i + 1] ?? 2))
    return `${from}: ${own.filter((s) => s.y).length}/${own.length}`
  })
  console.log(
    `${what} [${w.map((v) => v.toFixed(2)).join(', ')}]  // ${samples.length} samples; ${bands.join('  ')}`,
  )
}

const balls: Sample[] = []
const swept: (Sample & { spot: SweptSpot & { frame: number } })[][] = []
const claims = { sight: [] as Sample[], sound: [] as Sample[], motion: [] as Sample[] }
const phases = { takeaway: [] as Sample[], top: [] as Sample[], finish: [] as Sample[] }
for (let seed = 0; seed < Number(films); seed++) {
  const film = new Film(filmOf(seed))
  const { spec, times } = film
  const { reading, sound } = keptReading(film, folder)
  const impacts = film.impactsSeconds.map((t) => film.frameAt(t))
  const ranks = motionRanks(reading.curve)
  const place = film.ballPlace
  const moved = 12 + Math.hypot(...spec.panPx) + (spec.zoom - 1) * spec.height
  const isBall = (spot: { lastSeen: number; goneBy: number; x: number; y: number }) => {
    const tail = Math.max(1, Math.round(0.035 * spec.captureRate))
    const isGone = impacts.some(
      (f) => f >= spot.lastSeen - 1 && f < Math.max(spot.lastSeen + 1, spot.goneBy) + tail,
    )
    return isGone && Math.hypot(spot.x - place.x, spot.y - place.y) < moved
  }
  const isWorth = ({ signs }: { signs: { there: number; gone: number } }) =>
    signs.there > 0.4 && signs.gone > 0.4
  for (const spot of reading.spots.filter(isWorth)) {
    balls.push({ x: spotFeatures(spot.signs, ranks(spot.frame)), y: isBall(spot) })
  }
  const wentAt = byFrame(reading.swept)
  swept.push(
    reading.swept.filter(isWorth).map((spot) => ({
      x: sweptFeatures(spot.signs, ranks(spot.lastSeen), companyOf(spot, wentAt)),
      y: isBall(spot),
      spot: { ...spot, frame: leftAt(spot.lastSeen, spot.goneBy) },
    })),
  )
  for (const variant of [reading, { ...reading, spots: [], swept: [] }]) {
    for (const heard of variant === reading ? [sound] : [sound, null]) {
      const tellClaim: Parameters<typeof findInFilm>[2] = ({ from, to, evidence }) => {
        // Whether a ball or a sound is the strike's is fitted here; how far its frame can be trusted is reckoned from physics.
        claims[evidence.by].push({ x: evidenceTerms(evidence), y: impacts.some((f) => f >= from && f <= to) })
      }
      const seen: Parameters<typeof findInFilm>[4] = (shape, frames) => {
        for (const name of ['takeaway', 'top', 'finish'] as const) {
          const frame = frames[name]
          if (frame === null) continue
          const at = times[frame]!.realSeconds
          const errors = spec.swings.map((s) => {
            const t = name === 'takeaway' ? 0 : name === 'top' ? spec.motion.moments.top : null
            return Math.abs(at - (t === null ? film.handsAtRest(s) : s.takeawaySeconds + t))
          })
          phases[name].push({ x: phaseTerms(shape), y: 1000 * Math.min(...errors) <= allowedMs[name] })
        }
      }
      findInFilm(film, variant, tellClaim, heard, seen)
    }
  }
}
tell('ball-spot', balls)
const sweptWeights = fit(swept.flat())
const sumOf = (x: number[]) => x.reduce((sum, v, i) => sum + v * sweptWeights[i]!, 0)
// The same spot is met at several cuts and reaches, and only the likeliest of them is weighed: set right for those.
const likeliest = swept.flatMap((film) => {
  const kept: typeof film = []
  for (const one of film.toSorted((a, b) => sumOf(b.x) - sumOf(a.x))) {
    if (kept.every((o) => !isSame(o.spot, one.spot))) kept.push(one)
  }
  return kept.map(({ x, y }) => ({ x: [1, sumOf(x)], y }))
})
const [shift, slope] = fit(likeliest, 0.01) as [number, number]
tell('ball-spot swept, likeliest:', likeliest)
console.log(
  `ball-spot swept: [${sweptWeights.map((w, i) => (slope * w + (i === 0 ? shift : 0)).toFixed(2)).join(', ')}]`,
)
for (const by of ['sight', 'sound', 'motion'] as const) tell(`impact-chance ${by}:`, claims[by])
for (const name of ['takeaway', 'top', 'finish'] as const) tell(`phase-chance ${name}:`, phases[name])
