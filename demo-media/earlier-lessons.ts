import { chance } from './chance.ts'
import { deviceFlight } from './device-flight.ts'
import { defaultClip, people } from './scenario.ts'
import type { BlockPlan, ClipKind, DemoSwing } from './scenario.ts'

type Body = BlockPlan['body']

type EarlierBlock = {
  name: string
  focus: string
  note: string
  clubSpeedMps: number
  efficiency: number
  body: Body
  /** Number of the swing in the lesson that is filmed; none without it. */
  filmed?: number
}

type PlannedDrill = {
  drill: string
  how: string
  dose: string
  watchFor: string
  caution: string
  isLoading: boolean
}

type EarlierPlan = {
  date: string
  title: string
  note: string
  blocks: readonly [EarlierBlock, EarlierBlock]
  plan: readonly PlannedDrill[]
  /** How the practice went, as the student told it in the next lesson. */
  outcome: string
  nextFocus: string
}

const stiff: Body = {
  leadKneeDeg: 153,
  braceMs: 35,
  pelvisShiftM: 0.08,
  slideM: 0.03,
  driftM: 0.055,
  tension: 0.7,
}
const firmer: Body = {
  leadKneeDeg: 163,
  braceMs: 68,
  pelvisShiftM: 0.07,
  slideM: 0.008,
  driftM: 0.028,
  tension: 0.4,
}

const calm =
  'Warm up first and stop with pain; a sore back goes to a medical professional before you go on. Mind the space around you.'

const ladder: PlannedDrill = {
  drill: 'Centre-strike ladder',
  how: 'A little foot spray on the face. Three balls at half speed; if all three marks lie in the middle, one step more effort, else one less.',
  dose: '15 balls, twice a week',
  watchFor: 'the marks, not the distance',
  caution: calm,
  isLoading: false,
}
const turn: PlannedDrill = {
  drill: 'Turn to a count of three',
  how: 'Count to three on the way back until the back faces the target, then swing through at an easy pace.',
  dose: '2 × 8 without a ball, three times a week',
  watchFor: 'the turn ends by itself, not by a stop',
  caution: calm,
  isLoading: true,
}
const feet: PlannedDrill = {
  drill: 'Half swings, feet together',
  how: 'Feet a hand apart, hands to hip height and through. Hold the end until the ball lands.',
  dose: '20 balls, once a week',
  watchFor: 'no step at the end',
  caution: calm,
  isLoading: false,
}

/** Five lessons before the demo's own, driver only. Each begins where the one before did not quite leave off. */
const plans: readonly EarlierPlan[] = [
  {
    date: '2025-11-15',
    title: 'First lesson',
    note: 'Ball too far back in the stance; hits down on it with the driver.',
    blocks: [
      {
        name: 'Baseline',
        focus: 'as you are',
        note: '',
        clubSpeedMps: 38,
        efficiency: 1.33,
        body: stiff,
      },
      {
        name: 'Ball forward',
        focus: 'ball off the lead heel, weight even',
        note: 'Better at once.',
        clubSpeedMps: 38.1,
        efficiency: 1.395,
        body: stiff,
      },
    ],
    plan: [ladder],
    outcome: 'Twice a week, as agreed. The marks were mostly in the middle by the end. Nothing hurt.',
    nextFocus: 'a fuller turn, with the ball where it is now',
  },
  {
    date: '2025-12-13',
    title: 'A fuller turn',
    note: 'The ball position has stayed. Short turn, all arms.',
    blocks: [
      {
        name: 'Baseline',
        focus: 'as you are',
        note: '',
        clubSpeedMps: 38.2,
        efficiency: 1.39,
        body: stiff,
      },
      {
        name: 'Full turn',
        focus: 'turn until the back faces the target',
        note: 'Faster, and no worse.',
        clubSpeedMps: 40.1,
        efficiency: 1.385,
        body: stiff,
      },
    ],
    plan: [turn],
    outcome: 'Snow; two short sessions indoors in eight weeks.',
    nextFocus: 'find the turn again',
  },
  {
    date: '2026-02-07',
    title: 'Finding the turn again',
    note: 'The turn was gone after the winter, and came back with a slow start.',
    blocks: [
      {
        name: 'Baseline',
        focus: 'as you are',
        note: '',
        clubSpeedMps: 38.4,
        efficiency: 1.385,
        body: stiff,
      },
      {
        name: 'Slow start',
        focus: 'club and chest start together, slowly',
        note: '',
        clubSpeedMps: 40.4,
        efficiency: 1.38,
        body: stiff,
      },
    ],
    plan: [turn, feet],
    outcome: 'Three times a week. Lower back stiff once, stopped there.',
    nextFocus: 'strike: keep the head where it is',
  },
  {
    date: '2026-03-14',
    title: 'Quiet head',
    note: 'The speed is there now. The strike wanders with the head.',
    blocks: [
      {
        name: 'Baseline',
        focus: 'as you are',
        note: '',
        clubSpeedMps: 39.7,
        efficiency: 1.375,
        body: stiff,
      },
      {
        name: 'Quiet head',
        focus: 'look at the tee after the ball has gone',
        note: 'The best strikes so far.',
        clubSpeedMps: 39.8,
        efficiency: 1.44,
        body: firmer,
      },
    ],
    plan: [ladder, feet],
    outcome: 'Nearly every week. Two steps higher on the ladder than in the winter.',
    nextFocus: 'the same with a firmer finish',
  },
  {
    date: '2026-04-18',
    title: 'A firm finish',
    note: 'The quiet head has stayed. A good day all round.',
    blocks: [
      {
        name: 'Baseline',
        focus: 'as you are',
        note: 'Head still quiet.',
        clubSpeedMps: 40.1,
        efficiency: 1.45,
        body: firmer,
        filmed: 5,
      },
      {
        name: 'Tall finish',
        focus: 'stand tall on the lead foot until the ball lands',
        note: '',
        clubSpeedMps: 40.2,
        efficiency: 1.46,
        body: firmer,
        filmed: 16,
      },
    ],
    plan: [ladder],
    outcome: 'One round a week, no ladder: the range was closed. Tight shoulders from work.',
    nextFocus: 'less tension in the shoulders',
  },
]

const shotsPerBlock = 12
const spread = { clubSpeedMps: 0.42, efficiency: 0.012 }
/** Standard deviations: of a reading, and of what placing the device anew changes for a whole lesson. */
const readingError = { clubSpeed: 0.006, ballSpeed: 0.004, launchDeg: 0.4, spin: 0.03 }
const setupError = { clubSpeed: 0.003, ballSpeed: 0.002 }
/** The device’s clock against the camera’s, set by hand that morning, milliseconds. */
const clockOffsetMs = -2600

const swingsOf = (plan: EarlierPlan, index: number): DemoSwing[] => {
  const draw = chance(20251115 + index)
  const device = {
    club: 1 + setupError.clubSpeed * draw.normal(),
    ball: 1 + setupError.ballSpeed * draw.normal(),
  }
  let atMs = Date.parse(`${plan.date}T09:30:00.000Z`)
  return plan.blocks.flatMap((block, b) =>
    Array.from({ length: shotsPerBlock }, (_, i): DemoSwing => {
      const number = b * shotsPerBlock + i + 1
      const clubSpeedMps = block.clubSpeedMps + spread.clubSpeedMps * draw.normal()
      const ballSpeedMps = clubSpeedMps * (block.efficiency + spread.efficiency * draw.normal())
      const launchDeg = 12.6 + 0.8 * draw.normal()
      const launchDirectionDeg = 1.7 * draw.normal()
      const spinRpm = 2850 * (1 + 0.06 * draw.normal())
      const spinAxisDeg = 3 + 3.5 * draw.normal()
      const attackDeg = 0.4 + 0.6 * draw.normal()
      atMs += 1000 * (draw.between(30, 85) + (i === 0 ? 200 : 0))
      const impactAtMs = Math.round(atMs)
      const read = {
        club: clubSpeedMps * device.club * (1 + readingError.clubSpeed * draw.normal()),
        ball: ballSpeedMps * device.ball * (1 + readingError.ballSpeed * draw.normal()),
        launch: launchDeg + readingError.launchDeg * draw.normal(),
        spin: spinRpm * (1 + readingError.spin * draw.normal()),
      }
      return {
        number,
        block: {
          number: b + 1,
          name: block.name,
          focus: block.focus,
          isBaseline: b === 0,
          clubSpeedMps: { driver: block.clubSpeedMps, '7-iron': 0 },
          efficiency: { driver: block.efficiency, '7-iron': 0 },
          clubSpeedSpreadMps: spread.clubSpeedMps,
          efficiencySpread: spread.efficiency,
          body: block.body,
        },
        spec: {
          club: 'driver',
          clubSpeedMps,
          ballSpeedMps,
          launchDeg,
          launchDirectionDeg,
          backswingSeconds: 0.88 + 0.02 * draw.normal(),
          downswingSeconds: 0.275 + 0.005 * draw.normal(),
          leadKneeAtImpactDeg: block.body.leadKneeDeg + 1.3 * draw.normal(),
          braceBeforeImpactSeconds: (block.body.braceMs + 4 * draw.normal()) / 1000,
          pelvisShiftM: block.body.pelvisShiftM,
          pelvisSlideM: block.body.slideM,
          upperBodyDriftM: block.body.driftM,
          shoulderTension: block.body.tension,
        },
        mishit: false,
        impactAtMs,
        clipNames: block.filmed === number ? [clipName(plan, number)] : [],
        reading: {
          shot: number,
          atMs: impactAtMs + clockOffsetMs,
          clubSpeedMps: read.club,
          ballSpeedMps: read.ball,
          launchDeg: read.launch,
          launchDirectionDeg,
          spinRpm: read.spin,
          spinAxisDeg,
          attackDeg,
          ...deviceFlight(read.ball, read.launch, launchDirectionDeg, read.spin, spinAxisDeg),
        },
      }
    }),
  )
}

const clipName = (plan: EarlierPlan, number: number): string => `earlier/${plan.date}-swing-${number}`

/** The five lessons with their swings, and the two clips of the last of them. */
export const earlierLessons = (): {
  plan: EarlierPlan
  swings: DemoSwing[]
  clips: { kind: ClipKind; swings: DemoSwing[] }[]
}[] =>
  plans.map((plan, index) => {
    const swings = swingsOf(plan, index)
    return {
      plan,
      swings,
      clips: swings
        .filter((swing) => swing.clipNames.length > 0)
        .map((swing) => ({
          kind: {
            ...defaultClip,
            leadInSeconds: 0.36,
            widthPx: 848,
            heightPx: 480,
            name: swing.clipNames[0]!,
          },
          swings: [swing],
        })),
    }
  })

const mean = (values: readonly number[]): number =>
  Number((values.reduce((sum, v) => sum + v, 0) / values.length).toFixed(4))

/** What the library is told of the earlier lessons, with what the generator put in (`truth`). */
export const earlierStory = (fileOf: (kind: ClipKind) => string) => ({
  note: 'Invented lessons: no person, place or device in them exists.',
  lessons: earlierLessons().map(({ plan, swings, clips }) => ({
    date: plan.date,
    title: plan.title,
    venue: people.venue,
    note: plan.note,
    nextFocus: plan.nextFocus,
    shots: `earlier/${plan.date}-shots.csv`,
    clips: clips.map(({ kind, swings: [swing] }) => ({
      file: fileOf(kind),
      camera: kind.view,
      shot: swing!.reading!.shot,
    })),
    blocks: plan.blocks.map(({ name, focus, note }) => ({ name, focus, note })),
    plan: plan.plan,
    outcome: plan.outcome,
    truth: plan.blocks.map(({ name }) => {
      const own = swings.filter((s) => s.block.name === name)
      return {
        block: name,
        meanClubSpeedMps: mean(own.map((s) => s.spec.clubSpeedMps)),
        meanEfficiency: mean(own.map((s) => s.spec.ballSpeedMps / s.spec.clubSpeedMps)),
      }
    }),
  })),
})
