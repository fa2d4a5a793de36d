import type { BallDeparture } from './ball-departure.ts'
import { frameAtOrBefore } from './frame-at.ts'
import type { FoundMoment, FoundMomentName, FoundSwing, MomentSource } from './moment.ts'
import type { StrikeCandidate } from './strike-sound.ts'
import { medianFrameSeconds } from './swing-bursts.ts'
import type { SwingBurst } from './swing-bursts.ts'

/** A sharp sound, put at the instant (real seconds of the picture's clock) at which it was made. */
export type Strike = { atSeconds: number; candidate: StrikeCandidate }

/** A stretch of the clip worth a closer look, in real seconds. */
export type Look = {
  burst: SwingBurst | null
  strikes: Strike[]
  /** Instants around which the ball may have left. */
  expectedSeconds: number[]
  fromSeconds: number
  toSeconds: number
}

const lookBack = 1.1
const lookAhead = 0.7
/** The greatest change in the picture and the strike lie this close together, seconds (common practice, no source). */
const burstReach = 0.4

/**
 * Puts sounds on the picture's clock: minus the way from ball to microphone, minus how much the sound track runs late.
 * All in real seconds.
 */
export const strikesOf = (
  candidates: StrikeCandidate[],
  delaySeconds: number,
  audioLateSeconds: number,
): Strike[] =>
  candidates.map((candidate) => ({
    atSeconds: candidate.heardAtSeconds - delaySeconds - audioLateSeconds,
    candidate,
  }))

/** Nobody hits two balls within this time, seconds (common practice, no source). */
const leastApart = 2
/** The ball reaches a net or a screen this long after the strike at most, seconds: 10 m at 30 m/s. */
const netSeconds = 0.35

/** How much farther from the greatest change the strike may lie when the swing's shape is unclear, seconds. */
const doubt = (burst: SwingBurst): number => 0.12 * (1 - burst.clearness)

const weightOf = (strike: Strike) => strike.candidate.strength * strike.candidate.likeness

/** Decides where in the clip a strike can be: in each burst of motion, or without any motion at the sharpest sounds. */
export const placesToLook = (bursts: SwingBurst[], strikes: Strike[]): Look[] => {
  const highest = Math.max(0, ...bursts.map((b) => b.height * Math.sqrt(b.clearness)))
  const likely = bursts.filter(
    (b) => b.clearness > 0.1 && b.height * Math.sqrt(b.clearness) >= 0.25 * highest,
  )
  const strongest = (list: Strike[], most: number) =>
    [...list].sort((a, b) => weightOf(b) - weightOf(a)).slice(0, most)
  const look = (burst: SwingBurst | null, near: Strike[], expected: number[]): Look => ({
    burst,
    strikes: near,
    expectedSeconds: expected,
    fromSeconds: Math.min(...expected) - lookBack,
    toSeconds: Math.max(...expected) + lookAhead,
  })
  if (likely.length > 0) {
    const inBurst = (s: Strike, burst: SwingBurst) => Math.abs(s.atSeconds - burst.peakSeconds) <= burstReach
    const looks = likely.map((burst) => {
      const near = strikes.filter((s) => inBurst(s, burst))
      return look(burst, near, [burst.peakSeconds, ...strongest(near, 3).map((s) => s.atSeconds)])
    })
    // Somebody walking through the picture can hide the swing; a clear strike elsewhere is worth a look.
    const [outside] = strongest(strikes, 1)
    if (outside && !likely.some((burst) => inBurst(outside, burst))) {
      looks.push(look(null, [outside], [outside.atSeconds]))
    }
    return looks
  }
  return strongest(strikes, 3)
    .sort((a, b) => a.atSeconds - b.atSeconds)
    .map((strike) => look(null, [strike], [strike.atSeconds]))
}

type Impact = { frame: number; confidence: number; how: MomentSource }

/**
 * Weighs what was heard and seen, and gives the swings of the clip with their moments, in order of time.
 *
 * `atSeconds` are the frames' file timestamps, `stretch` is captureRate / playbackRate. `balls[i]` are the departures seen in
 * `looks[i]`. A burst of motion with neither a strike's sound nor a ball leaving is a practice swing and is left out,
 * unless the clip has nothing better; then its impact carries a confidence well below 0.5.
 */
export const findSwings = (input: {
  atSeconds: Float64Array
  stretch: number
  strikes: Strike[]
  looks: Look[]
  balls: BallDeparture[][]
}): FoundSwing[] => {
  const { atSeconds, stretch, strikes, looks, balls } = input
  const count = atSeconds.length
  if (count === 0 || looks.length === 0) return []
  const real = atSeconds.map((t) => t / stretch)
  const gap = medianFrameSeconds(real) || 1 / 30
  const end = real[count - 1]! + gap
  const inClip = (s: Strike) => s.atSeconds >= real[0]! && s.atSeconds < end
  const loudest = Math.max(1e-9, ...strikes.filter(inClip).map(weightOf))

  // A strike without a swing in sight is less to be trusted where a swing is in sight elsewhere.
  const stillness = 0.8 - 0.4 * Math.max(0, ...looks.map((l) => l.burst?.clearness ?? 0))
  const judged = looks.map((look, i) => ({ look, impact: judge(look, likeliest(look, balls[i] ?? [])) }))
  const sure = judged.filter((j) => j.impact.confidence >= 0.45)
  const moving = sure.filter((j) => j.look.burst !== null)
  const kept =
    moving.length > 0
      ? moving
      : [judged.reduce((best, j) => (j.impact.confidence > best.impact.confidence ? j : best))]

  // Two bursts may claim one swing (the strike and the settling after it): the surer keeps it.
  const apart: typeof kept = []
  for (const j of [...kept].sort((a, b) => b.impact.confidence - a.impact.confidence)) {
    if (apart.every((o) => Math.abs(real[o.impact.frame]! - real[j.impact.frame]!) > leastApart)) {
      apart.push(j)
    }
  }
  apart.sort((a, b) => a.impact.frame - b.impact.frame)
  return apart.map((j) => swingOf(j.look, j.impact))

  /** Of several places where something left: the surest, near the fast part, and rather with a strike's sound. */
  function likeliest(look: Look, seen: BallDeparture[]): BallDeparture | null {
    let best: BallDeparture | null = null
    let bestScore = 0
    for (const ball of seen) {
      const at = real[ball.frame]!
      const z = look.burst ? (at - look.burst.peakSeconds) / (0.16 + doubt(look.burst)) : 0
      const confidence = ball.confidence * Math.max(0.1, Math.exp(-0.5 * Math.max(0, Math.abs(z) - 0.7) ** 2))
      let sound = 0
      for (const strike of look.strikes) {
        if (Math.abs(strike.atSeconds - at - gap / 2) < 0.025 + gap / 2) {
          sound = Math.max(sound, weightOf(strike) / loudest)
        }
      }
      if (confidence * (1 + 2 * sound) > bestScore) {
        bestScore = confidence * (1 + 2 * sound)
        best = { ...ball, confidence }
      }
    }
    return best
  }

  function judge(look: Look, ball: BallDeparture | null): Impact {
    const trust = ball?.confidence ?? 0
    const ballFrom = ball ? real[ball.frame]! : 0
    const ballTo = ball ? (real[ball.frame + 1] ?? end) : 0
    const slack = Math.max(0.025, gap)
    // Without motion, every sharp sound of the clip is a rival.
    const rivals = (look.burst ? look.strikes : strikes).filter(inClip).map((strike) => {
      const z = look.burst ? (strike.atSeconds - look.burst.peakSeconds) / (0.13 + doubt(look.burst)) : 0
      const fits = strike.atSeconds > ballFrom - slack && strike.atSeconds < ballTo + slack
      const seen = !ball ? 1 : fits ? 1 + 8 * trust : 1 - 0.9 * trust
      return { strike, weight: (weightOf(strike) / loudest) * (Math.exp(-0.5 * z * z) + 0.01) * seen }
    })
    let sum = 0.06
    let best: Strike | null = null
    let bestWeight = 0
    for (const { strike, weight: full } of rivals) {
      // The ball in the net or on the screen is as sharp and as loud, but never first.
      const follows = rivals.some((r) => {
        const lead = strike.atSeconds - r.strike.atSeconds
        return lead > 0.04 && lead < netSeconds && r.weight > 0.25 * full
      })
      const weight = follows ? 0.3 * full : full
      sum += weight
      if (weight > bestWeight && (look.burst || look.strikes.includes(strike))) {
        bestWeight = weight
        best = strike
      }
    }
    const seen: Impact | null = ball ? { frame: ball.frame, confidence: trust, how: 'motion' } : null
    if (best) {
      const share = bestWeight / sum
      const heard = share * Math.sqrt(best.candidate.likeness) * (look.burst ? 0.97 : stillness)
      const frame = frameAtOrBefore(real, best.atSeconds)
      const near = ball !== null && best.atSeconds > ballFrom - slack && best.atSeconds < ballTo + slack
      if (seen && near) {
        // Two witnesses. The picture is good to half a frame; the sound to about 5 ms, for the microphone's place
        // is only known to a metre or two. Whichever is finer names the frame.
        const finer = gap < 0.008 && trust >= 0.4
        const confidence = 1 - (1 - heard) * (1 - 0.9 * trust)
        const away = Math.abs(frame - seen.frame)
        return {
          frame: finer ? seen.frame : frame,
          confidence: Math.min(0.99, away > 1 && !finer ? confidence * 0.7 : confidence),
          how: 'sound+motion',
        }
      }
      if (!seen || heard > seen.confidence) {
        return { frame, confidence: seen ? heard * (1 - 0.5 * trust) : heard, how: 'sound' }
      }
    }
    if (seen) return seen
    if (look.burst) {
      return { frame: look.burst.peak, confidence: 0.35 * look.burst.clearness, how: 'motion' }
    }
    return { frame: frameAtOrBefore(real, look.expectedSeconds[0]!), confidence: 0.1, how: 'sound' }
  }

  function swingOf(look: Look, impact: Impact): FoundSwing {
    const moments: FoundMoment[] = []
    const add = (name: FoundMomentName, frame: number, confidence: number, how: MomentSource) =>
      moments.push({
        name,
        frame,
        atSeconds: atSeconds[frame]!,
        confidence: Math.round(confidence * 100) / 100,
        how,
      })
    const { burst } = look
    const impactAt = real[impact.frame]!
    if (burst) {
      const clear = burst.clearness
      const { top, takeaway, finish } = burst
      const downswing = top === null ? null : impactAt - real[top]!
      const plausibleDown = downswing !== null && downswing > 0.12 && downswing < 0.6
      const backswing = top === null || takeaway === null ? null : real[top]! - real[takeaway]!
      const plausibleBack = backswing !== null && backswing > 0.35 && backswing < 2
      if (takeaway !== null && plausibleDown && backswing !== null && backswing > 0) {
        const confidence = (plausibleBack ? 0.48 : 0.25) * clear
        const setup = frameAtOrBefore(real, real[takeaway]! - 0.1)
        if (setup < takeaway) add('setup', setup, confidence * 0.9, 'motion')
        add('takeaway', takeaway, confidence, 'motion')
      }
      if (top !== null && plausibleDown) add('top', top, (plausibleBack ? 0.75 : 0.35) * clear, 'motion')
      add('impact', impact.frame, impact.confidence, impact.how)
      if (finish !== null && finish > impact.frame) add('finish', finish, 0.45 * clear, 'motion')
    } else add('impact', impact.frame, impact.confidence, impact.how)

    const firstAt = real[moments[0]!.frame]!
    const lastAt = real[moments[moments.length - 1]!.frame]!
    const others = apart.filter((o) => o.look !== look).map((o) => real[o.impact.frame]!)
    const earlier = Math.max(real[0]!, ...others.filter((t) => t < impactAt).map((t) => (t + impactAt) / 2))
    const later = Math.min(end, ...others.filter((t) => t > impactAt).map((t) => (t + impactAt) / 2))
    const from = Math.max(earlier, Math.min(firstAt - 0.5, impactAt - 2))
    const to = Math.min(later, Math.max(lastAt + 0.5, impactAt + 1.5))
    return {
      fromFrame: Math.min(moments[0]!.frame, frameAtOrBefore(real, from)),
      toFrame: Math.max(moments[moments.length - 1]!.frame, frameAtOrBefore(real, to)),
      moments,
    }
  }
}
