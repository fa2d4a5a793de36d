import { chance } from './chance.ts'
import { deviceFlight } from './device-flight.ts'
import type { SwingSpec } from './swing-motion.ts'

/** An invented lesson: nobody in it exists. The lesson's clock is that of the phone, in UTC. */
export const people = {
  coach: 'Ilka Brandmoor',
  student: 'Teo Quillby',
  side: 'right' as const,
  venue: 'Fennmoor practice range, bay 7',
  date: '2026-05-16',
  startsAt: '2026-05-16T14:00:00.000Z',
}

export type BlockPlan = {
  number: number
  name: string
  focus: string
  isBaseline: boolean
  /** What the generator aims at, driver and 7-iron. */
  clubSpeedMps: { driver: number; '7-iron': number }
  efficiency: { driver: number; '7-iron': number }
  clubSpeedSpreadMps: number
  efficiencySpread: number
  body: {
    leadKneeDeg: number
    braceMs: number
    pelvisShiftM: number
    slideM: number
    driftM: number
    tension: number
  }
}

export const blocks: readonly BlockPlan[] = [
  {
    number: 1,
    name: 'Baseline',
    focus: 'as you are',
    isBaseline: true,
    clubSpeedMps: { driver: 40.0, '7-iron': 33.2 },
    efficiency: { driver: 1.375, '7-iron': 1.275 },
    clubSpeedSpreadMps: 0.42,
    efficiencySpread: 0.012,
    body: { leadKneeDeg: 154, braceMs: 38, pelvisShiftM: 0.075, slideM: 0.028, driftM: 0.05, tension: 0.85 },
  },
  {
    number: 2,
    name: 'Soft shoulders',
    focus: 'let the shoulders hang, soft jaw and arms',
    isBaseline: false,
    clubSpeedMps: { driver: 42.7, '7-iron': 35.0 },
    efficiency: { driver: 1.322, '7-iron': 1.24 },
    clubSpeedSpreadMps: 0.45,
    efficiencySpread: 0.016,
    body: { leadKneeDeg: 152, braceMs: 26, pelvisShiftM: 0.08, slideM: 0.038, driftM: 0.07, tension: 0.1 },
  },
  {
    number: 3,
    name: 'Firm lead side',
    focus: 'brace the lead leg before impact, head stays behind the ball',
    isBaseline: false,
    clubSpeedMps: { driver: 40.5, '7-iron': 33.6 },
    efficiency: { driver: 1.458, '7-iron': 1.33 },
    clubSpeedSpreadMps: 0.38,
    efficiencySpread: 0.009,
    body: { leadKneeDeg: 167, braceMs: 85, pelvisShiftM: 0.07, slideM: 0.003, driftM: 0.021, tension: 0.3 },
  },
  {
    number: 4,
    name: 'Swish drill',
    focus: 'loud swish past the ball, then the same with the ball',
    isBaseline: false,
    clubSpeedMps: { driver: 41.6, '7-iron': 34.3 },
    efficiency: { driver: 1.43, '7-iron': 1.31 },
    clubSpeedSpreadMps: 0.4,
    efficiencySpread: 0.012,
    body: { leadKneeDeg: 163, braceMs: 70, pelvisShiftM: 0.07, slideM: 0.008, driftM: 0.024, tension: 0.2 },
  },
]

export type ClipKind = {
  /** Name of the file without its ending. */
  name: string
  view: 'face-on' | 'down-the-line'
  widthPx: number
  heightPx: number
  captureRate: number
  playbackRate: number
  codec: 'h264' | 'hevc'
  /** Portrait clips are stored lying down and carry a rotation of 90 degrees. */
  rotated: boolean
  variableRate: boolean
  sound: 'real' | 'stretched' | 'none'
  microphoneM: number
  /** A neighbouring bay's strike, seconds from the first swing's impact; null for none. */
  neighbourSeconds: number | null
  container: 'mp4' | 'mov'
  leadInSeconds: number
}

type Plan = {
  block: number
  club: SwingSpec['club']
  recorded: boolean
  mishit?: boolean
  /** Seconds since the swing before. */
  after: number
  clips: readonly Partial<ClipKind>[]
}

const wide = { widthPx: 960, heightPx: 540 }
const fast = { widthPx: 848, heightPx: 480, captureRate: 240, playbackRate: 240 }
const tall = { widthPx: 540, heightPx: 960, rotated: true }

const plans: readonly Plan[] = [
  { block: 1, club: 'driver', recorded: true, after: 318.4, clips: [{ name: 'swing-01' }] },
  { block: 1, club: 'driver', recorded: true, after: 47.3, clips: [{ name: 'swing-02', ...fast }] },
  {
    block: 1,
    club: 'driver',
    recorded: true,
    after: 62.9,
    clips: [{ name: 'swing-03', ...tall, view: 'down-the-line' }],
  },
  {
    block: 1,
    club: 'driver',
    recorded: true,
    after: 41.6,
    clips: [{ name: 'swing-04', captureRate: 30, playbackRate: 30, variableRate: true }],
  },
  {
    block: 1,
    club: 'driver',
    recorded: true,
    after: 55.2,
    clips: [{ name: 'swing-05', neighbourSeconds: 0.47 }],
  },
  {
    block: 1,
    club: 'driver',
    recorded: true,
    after: 88.7,
    clips: [{ name: 'swing-06', view: 'down-the-line' }],
  },
  {
    block: 2,
    club: 'driver',
    recorded: true,
    after: 243.8,
    clips: [{ name: 'swing-07', ...fast, neighbourSeconds: -0.58 }],
  },
  {
    block: 2,
    club: 'driver',
    recorded: true,
    after: 51.1,
    clips: [{ name: 'swing-08', ...fast, playbackRate: 30, sound: 'stretched' }],
  },
  {
    block: 2,
    club: 'driver',
    recorded: true,
    mishit: true,
    after: 44.5,
    clips: [{ name: 'swing-09', view: 'down-the-line', microphoneM: 3.4 }],
  },
  { block: 2, club: 'driver', recorded: true, after: 58.3, clips: [] },
  {
    block: 2,
    club: 'driver',
    recorded: true,
    after: 66.0,
    clips: [{ name: 'swing-11', captureRate: 30, playbackRate: 30, sound: 'none' }],
  },
  {
    block: 3,
    club: 'driver',
    recorded: true,
    after: 271.5,
    clips: [
      { name: 'swing-12-face-on', ...fast, leadInSeconds: 0.42 },
      {
        name: 'swing-12-down-the-line',
        ...tall,
        view: 'down-the-line',
        microphoneM: 3.6,
        leadInSeconds: 0.66,
      },
    ],
  },
  {
    block: 3,
    club: 'driver',
    recorded: true,
    after: 49.9,
    clips: [{ name: 'swing-13', ...tall, codec: 'hevc', container: 'mov' }],
  },
  {
    block: 3,
    club: 'driver',
    recorded: true,
    after: 57.7,
    clips: [{ name: 'swings-14-15', captureRate: 30, playbackRate: 30, microphoneM: 2.7 }],
  },
  { block: 3, club: 'driver', recorded: true, after: 11.6, clips: [{ name: 'swings-14-15' }] },
  {
    block: 3,
    club: 'driver',
    recorded: true,
    after: 69.2,
    clips: [{ name: 'swing-16', ...fast, playbackRate: 30, sound: 'none' }],
  },
  { block: 4, club: '7-iron', recorded: true, after: 228.6, clips: [{ name: 'swing-17' }] },
  {
    block: 4,
    club: '7-iron',
    recorded: false,
    after: 46.4,
    clips: [{ name: 'swing-18', ...fast, codec: 'hevc' }],
  },
  {
    block: 4,
    club: '7-iron',
    recorded: true,
    after: 53.1,
    clips: [
      {
        name: 'swing-19',
        ...tall,
        view: 'down-the-line',
        captureRate: 60,
        playbackRate: 60,
        variableRate: true,
        neighbourSeconds: -0.91,
      },
    ],
  },
]

/** One swing of the lesson with its true numbers and what the device read. SI units, degrees. */
export type DemoSwing = {
  number: number
  block: BlockPlan
  spec: SwingSpec
  mishit: boolean
  /** Milliseconds since 1970 on the lesson's clock. */
  impactAtMs: number
  clipNames: string[]
  /** The device's record; null where it missed the swing. */
  reading: Reading | null
}

export type Reading = {
  shot: number
  /** On the device's own clock. */
  atMs: number
  clubSpeedMps: number
  ballSpeedMps: number
  launchDeg: number
  launchDirectionDeg: number
  spinRpm: number
  spinAxisDeg: number
  attackDeg: number
  carryM: number
  sideM: number
  apexM: number
  descentDeg: number
}

/** The device's clock against the lesson's: behind by this much at the start, and gaining. */
export const deviceClock = { offsetMs: -401_300, driftMsPerMinute: 23 }

/** Standard deviations of the device's errors in this invented lesson. */
const deviceError = { clubSpeed: 0.006, ballSpeed: 0.004, launchDeg: 0.4, spin: 0.03 }

/** A clip where nothing else is said. */
export const defaultClip = {
  view: 'face-on' as const,
  ...wide,
  captureRate: 60,
  playbackRate: 60,
  codec: 'h264' as const,
  rotated: false,
  variableRate: false,
  sound: 'real' as const,
  microphoneM: 3,
  neighbourSeconds: null,
  container: 'mp4' as const,
}

/** The whole lesson: swings with numbers, and the clips with the swings they show. */
export const demoLesson = (): { swings: DemoSwing[]; clips: { kind: ClipKind; swings: DemoSwing[] }[] } => {
  const numbers = chance(20260516)
  const device = chance(4711)
  const startMs = Date.parse(people.startsAt)
  const swings: DemoSwing[] = []
  const clips: { kind: ClipKind; swings: DemoSwing[] }[] = []
  let atMs = startMs
  let shot = 0
  plans.forEach((plan, index) => {
    const block = blocks[plan.block - 1]!
    const driver = plan.club === 'driver'
    const clubSpeedMps = block.clubSpeedMps[plan.club] + block.clubSpeedSpreadMps * numbers.normal()
    const steady = block.efficiency[plan.club] + block.efficiencySpread * numbers.normal()
    const efficiency = plan.mishit ? 1.142 : steady
    const ballSpeedMps = clubSpeedMps * efficiency
    const launchDeg = plan.mishit ? 7.6 : (driver ? 12.6 : 17.4) + 0.8 * numbers.normal()
    const launchDirectionDeg = plan.mishit ? -4.8 : 1.7 * numbers.normal()
    const spinRpm = plan.mishit ? 3950 : (driver ? 2850 : 6100) * (1 + 0.06 * numbers.normal())
    const spinAxisDeg = plan.mishit ? 11 : 3 + 3.5 * numbers.normal()
    const attackDeg = (driver ? 0.4 : -4.1) + 0.6 * numbers.normal()
    const body = block.body
    const spec: SwingSpec = {
      club: plan.club,
      clubSpeedMps,
      ballSpeedMps,
      launchDeg,
      launchDirectionDeg,
      backswingSeconds: 0.86 + 0.025 * numbers.normal(),
      downswingSeconds: 0.27 + 0.005 * numbers.normal(),
      leadKneeAtImpactDeg: body.leadKneeDeg + 1.3 * numbers.normal(),
      braceBeforeImpactSeconds: (body.braceMs + 4 * numbers.normal()) / 1000,
      pelvisShiftM: body.pelvisShiftM + 0.004 * numbers.normal(),
      pelvisSlideM: Math.max(0, body.slideM + 0.003 * numbers.normal()),
      upperBodyDriftM: body.driftM + 0.006 * numbers.normal(),
      shoulderTension: Math.min(1, Math.max(0, body.tension + 0.08 * numbers.normal())),
    }
    atMs += plan.after * 1000
    const impactAtMs = Math.round(atMs)
    const read = {
      club: clubSpeedMps * (1 + deviceError.clubSpeed * device.normal()),
      ball: ballSpeedMps * (1 + deviceError.ballSpeed * device.normal()),
      launch: launchDeg + deviceError.launchDeg * device.normal(),
      spin: spinRpm * (1 + deviceError.spin * device.normal()),
    }
    let reading: Reading | null = null
    if (plan.recorded) {
      shot += 1
      const minutes = (impactAtMs - startMs) / 60_000
      const flight = deviceFlight(read.ball, read.launch, launchDirectionDeg, read.spin, spinAxisDeg)
      reading = {
        shot,
        atMs: Math.round(impactAtMs + deviceClock.offsetMs + deviceClock.driftMsPerMinute * minutes),
        clubSpeedMps: read.club,
        ballSpeedMps: read.ball,
        launchDeg: read.launch,
        launchDirectionDeg,
        spinRpm: read.spin,
        spinAxisDeg,
        attackDeg,
        ...flight,
      }
    }
    const swing: DemoSwing = {
      number: index + 1,
      block,
      spec,
      mishit: plan.mishit ?? false,
      impactAtMs,
      clipNames: plan.clips.map((clip) => clip.name!),
      reading,
    }
    swings.push(swing)
    for (const clip of plan.clips) {
      const known = clips.find((c) => c.kind.name === clip.name)
      if (known) known.swings.push(swing)
      else {
        const leadInSeconds = 0.3 + 0.12 * numbers.uniform()
        clips.push({ kind: { ...defaultClip, leadInSeconds, name: clip.name!, ...clip }, swings: [swing] })
      }
    }
  })
  return { swings, clips }
}
