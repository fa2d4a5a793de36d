import { toCamera } from './camera.ts'
import { jointsIn } from './clip-film.ts'
import type { Film } from './clip-film.ts'
import { clipTruth, pointsAt, round } from './clip-truth.ts'
import type { Pixel } from './clip-truth.ts'
import { blocks, deviceClock, people } from './scenario.ts'
import type { DemoSwing } from './scenario.ts'

type MomentName = 'setup' | 'takeaway' | 'top' | 'brace' | 'impact' | 'release' | 'finish'

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length

/** Means of what the generator put in, per block and club; swings without a record are counted apart. */
const blockTruth = (swings: readonly DemoSwing[]) =>
  blocks.flatMap((block) =>
    (['driver', '7-iron'] as const).flatMap((club) => {
      const all = swings.filter((s) => s.block === block && s.spec.club === club)
      if (all.length === 0) return []
      const clean = all.filter((s) => !s.mishit)
      const efficiency = (s: DemoSwing): number => s.spec.ballSpeedMps / s.spec.clubSpeedMps
      return [
        {
          block: block.number,
          blockName: block.name,
          club,
          swings: all.length,
          shotsRecorded: all.filter((s) => s.reading).length,
          mishits: all.length - clean.length,
          meanClubSpeedMps: round(mean(all.map((s) => s.spec.clubSpeedMps)), 3),
          meanBallSpeedMps: round(mean(all.map((s) => s.spec.ballSpeedMps)), 3),
          meanEfficiency: round(mean(all.map(efficiency)), 4),
          meanEfficiencyWithoutMishits: round(mean(clean.map(efficiency)), 4),
          meanLeadKneeAtImpactDeg: round(mean(all.map((s) => s.spec.leadKneeAtImpactDeg)), 1),
          meanBraceBeforeImpactMs: round(mean(all.map((s) => s.spec.braceBeforeImpactSeconds * 1000)), 1),
        },
      ]
    }),
  )

/** The lesson as the coach would have kept it, with what the generator put into it (`truth`). */
export const lessonStory = (
  swings: readonly DemoSwing[],
  films: readonly Film[],
  fileOf: (film: Film) => string,
) => {
  const filmNamed = (name: string): Film => films.find((f) => f.kind.name === name)!
  const at = (name: string, moment: MomentName) => {
    const film = filmNamed(name)
    const truth = clipTruth(film, fileOf(film)).swings[0]!
    const { frame } = truth.moments[moment]
    const t = film.captureTimes[frame]!
    const [, , depth] = toCamera(film.view, jointsIn(film, t).head)
    return {
      place: { clip: fileOf(film), swing: truth.swing, moment, frame },
      points: pointsAt(film, t),
      /** A circle that just holds head and cap. */
      headRadiusPx: round((0.15 * film.view.focalPx) / depth, 1),
      heightPx: film.kind.heightPx,
      fraction: (p: Pixel): Pixel => [
        round(p[0] / film.kind.widthPx, 4),
        round(p[1] / film.kind.heightPx, 4),
      ],
      kneeDeg: truth.leadKneeAtImpactDeg,
    }
  }
  const knee = (name: string, moment: 'impact' | 'brace') => {
    const a = at(name, moment)
    return {
      ...a.place,
      shape: 'angle' as const,
      pointsPx: [a.points['leadHip']!, a.points['leadKnee']!, a.points['leadAnkle']!],
      label: 'lead knee',
    }
  }
  const head = (name: string, moment: MomentName, from: MomentName) => {
    const a = at(name, moment)
    const b = at(name, from)
    return {
      ...a.place,
      shape: 'circle' as const,
      centrePx: b.points['head']!,
      radiusPx: b.headRadiusPx,
      label: `head at ${from}`,
    }
  }
  const plumb = (name: string, moment: MomentName) => {
    const a = at(name, moment)
    const ankle = a.points['leadAnkle']!
    const hip = a.points['leadHip']!
    return {
      ...a.place,
      shape: 'plumb line' as const,
      pointsPx: [
        [hip[0], round(Math.max(0, hip[1] - 0.12 * a.heightPx), 1)],
        [hip[0], ankle[1]],
      ],
      label: 'lead hip over lead foot',
    }
  }
  const shaft = (name: string, moment: MomentName) => {
    const a = at(name, moment)
    return {
      ...a.place,
      shape: 'line' as const,
      pointsPx: [a.points['clubFace']!, a.points['leadHand']!],
      label: 'shaft at setup',
    }
  }
  const cue = (
    name: string,
    moment: MomentName,
    point: string,
    tag: { cue: string; kind: string; strength: 0 | 1 | 2 | 3; note: string },
  ) => {
    const a = at(name, moment)
    const px = a.points[point]!
    return { ...a.place, ...tag, placePx: px, placeFraction: a.fraction(px) }
  }
  return {
    note: 'An invented lesson: no person, place or device in it exists.',
    coach: people.coach,
    student: {
      name: people.student,
      side: people.side,
      isMinor: false,
      limits: 'stiff lower back in the morning; warms up before any fast swings',
      consent: { filming: true, storing: true, sharing: true, by: people.student, on: people.date },
    },
    date: people.date,
    venue: people.venue,
    startsAt: people.startsAt,
    blocks: blocks.map((block) => ({
      number: block.number,
      name: block.name,
      focus: block.focus,
      isBaseline: block.isBaseline,
      swings: swings
        .filter((s) => s.block === block)
        .map((s) => ({
          swing: s.number,
          club: s.spec.club,
          impactAt: new Date(s.impactAtMs).toISOString(),
          clips: s.clipNames.map((name) => fileOf(filmNamed(name))),
          shot: s.reading?.shot ?? null,
          mishit: s.mishit,
        })),
    })),
    starred: [2, 7, 12, 16],
    compare: [
      {
        before: { clip: 'swing-02.mp4', swing: 2 },
        after: { clip: 'swing-12-face-on.mp4', swing: 12 },
        moment: 'impact',
      },
    ],
    cues: [
      cue('swing-02', 'setup', 'trailShoulder', {
        cue: 'tension',
        kind: 'shoulders',
        strength: 3,
        note: 'shoulders up by the ears before the club moves',
      }),
      cue('swing-02', 'brace', 'leadHip', {
        cue: 'bracing',
        kind: 'slides past',
        strength: 2,
        note: 'hips still travelling when the club comes down',
      }),
      cue('swing-05', 'setup', 'leadShoulder', {
        cue: 'tension',
        kind: 'arms',
        strength: 2,
        note: 'forearms tight',
      }),
      cue('swing-07', 'setup', 'leadShoulder', {
        cue: 'tension',
        kind: 'shoulders',
        strength: 0,
        note: 'hanging, easy: and the club is faster',
      }),
      cue('swing-07', 'impact', 'leadKnee', {
        cue: 'bracing',
        kind: 'late',
        strength: 2,
        note: 'nothing firm to hit against; the strike wanders',
      }),
      cue('swing-09', 'impact', 'clubFace', {
        cue: 'strike',
        kind: 'off centre',
        strength: 3,
        note: 'low on the toe',
      }),
      cue('swing-12-face-on', 'brace', 'leadKnee', {
        cue: 'bracing',
        kind: 'firm',
        strength: 3,
        note: 'lead leg takes the load well before impact',
      }),
      cue('swing-12-face-on', 'release', 'leadHand', {
        cue: 'release',
        kind: 'release',
        strength: 2,
        note: 'arms long, club let go past the ball',
      }),
      cue('swing-16', 'brace', 'leadKnee', { cue: 'bracing', kind: 'firm', strength: 3, note: 'same again' }),
      cue('swing-17', 'impact', 'leadHip', {
        cue: 'bracing',
        kind: 'firm',
        strength: 2,
        note: 'keeps with the 7-iron',
      }),
    ],
    drawings: [
      knee('swing-02', 'impact'),
      head('swing-02', 'impact', 'setup'),
      plumb('swing-02', 'impact'),
      knee('swing-07', 'impact'),
      knee('swing-12-face-on', 'impact'),
      head('swing-12-face-on', 'impact', 'setup'),
      plumb('swing-12-face-on', 'impact'),
      knee('swing-12-face-on', 'brace'),
      shaft('swing-12-down-the-line', 'setup'),
    ],
    notes: {
      lesson:
        'Came in hitting hard with tight shoulders. More speed was easy to find, but it did not go further until the lead side stood firm.',
      blocks: [
        {
          block: 1,
          note: 'Baseline. Tight shoulders, hips slide on past the lead foot, head goes with them.',
        },
        {
          block: 2,
          note: 'Faster at once, strike all over the face. One low toe. Speed is not what is missing.',
        },
        { block: 3, note: 'Feels like stopping; it is not. Same speed as the baseline, much better strike.' },
        { block: 4, note: 'Swish past the ball with the 7-iron. Few swings, too few to say anything yet.' },
      ],
    },
    message:
      'Teo, you already have the speed. Today the ball got the most of it when your lead leg was firm before the club arrived and your head stayed behind the ball. Keep that feeling first, and let the shoulders stay as soft as they were in the second block.',
    practicePlan: [
      {
        drill: 'Brace, then swing',
        dose: '3 × 5 slow swings, stop in the brace and feel the lead leg, then 5 balls at easy speed; three times a week',
        watchFor: 'the hips arrive before the hands',
        caution:
          'Warm up first, stop with pain; a sore back or knee goes to a medical professional before you go on.',
      },
      {
        drill: 'Swish past the ball',
        dose: '2 × 6 swishes without a ball, shoulders hanging',
        watchFor: 'the swish is loudest past where the ball would be',
        caution: 'Clear space all round, full rest between sets, no fast swings with a stiff back.',
      },
    ],
    nextFocus: 'keep the firm lead side and add the soft shoulders',
    truth: {
      deviceClock: {
        ...deviceClock,
        meaning: 'device time = lesson time + offsetMs + driftMsPerMinute × minutes since startsAt',
      },
      swingsWithoutShot: swings.filter((s) => !s.reading).map((s) => s.number),
      shotsWithoutClip: swings.filter((s) => s.clipNames.length === 0).map((s) => s.reading!.shot),
      mishitShots: swings.filter((s) => s.mishit).map((s) => s.reading!.shot),
      blocks: blockTruth(swings),
      findings: [
        'Driver, firm lead side against baseline: efficiency clearly up, club speed about the same.',
        'Driver, soft shoulders against baseline: club speed clearly up, efficiency down (one mishit besides).',
        '7-iron: two recorded swings of the swish drill and none to compare them with, too few to tell anything.',
        'With the driver this player is short of strike, not of speed.',
      ],
    },
  }
}
