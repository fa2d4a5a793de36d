import { swingMotion } from '../../../demo-media/swing-motion.ts'
import type { SwingMotion } from '../../../demo-media/swing-motion.ts'
import { chanceFrom } from '../../shared-core/moments/synthetic-sound.ts'
import type { Chance } from '../../shared-core/moments/synthetic-sound.ts'

/** One swing of a film: when its takeaway is, and whether a ball is hit. Real seconds from the film's start. */
export type FilmedSwing = {
  takeawaySeconds: number
  isStruck: boolean
  /** Swung over a ball that stays where it lies; otherwise a swing without a ball is made beside it. */
  isMissed?: boolean
}

/** How the file's clock runs against the clock on the wall. */
export type TimeBase =
  /** Every frame at its own instant. */
  | 'plain'
  /** All frames, played slower, evenly. */
  | 'slowed'
  /** A phone's slow motion kept as filmed: the frames of the middle are shown longer. */
  | 'ramp-variable'
  /** The same exported at one rate: outside of the middle most frames are gone. */
  | 'ramp-baked'

/** Everything about one made film, drawn from its seed. Lengths in metres, angles in degrees, grey levels 0 to 255. */
export type FilmSpec = {
  seed: number
  kind: string
  captureRate: number
  playbackRate: number
  timeBase: TimeBase
  /** Real seconds in which a ramp is slow. */
  slowFromSeconds: number
  slowToSeconds: number
  /** Frames missing: every second one, or this share of them by chance. */
  missing: 'none' | 'half' | number
  /** Frames shown twice, as a change of rate leaves them: every n-th. */
  doubledEvery: number
  seconds: number
  swings: FilmedSwing[]
  motion: SwingMotion
  /** From impact to the hands at rest, real seconds (drawn by stretching the figure's own). */
  followSeconds: number
  waggles: boolean
  azimuthDeg: number
  cameraHeightM: number
  /** Height of the picture at the player, metres. */
  pictureM: number
  /** Where the player stands in the picture, shares of its width and height from the middle. */
  offCentre: [number, number]
  isMirrored: boolean
  width: number
  height: number
  ball: { level: number; isHidden: boolean; others: number }
  ground: { level: number; texture: number; mat: 'none' | 'dark' | 'light'; clutter: number }
  wall: { level: number; texture: number }
  outfit: { shirt: number; trousers: number; shoes: number; skin: number; club: number; head: number }
  noise: number
  softness: number
  exposureShare: number
  contrast: number
  flicker: number
  drift: number
  shakePx: number
  tapPx: number
  /** How far the camera is turned during the film, pixels, and how much it is zoomed in at its end. */
  panPx: [number, number]
  zoom: number
  /** Black bars, shares of height and width on each side. */
  bars: [number, number]
  /** How hard the pictures are compressed: step of the levels of an 8 × 8 block's waves; 0 not at all. */
  compression: number
  /** Share of the full arc that the club goes back and through: half-swings. */
  arcShare: number
  /** A bright flat marker or stick lies beside the ball. */
  hasMarker: boolean
  shadow: number
  shadowLean: [number, number]
  walkers: { fromSeconds: number; toSeconds: number; depth: 'front' | 'behind'; level: number }[]
  net: boolean
  mess: boolean
  /** A caption and a logo laid over the picture. */
  hasCaption?: boolean
  /** The camera turns after the ball from so many seconds after its strike on, pixels a second. */
  follow?: { afterSeconds: number; pxPerSecond: [number, number] }
  /** A band of shade that crosses the picture: share of its width, and of the light that it takes. */
  band?: { fromSeconds: number; toSeconds: number; wide: number; depth: number }
  sound: {
    has: boolean
    microphoneM: number
    lateSeconds: number
    gain: number
    wind: number
    hiss: number
    voice: boolean
    bangsAtSeconds: number[]
    bangGain: number
    rate: number
    strike: 'driver' | 'iron'
  }
}

const pick = <T>(chance: Chance, list: readonly T[]): T => list[Math.floor(chance() * list.length)]!
const between = (chance: Chance, low: number, high: number) => low + (high - low) * chance()

/** What a world may hold; every seed takes one of these, so that each is met often enough. */
export const filmKinds = [
  'plain',
  'plain',
  'down the line',
  'oblique',
  'slow motion',
  'baked 60 at 30',
  'ramp',
  'no sound',
  'no sound high rate',
  'late sound',
  'bangs',
  'far microphone',
  'walkers',
  'shake',
  'dark and noisy',
  'thumbnail',
  'thinned',
  'doubled',
  'ends before impact',
  'practice first',
  'practice only',
  'ball hidden',
  'many balls',
  'light mat',
  'shadows',
  'two swings',
  'cropped',
  'blurred',
  'panned',
  'zoomed',
  'letterboxed',
  'backlit',
  'flickering lamps',
  'compressed hard',
  'half swing',
  'slow child',
  'ball missed',
  '15 frames',
  'marker by the ball',
  'trimmed, bangs',
] as const

/** The film of a seed. The kind goes round with the seed; all else is chance. */
export const filmOf = (seed: number): FilmSpec => {
  const chance = chanceFrom(seed * 7919 + 13)
  for (let i = 0; i < 5; i++) chance()
  const kind = filmKinds[seed % filmKinds.length]!
  const isChild = kind === 'slow child'
  const backswingSeconds = isChild ? between(chance, 1.05, 1.5) : between(chance, 0.62, 1.25)
  const ratio = between(chance, 2.4, 4.4)
  const downswingSeconds = Math.min(isChild ? 0.5 : 0.42, Math.max(0.19, backswingSeconds / ratio))
  const motion = swingMotion({
    club: pick(chance, ['driver', '7-iron']),
    clubSpeedMps: Math.min(
      52,
      Math.max(isChild ? 18 : 27, (between(chance, 9, 11.5) * 1) / downswingSeconds),
    ),
    backswingSeconds,
    downswingSeconds,
    leadKneeAtImpactDeg: between(chance, 152, 174),
    braceBeforeImpactSeconds: between(chance, 0.02, 0.09),
    pelvisShiftM: between(chance, 0.04, 0.12),
    pelvisSlideM: between(chance, 0, 0.04),
    upperBodyDriftM: between(chance, -0.05, 0.05),
    shoulderTension: chance(),
    ballSpeedMps: kind === 'half swing' || isChild ? between(chance, 14, 34) : between(chance, 32, 72),
    launchDeg: between(chance, 9, 24),
    launchDirectionDeg: between(chance, -4, 4),
  })
  const isSlow = kind === 'slow motion' || kind === 'ramp'
  const captureRate =
    kind === 'slow motion' || kind === 'ramp'
      ? pick(chance, [120, 240])
      : kind === 'baked 60 at 30'
        ? 60
        : kind === 'no sound high rate'
          ? pick(chance, [120, 240])
          : kind === '15 frames'
            ? 15
            : kind === 'two swings' || kind === 'practice first'
              ? pick(chance, [30, 60])
              : pick(chance, [24, 25, 30, 30, 50, 60, 60, 100, 120, 240])
  const playbackRate = isSlow || kind === 'baked 60 at 30' ? 30 : captureRate
  const leadIn = between(chance, captureRate > 90 ? 0.35 : 0.5, captureRate > 90 ? 0.9 : 1.8)
  const impact = leadIn + motion.moments.impact
  const followSeconds = between(chance, 0.6, 0.95)
  const hold = between(chance, 0.15, captureRate > 90 ? 0.5 : 1.2)
  let swings: FilmedSwing[] = [{ takeawaySeconds: leadIn, isStruck: true }]
  let seconds = impact + followSeconds + hold
  const again = motion.moments.impact + followSeconds + between(chance, 1.6, 2.6)
  if (kind === 'two swings') {
    swings = [swings[0]!, { takeawaySeconds: leadIn + again + 2, isStruck: true }]
    seconds += again + 2
  } else if (kind === 'practice first') {
    swings = [
      { takeawaySeconds: leadIn, isStruck: false },
      { takeawaySeconds: leadIn + again, isStruck: true },
    ]
    seconds += again
  } else if (kind === 'practice only') swings = [{ takeawaySeconds: leadIn, isStruck: false }]
  else if (kind === 'ball missed') swings = [{ takeawaySeconds: leadIn, isStruck: false, isMissed: true }]
  else if (kind === 'ends before impact' || kind === 'trimmed, bangs') {
    seconds = impact - between(chance, 0.02, 0.5)
  }
  const azimuthDeg =
    kind === 'down the line'
      ? between(chance, 80, 98)
      : kind === 'oblique'
        ? between(chance, 25, 65) * (chance() < 0.3 ? -1 : 1)
        : chance() < 0.6
          ? between(chance, -12, 12)
          : between(chance, 78, 100)
  const isThumbnail = kind === 'thumbnail'
  const long = captureRate > 90 || seconds > 6
  const height = isThumbnail
    ? pick(chance, [160, 200, 240])
    : long
      ? pick(chance, [300, 360])
      : pick(chance, [320, 400, 480])
  const aspect = pick(chance, [9 / 16, 9 / 16, 0.72, 1, 4 / 3, 16 / 9])
  const width = Math.round(height * Math.min(aspect, 129_600 / height / height))
  const dark = kind === 'dark and noisy'
  const isBacklit = kind === 'backlit'
  const lit = isBacklit ? 0.35 : 1
  const groundLevel = dark ? between(chance, 25, 60) : between(chance, 45, 150)
  const sound = ['no sound', 'no sound high rate'].includes(kind) || chance() < 0.08 ? false : true
  const slowMiddle = Math.max(leadIn + 0.05, impact - between(chance, 0.5, 1.4))
  return {
    seed,
    kind,
    captureRate,
    playbackRate,
    timeBase:
      kind === 'ramp'
        ? chance() < 0.5
          ? 'ramp-variable'
          : 'ramp-baked'
        : isSlow || kind === 'baked 60 at 30'
          ? 'slowed'
          : 'plain',
    slowFromSeconds: slowMiddle,
    slowToSeconds: impact + between(chance, 0.35, 0.9),
    missing: kind === 'thinned' ? (chance() < 0.5 ? 'half' : between(chance, 0.08, 0.3)) : 'none',
    doubledEvery: kind === 'doubled' ? pick(chance, [4, 5, 6]) : 0,
    seconds,
    swings,
    motion,
    followSeconds,
    waggles: chance() < 0.35,
    azimuthDeg,
    cameraHeightM: between(chance, 0.5, 1.7),
    pictureM:
      between(chance, 2.1, isThumbnail ? 2.6 : 3.6) * (kind === 'cropped' ? 0.72 : isChild ? 1.25 : 1),
    offCentre:
      kind === 'cropped'
        ? [between(chance, -0.12, 0.12), between(chance, -0.1, 0.02)]
        : [between(chance, -0.08, 0.08), between(chance, -0.02, 0.06)],
    isMirrored: chance() < 0.35,
    width,
    height,
    ball: {
      level: Math.max(groundLevel + 50, between(chance, 150, 252)) * (dark ? 0.6 : isBacklit ? 0.75 : 1),
      isHidden: kind === 'ball hidden',
      others: kind === 'many balls' ? 3 + Math.floor(chance() * 9) : chance() < 0.2 ? 2 : 0,
    },
    ground: {
      level: groundLevel,
      texture: between(chance, 2, 16),
      mat: kind === 'light mat' ? 'light' : pick(chance, ['none', 'dark', 'none']),
      clutter: Math.floor(chance() * (kind === 'shadows' ? 14 : 6)),
    },
    wall: {
      level: isBacklit ? between(chance, 215, 250) : between(chance, dark ? 20 : 60, dark ? 70 : 220),
      texture: between(chance, 3, 22),
    },
    outfit: {
      shirt: lit * between(chance, 20, 235),
      trousers: lit * between(chance, 20, 200),
      shoes: lit * between(chance, 30, 245),
      skin: lit * between(chance, 90, 200),
      club: lit * between(chance, 60, 210),
      head: lit * between(chance, 20, 200),
    },
    noise: dark ? between(chance, 5, 10) : between(chance, 0.5, 4),
    softness: kind === 'blurred' ? between(chance, 0.9, 1.6) : 0,
    exposureShare: kind === 'blurred' || dark ? between(chance, 0.5, 0.95) : between(chance, 0.05, 0.4),
    contrast: between(chance, 0.7, 1.05),
    flicker:
      kind === 'flickering lamps'
        ? between(chance, 0.05, 0.16)
        : chance() < 0.15
          ? between(chance, 0.01, 0.04)
          : 0,
    drift: chance() < 0.3 ? between(chance, 0.02, 0.08) : 0,
    shakePx: kind === 'shake' ? between(chance, 1.5, 5) : chance() < 0.3 ? between(chance, 0.2, 1.2) : 0,
    tapPx: chance() < 0.2 ? between(chance, 2, 6) : 0,
    panPx: kind === 'panned' ? [between(chance, -25, 25), between(chance, -10, 10)] : [0, 0],
    zoom: kind === 'zoomed' ? between(chance, 1.05, 1.3) : 1,
    bars:
      kind === 'letterboxed'
        ? chance() < 0.5
          ? [between(chance, 0.08, 0.22), 0]
          : [0, between(chance, 0.1, 0.3)]
        : [0, 0],
    compression: kind === 'compressed hard' ? between(chance, 14, 40) : 0,
    arcShare: kind === 'half swing' ? between(chance, 0.45, 0.8) : 1,
    hasMarker: kind === 'marker by the ball',
    shadow: kind === 'shadows' ? between(chance, 0.35, 0.6) : chance() < 0.5 ? between(chance, 0.1, 0.4) : 0,
    shadowLean: [between(chance, -0.8, 0.8), between(chance, -0.6, 0.8)],
    walkers:
      kind === 'walkers'
        ? Array.from({ length: 1 + Math.floor(chance() * 2) }, () => {
            const from = between(chance, -0.5, seconds - 0.5)
            return {
              fromSeconds: from,
              toSeconds: from + between(chance, 1.2, 3),
              depth: chance() < 0.35 ? ('front' as const) : ('behind' as const),
              level: between(chance, 20, 230),
            }
          })
        : [],
    net: chance() < 0.35,
    mess: chance() < 0.4,
    sound: {
      has: sound,
      microphoneM: kind === 'far microphone' ? between(chance, 5, 14) : between(chance, 2, 5),
      lateSeconds: kind === 'late sound' ? between(chance, 0.05, 0.3) : 0,
      gain: between(chance, 0.05, 0.5),
      wind: between(chance, 0, 0.08),
      hiss: between(chance, 0.0005, 0.01),
      voice: chance() < 0.5,
      bangsAtSeconds:
        kind === 'bangs' ||
        kind === 'trimmed, bangs' ||
        ((kind === 'practice only' || kind === 'ends before impact' || kind === 'ball missed') &&
          chance() < 0.5)
          ? Array.from({ length: 1 + Math.floor(chance() * 4) }, () => between(chance, 0.1, seconds))
          : [],
      bangGain: between(chance, 0.2, 1.6),
      rate: pick(chance, [16_000, 44_100, 48_000]),
      strike: pick(chance, ['driver', 'iron']),
    },
  }
}

/** Films in the spirit of what is cut out of broadcasts, and of crowded ranges: all mute. */
export const cutOutKinds = [
  'cut out',
  'cut out, ball at the edge',
  'cut out, 15 frames',
  'cut out, slow motion',
  'people in front',
  'shade crossing',
] as const

/** The cut-out film of a seed: a plain one, shown so. */
export const cutOutFilmOf = (seed: number): FilmSpec => {
  const chance = chanceFrom(seed * 6151 + 29)
  for (let i = 0; i < 5; i++) chance()
  const kind = cutOutKinds[seed % cutOutKinds.length]!
  const plain = filmOf(seed * filmKinds.length)
  const base: FilmSpec = { ...plain, seed: 1_000_000_000 + seed, kind, sound: { ...plain.sound, has: false } }
  const [swing] = base.swings
  const impact = swing!.takeawaySeconds + base.motion.moments.impact
  const seconds = base.seconds
  if (kind === 'people in front' || kind === 'shade crossing') {
    const rate = pick(chance, [30, 30, 60])
    const shown = { ...base, captureRate: rate, playbackRate: rate }
    const crossing = impact + between(chance, -1.2, 0.6)
    if (kind === 'shade crossing') {
      const long = between(chance, 1.5, 5)
      const band = { fromSeconds: crossing - long / 2, toSeconds: crossing + long / 2 }
      return {
        ...shown,
        band: { ...band, wide: between(chance, 0.2, 0.6), depth: between(chance, 0.2, 0.6) },
      }
    }
    const walkers = Array.from({ length: 1 + Math.floor(chance() * 3) }, (_, i) => {
      const from = (i === 0 ? crossing : between(chance, 0, seconds)) - between(chance, 0.5, 1.2)
      const depth = i === 0 ? ('front' as const) : ('behind' as const)
      return {
        fromSeconds: from,
        toSeconds: from + between(chance, 1.2, 2.6),
        depth,
        level: between(chance, 20, 230),
      }
    })
    return { ...shown, walkers }
  }
  const isSlow = kind === 'cut out, slow motion'
  const spectators = Array.from({ length: Math.floor(chance() * 5) }, () => {
    const from = between(chance, -4, seconds)
    const depth = 'behind' as const
    return {
      fromSeconds: from,
      toSeconds: from + between(chance, 3, 9),
      depth,
      level: between(chance, 30, 220),
    }
  })
  return {
    ...base,
    captureRate: isSlow ? pick(chance, [120, 240]) : 30,
    playbackRate: 30,
    timeBase: isSlow ? 'slowed' : 'plain',
    missing: kind === 'cut out, 15 frames' ? 'half' : 'none',
    width: 160,
    height: 160,
    pictureM: between(chance, 1.9, 2.3),
    offCentre: [
      between(chance, -0.05, 0.05),
      kind === 'cut out, ball at the edge' ? between(chance, 0.07, 0.13) : between(chance, -0.02, 0.03),
    ],
    exposureShare: between(chance, 0.05, 0.5),
    compression: between(chance, 8, 30),
    walkers: spectators,
    hasCaption: chance() < 0.5,
    follow: {
      afterSeconds: between(chance, 0.1, 0.6),
      pxPerSecond: [between(chance, -40, 40), between(chance, -30, 10)],
    },
  }
}
