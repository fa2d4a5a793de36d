import { defaultSettings } from '../../shared-core/model/hand-over.ts'
import { lessonReport } from '../../shared-core/report/lesson-report.ts'
import { readShots } from '../../shared-core/shots/read-shots.ts'
import type { ShownMetric } from '../../shared-core/units.ts'
import { inventedLessons } from './support/invented-lessons.ts'
import { loadNote, spreadOf, timesOfRuns, type Measurement } from './support/measurement.ts'

const shotCount = 300

/** A file of one lesson as a device might write it, from shots without a place in any product's layout. */
const fileOf = (shots: readonly { clubSpeedMps?: number | null; ballSpeedMps?: number | null }[]): string =>
  [
    'Shot,Time,Club,Club Speed (mph),Ball Speed (mph),Launch Angle (deg),Spin (rpm),Carry (yd),Side (yd)',
    ...shots.map((shot, k) =>
      [
        k + 1,
        `2026-05-14 10:${String(Math.floor(k / 6) % 60).padStart(2, '0')}:${String((k % 6) * 10).padStart(2, '0')}`,
        'Driver',
        (shot.clubSpeedMps! / 0.44704).toFixed(1),
        (shot.ballSpeedMps! / 0.44704).toFixed(1),
        (11 + (k % 7) / 3).toFixed(1),
        2400 + ((k * 37) % 600),
        (shot.ballSpeedMps! * 3.6).toFixed(1),
        (((k * 13) % 41) - 20).toFixed(1),
      ].join(','),
    ),
  ].join('\n')

/** A file of 300 shots read, and the report of a lesson of 300 shots; the aim is what a coach waits without noticing. */
export async function bench(): Promise<Measurement[]> {
  const [lesson] = inventedLessons({
    lessons: 1,
    shotsPerLesson: shotCount,
    blocksPerLesson: 4,
    isRounded: true,
  })
  const text = fileOf(lesson!.blocks.flatMap((block) => block.shots))
  // The bare reference: the text cut into cells and numbers, nothing found out.
  const plain = spreadOf(timesOfRuns(() => text.split('\n').map((l) => l.split(',').map(Number)).length, 7))
  const read = spreadOf(timesOfRuns(() => readShots(text), 7))
  if (readShots(text).shots.length !== shotCount) throw new Error('not every shot was read')
  const report = spreadOf(
    timesOfRuns(
      () =>
        lessonReport({
          lesson: lesson!,
          earlier: [],
          ownEfficiencies: {},
          deviceError: defaultSettings.device,
          setupError: defaultSettings.setup,
          margins: defaultSettings.margins as Partial<Record<ShownMetric, number>>,
          units: 'mph-yd',
          cueLabels: {},
        }),
      5,
    ),
  )
  return [
    {
      name: `a file of ${shotCount} shots read`,
      value: read.median,
      unit: 'ms',
      aim: '≤ 500',
      note: `median of ${read.n}, p95 ${read.p95.toFixed(0)} ms; ${loadNote()}`,
    },
    {
      name: 'against cutting its text into cells',
      value: read.median / plain.median,
      unit: '×',
      note: 'cells by plain splitting, nothing recognised',
    },
    {
      name: `lesson report of ${shotCount} shots in 4 blocks`,
      value: report.median,
      unit: 'ms',
      aim: '≤ 1500',
      note: `median of ${report.n}, bootstrap included; ${loadNote()}`,
    },
  ]
}

if (import.meta.main) console.table(await bench())
