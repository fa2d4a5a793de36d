import type { SeenBall } from './ball-spot.ts'
import { frameAtOrBefore } from './frame-at.ts'
import type { FoundMoment, FoundMomentName, FoundSwing, MomentSource } from './moment.ts'
import { chanceOf, logit, silenceOdds, toldCarefully, weighed } from './impact-chance.ts'
import type { ImpactEvidence, SwingEvidence } from './impact-chance.ts'
import { phaseChance } from './phase-chance.ts'
import type { SwingShape } from './phase-chance.ts'
import { delayRange } from './sound-delay.ts'
import type { StrikeCandidate } from './strike-sound.ts'
import { framesAllowed, inStepShare, soundInStep, strikeFrame, usualSoundSdSeconds } from './strike-frame.ts'
import { medianFrameSeconds, swingFit } from './swing-bursts.ts'
import type { SwingBurst } from './swing-bursts.ts'

/** A sharp sound, put at the instant (real seconds of the picture's clock) at which it was made. */
export type Strike = { atSeconds: number; candidate: StrikeCandidate }

/** A place in the film where a ball may have been struck: a burst of motion, or a ball or a sound without one. */
type Look = { burst: SwingBurst | null; strikes: Strike[]; balls: SeenBall[] }

/** The greatest change in the picture and the strike lie this close together, seconds (common practice, no source). */
const burstReach = 0.4

/** Swings surer than this are told; where there is none, only the surest of the clip. */
const minSure = 0.45
const minBeside = 0.65
/** Nobody hits two balls within this time, seconds: the second must be put down, and a swing takes more than one (common practice, no source). */
const minApart = 3
/** The ball reaches a net or a screen this long after the strike at most, seconds: 10 m at 30 m/s. */
const netSeconds = 0.35

/** How much farther from the greatest change the strike may lie when the swing's shape is unclear, seconds. */
const doubt = (burst: SwingBurst): number => 0.12 * (1 - burst.clearness)

const weightOf = (strike: Strike) => strike.candidate.strength * strike.candidate.likeness

/** A spot as likely as this is the ball that a sound belongs to. */
const sureSpot = 0.3
/** A ball as likely as this by sight counts even where no swing is seen, and is a witness beside the sound. */
const sureBall = 0.5

/** Where in the film a ball can have been struck: in each burst of motion, where one was seen to go, at the sharpest sound. */
const placesToLook = (
  bursts: SwingBurst[],
  strikes: Strike[],
  balls: readonly SeenBall[],
  real: Float64Array,
): Look[] => {
  const highest = Math.max(0, ...bursts.map((b) => b.height * Math.sqrt(b.clearness)))
  const likely = bursts.filter(
    (b) => b.clearness > 0.1 && b.height * Math.sqrt(b.clearness) >= 0.25 * highest,
  )
  const inBurst = (seconds: number, burst: SwingBurst) => Math.abs(seconds - burst.peakSeconds) <= burstReach
  const looks = likely.map((burst): Look => ({
    burst,
    strikes: strikes.filter((s) => inBurst(s.atSeconds, burst)),
    balls: balls.filter((b) => inBurst(real[b.frame]!, burst)),
  }))
  const isOutside = (seconds: number) => !likely.some((burst) => inBurst(seconds, burst))
  // Somebody walking through the picture can hide the swing.
  for (const ball of balls) {
    const at = real[ball.frame]!
    if (ball.chance < sureBall || !isOutside(at)) continue
    looks.push({
      burst: null,
      strikes: strikes.filter((s) => Math.abs(s.atSeconds - at) <= burstReach),
      balls: balls.filter((b) => Math.abs(real[b.frame]! - at) <= burstReach),
    })
    break
  }
  const outside = strikes.filter((s) => isOutside(s.atSeconds)).sort((a, b) => weightOf(b) - weightOf(a))
  for (const strike of outside.slice(0, likely.length > 0 ? 1 : 3)) {
    looks.push({ burst: null, strikes: [strike], balls: [] })
  }
  return looks
}

type Impact = { frame: number; confidence: number; how: MomentSource; ball: FoundSwing['ball'] }

/** An instant at which a ball may have been struck, and what speaks for it. */
export type ImpactClaim = {
  frame: number
  how: MomentSource
  evidence: ImpactEvidence
  /** First and last frame between which the strike lies, if what was seen or heard is its own. */
  from: number
  to: number
  /** Where a ball was seen to go. */
  ball?: { lastSeen: number; goneBy: number }
}

/** Told what takeaway, top and finish of a swing rest on, and their frames. */
export type TellPhases = (
  shape: SwingShape,
  frames: { takeaway: number | null; top: number | null; finish: number | null },
) => void

/**
 * Weighs what was heard and seen, and gives the swings of the clip with their moments, in order of time.
 *
 * `atSeconds` are the frames' file timestamps, `real` their real seconds. A burst of motion with neither a strike's sound nor
 * a ball leaving is a practice swing, or the clip ends before the strike: it has no impact.
 */
export const findSwings = (input: {
  atSeconds: Float64Array
  real: Float64Array
  bursts: SwingBurst[]
  strikes: Strike[]
  balls: readonly SeenBall[]
  /** 0 to 1: how much a ball still lies there at the end of the film. */
  ballLies?: number
  /** How fast it was filmed is known, not only guessed from the swing. */
  isRateKnown?: boolean
  /** Something was recorded, be it only the room's own noise. */
  hasSound?: boolean
  /** Standard deviation of the strikes' sound against the picture, real seconds. */
  soundSdSeconds?: number
  /** Told every instant that is weighed: what the weights are fitted on. */
  onClaim?: (claim: ImpactClaim) => void
  onPhases?: TellPhases
}): FoundSwing[] => {
  const {
    atSeconds,
    real,
    bursts,
    strikes,
    balls,
    ballLies = 0,
    isRateKnown = true,
    hasSound = false,
  } = input
  const { soundSdSeconds = usualSoundSdSeconds } = input
  const looks = placesToLook(bursts, strikes, balls, real)
  const count = atSeconds.length
  if (count === 0 || looks.length === 0) return []
  const gap = medianFrameSeconds(real) || 1 / 30
  const end = real[count - 1]! + gap
  // Slowed films of unknown rate have been through a program that may have moved their sound.
  const film = {
    real,
    frameSeconds: gap,
    soundSdSeconds,
    inStep: isRateKnown ? inStepShare : 0.5 * inStepShare,
  }
  const inClip = (s: Strike) => s.atSeconds >= real[0]! && s.atSeconds < end
  const loudest = Math.max(1e-9, ...strikes.filter(inClip).map(weightOf))

  const judged = looks.map((look) => ({ look, impact: judge(look) }))
  // Beside a sure strike, what may as well be a practice swing or a neighbour's ball is not a swing of this film.
  const surest = Math.max(0, ...judged.map((j) => j.impact?.confidence ?? 0))
  const least = surest >= 0.85 ? minBeside : minSure
  const sure = judged.filter((j) => (j.impact?.confidence ?? 0) >= least)
  const best = judged.reduce((one, j) =>
    (j.impact?.confidence ?? 0) > (one.impact?.confidence ?? 0) ? j : one,
  )
  const kept = sure.length > 0 ? sure : [best.impact ? best : (judged.find((j) => j.look.burst) ?? best)]

  // Two bursts may claim one swing (the strike and the settling after it): the surer keeps it.
  const apart: typeof kept = []
  const anchor = (j: { look: Look; impact: Impact | null }) =>
    real[j.impact?.frame ?? j.look.burst?.peak ?? 0]!
  for (const j of [...kept].sort((a, b) => (b.impact?.confidence ?? 0) - (a.impact?.confidence ?? 0))) {
    if (apart.every((o) => Math.abs(anchor(o) - anchor(j)) > minApart)) apart.push(j)
  }
  apart.sort((a, b) => anchor(a) - anchor(b))
  return apart.flatMap((j) => {
    // Neither a strike nor a swing in what is left of a damaged film.
    if (!j.impact && !j.look.burst) return []
    const swing = swingOf(j.look, j.impact)
    return swing.moments.length > 0 ? [swing] : []
  })

  /** The likeliest instant of a look at which a ball was struck; null if nothing speaks for one. */
  function judge(look: Look): Impact | null {
    const all = claimsOf(look)
    for (const claim of all) input.onClaim?.(claim)
    const claims = withoutPieces(all)
    const chances = weighed(claims.map((c) => chanceOf(c.evidence)))
    let likeliest = -1
    claims.forEach((_, i) => {
      if (chances[i]! > (chances[likeliest] ?? 0)) likeliest = i
    })
    if (likeliest < 0) return null
    const { frame, how } = claims[likeliest]!
    // Claims that name the same frame, or as good as, speak for each other.
    const confidence = claims.reduce(
      (sum, c, i) => sum + (Math.abs(c.frame - frame) <= framesAllowed(gap) ? chances[i]! : 0),
      0,
    )
    return { frame, how, confidence: toldCarefully(Math.min(0.98, confidence)), ball: surelySeen(claims) }
  }

  /** Of what was seen to go at one and the same time only the likeliest: pieces of one thing do not speak for each other. */
  function withoutPieces(claims: ImpactClaim[]): ImpactClaim[] {
    const chances = claims.map((c) => chanceOf(c.evidence))
    return claims.filter((c, i) =>
      claims.every((o, k) => {
        const isRival = c.evidence.by === 'sight' && o.evidence.by === 'sight' && k !== i
        const isSurer = chances[k]! > chances[i]! || (chances[k] === chances[i] && k < i)
        return !isRival || !isSurer || Math.abs(o.frame - c.frame) > framesAllowed(gap)
      }),
    )
  }

  /**
   * The ball that was surely seen to go, whatever was heard: from a spot that only a sound makes a ball, the sound's delay would be learned from
   * the sound. A club that hides it for longer says too little of when.
   */
  function surelySeen(claims: readonly ImpactClaim[]): FoundSwing['ball'] {
    const surest = claims
      .flatMap(({ evidence, ball }) =>
        ball && evidence.by === 'sight' && evidence.ball > logit(sureBall)
          ? [{ ball, chance: chanceOf(evidence) }]
          : [],
      )
      .sort((a, b) => b.chance - a.chance)[0]
    return surest && surest.chance > sureBall ? surest.ball : null
  }

  /** Every instant of a look that the ball or a sound speaks for; if neither does, the fastest one of a whole swing. */
  function claimsOf(look: Look): ImpactClaim[] {
    const { burst } = look
    const away = (seconds: number) =>
      burst ? Math.abs(seconds - burst.peakSeconds) / (0.1 + doubt(burst)) : 1.5
    // Without motion, every sharp sound of the clip is a rival.
    const heard = (burst ? look.strikes : strikes).filter(inClip).map((strike) => ({
      strike,
      weight: (weightOf(strike) / loudest) * (Math.exp(-0.3 * away(strike.atSeconds) ** 2) + 0.01),
    }))
    let sum = 0.06
    for (const h of heard) {
      // The ball in the net or on the screen is as sharp and as loud, but never first.
      const follows = heard.some((r) => {
        const lead = h.strike.atSeconds - r.strike.atSeconds
        return lead > 0.04 && lead < netSeconds && r.weight > 0.25 * h.weight
      })
      if (follows) h.weight *= 0.3
      sum += h.weight
    }
    const loudness = (h: (typeof heard)[number]) => (h.weight / sum) * Math.sqrt(h.strike.candidate.likeness)

    const claims: ImpactClaim[] = []
    for (const ball of look.balls) {
      const agreeing = heard.filter((h) => supports(h.strike, ball))
      const best = agreeing.reduce((one, h) => Math.max(one, loudness(h)), 0)
      const rival = look.balls.find((b) => Math.abs(b.frame - ball.frame) > 2)
      const struck = strikeFrame(
        ball,
        agreeing.map((h) => ({ atSeconds: h.strike.atSeconds, chance: loudness(h) })),
        film,
      )
      const { frame, from, to } = struck
      claims.push({
        ...{ frame, from, to },
        ball: { lastSeen: ball.lastSeen, goneBy: Math.max(ball.lastSeen + 1, ball.goneBy) },
        how: agreeing.length === 0 ? 'motion' : ball.chance > sureBall ? 'sound+motion' : 'sound',
        evidence: {
          by: 'sight',
          ball: logit(ball.chance),
          lead: logit(ball.chance) - logit(rival?.chance ?? 0.02),
          // A sound makes a doubtful spot no ball: by itself it is a claim of its own.
          heard: best * Math.min(1, ball.chance / sureSpot),
          lies: ballLies,
          within: struck.within,
          silence: agreeing.length > 0 ? 1 : silenceAfter(ball),
          ...swingAt(burst, frame, away(real[frame]!)),
        },
      })
    }
    for (const h of heard) {
      if (!burst && !look.strikes.includes(h.strike)) continue
      // One and the same strike, seen and heard, is no rival of its own.
      if (look.balls.some((b) => b.chance > sureSpot && supports(h.strike, b))) continue
      const frame = frameAtOrBefore(real, h.strike.atSeconds)
      const { atSeconds: at } = h.strike
      claims.push({
        frame,
        from: frameAtOrBefore(real, at - 0.05),
        to: frameAtOrBefore(real, at + 0.05),
        how: 'sound',
        evidence: {
          by: 'sound',
          heard: loudness(h),
          lies: ballLies,
          inStep: soundInStep(film, burst ? at - burst.peakSeconds : null),
          ...swingAt(burst, frame, away(h.strike.atSeconds)),
        },
      })
    }
    // Only the swing is seen. It must have been swung through: a clip that ends before impact has none.
    if (claims.length === 0 && burst && (burst.finish !== null || end - burst.peakSeconds > 0.5)) {
      claims.push({
        frame: burst.peak,
        from: burst.peak - framesAllowed(gap),
        to: burst.peak + framesAllowed(gap),
        how: 'motion',
        evidence: { by: 'motion', lies: ballLies, ...swingAt(burst, burst.peak, 0) },
      })
    }
    return claims
  }

  /** How much the motion is that of a swing struck at a frame. */
  function swingAt(burst: SwingBurst | null, frame: number, away: number): SwingEvidence {
    const at = real[frame]!
    const shape =
      burst && burst.top !== null && burst.takeaway !== null && real[burst.top]! < at
        ? swingFit(real[burst.top]! - real[burst.takeaway]!, at - real[burst.top]!)
        : -8
    const left = end - at
    return {
      away: Math.min(4, away),
      clearness: burst?.clearness ?? 0,
      shape: Math.max(-8, shape),
      swung: burst ? Math.min(1, left / 0.4) * burst.calmed : Math.min(1, left / 0.4) * 0.5,
    }
  }

  /** What a strike without its sound is worth; a track that runs late has it somewhat later. */
  function silenceAfter(ball: SeenBall): number {
    if (!hasSound) return 1
    const from = real[ball.lastSeen]!
    const isLater = strikes.some(
      (s) => s.atSeconds > from + delayRange.from && s.atSeconds < from + delayRange.to,
    )
    return isLater ? silenceOdds.later : silenceOdds.nothing
  }

  /** Whether a sound can be that ball's: as late as ten more metres to the microphone than told make it. */
  function supports(strike: Strike, ball: SeenBall): boolean {
    const from = real[ball.lastSeen]! - Math.max(0.02, gap)
    const to = (real[Math.max(ball.frame + 1, ball.goneBy - 1)] ?? end) + Math.max(0.03, gap)
    return strike.atSeconds > from && strike.atSeconds < to
  }

  /** Null where takeaway and top were not found before the impact. */
  function shapeOf(burst: SwingBurst, impact: Impact | null): SwingShape | null {
    const { top, takeaway } = burst
    const impactSeconds = impact ? real[impact.frame]! : burst.peakSeconds
    if (top === null || takeaway === null || takeaway >= top || real[top]! >= impactSeconds) return null
    return {
      clearness: burst.clearness,
      backswingSeconds: real[top]! - real[takeaway]!,
      downswingSeconds: impactSeconds - real[top]!,
      impact: impact?.confidence ?? 0,
    }
  }

  function swingOf(look: Look, impact: Impact | null): FoundSwing {
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
    const impactAt = impact ? real[impact.frame]! : burst!.peakSeconds
    if (burst) {
      const { top, takeaway, finish } = burst
      const shape = shapeOf(burst, impact)
      if (shape) input.onPhases?.(shape, { takeaway, top, finish })
      const isSwing = shape !== null && shape.downswingSeconds > 0.12 && shape.downswingSeconds < 0.6
      if (isSwing && top !== null && takeaway !== null) {
        const chance = phaseChance('takeaway', shape)
        const setup = frameAtOrBefore(real, real[takeaway]! - 0.1)
        if (setup < takeaway) add('setup', setup, chance * 0.9, 'motion')
        add('takeaway', takeaway, chance, 'motion')
        add('top', top, phaseChance('top', shape), 'motion')
      }
      if (impact) add('impact', impact.frame, impact.confidence, impact.how)
      if (shape && finish !== null && finish > (impact?.frame ?? burst.peak)) {
        add('finish', finish, phaseChance('finish', shape), 'motion')
      }
    } else if (impact) add('impact', impact.frame, impact.confidence, impact.how)
    if (moments.length === 0) return { fromFrame: 0, toFrame: count - 1, moments, ball: null }

    const firstAt = real[moments[0]!.frame]!
    const lastAt = real[moments[moments.length - 1]!.frame]!
    const others = apart.filter((o) => o.look !== look).map(anchor)
    const earlier = Math.max(real[0]!, ...others.filter((t) => t < impactAt).map((t) => (t + impactAt) / 2))
    const later = Math.min(end, ...others.filter((t) => t > impactAt).map((t) => (t + impactAt) / 2))
    const from = Math.max(earlier, Math.min(firstAt - 0.5, impactAt - 2))
    const to = Math.min(later, Math.max(lastAt + 0.5, impactAt + 1.5))
    return {
      fromFrame: Math.min(moments[0]!.frame, frameAtOrBefore(real, from)),
      toFrame: Math.max(moments[moments.length - 1]!.frame, frameAtOrBefore(real, to)),
      moments,
      ball: impact?.ball ?? null,
    }
  }
}
