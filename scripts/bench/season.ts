import type { ChangeShot } from '../../shared-core/change/change-shot.ts'
import { metricValues, defaultMetrics } from '../../shared-core/change/metric-value.ts'
import { seasonReport } from '../../shared-core/change/season-report.ts'
import { efficiencyOf } from '../../shared-core/impact/efficiency.ts'
import { defaultSettings } from '../../shared-core/model/hand-over.ts'
import { lessonReport } from '../../shared-core/report/lesson-report.ts'
import type { ReportInput, ReportLesson } from '../../shared-core/report/report-input.ts'
import { seasonView } from '../../shared-core/report/season-view.ts'
import type { ShownMetric } from '../../shared-core/units.ts'
import { inventedLessons } from './support/invented-lessons.ts'
import { loadNote, spreadOf, timesOfRuns, type Measurement } from './support/measurement.ts'
import { plainCentre, plainShift, plainSlope } from './support/plain-numbers.ts'

const margins = defaultSettings.margins as Partial<Record<ShownMetric, number>>
const deviceError = defaultSettings.device
const setupError = defaultSettings.setup

const valuesOf = (shots: readonly ChangeShot[], metric: ShownMetric): number[] =>
  metricValues(shots, metric).filter((value): value is number => typeof value === 'number')

/**
 * The bare numbers that a season cannot do without, in plain loops: each lesson's centre, the trend's slope, and the
 * shift from the last block of one lesson to the first of the next; without any interval, correction or words.
 */
const plainSeason = (lessons: readonly ReportLesson[]): number => {
  let sum = 0
  for (const metric of defaultMetrics) {
    const centres = lessons.map((lesson) =>
      plainCentre(
        valuesOf(
          lesson.blocks.flatMap((block) => block.shots),
          metric,
        ),
      ),
    )
    const days = lessons.map((lesson) => Date.parse(lesson.date) / 86_400_000)
    sum += plainSlope(days, centres)
    for (let i = 1; i < lessons.length; i++) {
      sum += plainShift(
        valuesOf(lessons[i - 1]!.blocks.at(-1)!.shots, metric),
        valuesOf(lessons[i]!.blocks[0]!.shots, metric),
      )
    }
  }
  if (!Number.isFinite(sum)) throw new Error('the plain season is not finite')
  return sum
}

/** Reports of shared-core: a season of 100 lessons × 60 shots, and one lesson with everything in it. */
export async function bench(): Promise<Measurement[]> {
  const rows: Measurement[] = []
  for (const isRounded of [true, false]) {
    const what = isRounded ? 'rounded as devices do' : 'no two values equal'
    const lessons = inventedLessons({ lessons: 100, shotsPerLesson: 60, blocksPerLesson: 4, isRounded })
    const season = spreadOf(
      timesOfRuns(() => seasonReport({ lessons, options: { deviceError, setupError, margins } }), 7),
    )
    const plain = spreadOf(timesOfRuns(() => plainSeason(lessons), 7))
    rows.push(
      {
        name: `season report, 100 lessons × 60 shots, ${what}`,
        value: season.median,
        unit: 'ms',
        aim: '≤ 200',
        note: `median of ${season.n}, p95 ${season.p95.toFixed(0)} ms; ${loadNote()}`,
      },
      {
        name: 'against its bare numbers in plain loops',
        value: season.median / plain.median,
        unit: '×',
        note: `plain loops ${plain.median.toFixed(0)} ms, without intervals`,
      },
    )
    if (!isRounded) continue

    const view = spreadOf(
      timesOfRuns(
        () =>
          seasonView({
            student: { id: 'student', name: 'Robin Example', language: 'en' },
            lessons: lessons.map((report, i) => ({
              lesson: { id: String(i), date: report.date, title: report.label, nextFocus: '', plan: null },
              report,
            })),
            units: 'mph-yd',
            deviceError,
            setupError,
            margins,
          }),
        5,
      ),
    )
    rows.push({
      name: 'season as the window asks for it, with sentences',
      value: view.median,
      unit: 'ms',
      note: `median of ${view.n}; ${loadNote()}`,
    })

    const input: ReportInput = {
      lesson: lessons.at(-1)!,
      earlier: lessons.slice(-21, -1),
      ownEfficiencies: {
        // As many as the library gives: the latest 300 of a club.
        driver: lessons
          .flatMap((lesson) => lesson.blocks.flatMap((block) => block.shots))
          .slice(-300)
          .map(
            (shot) =>
              efficiencyOf({ ballSpeedMps: shot.ballSpeedMps!, clubSpeedMps: shot.clubSpeedMps! })!.value,
          ),
      },
      deviceError,
      setupError,
      margins,
      units: 'mph-yd',
      cueLabels: {},
    }
    const lesson = spreadOf(timesOfRuns(() => lessonReport(input), 5))
    rows.push({
      name: 'lesson report, 60 shots in 4 blocks, after another lesson',
      value: lesson.median,
      unit: 'ms',
      note: `median of ${lesson.n}, bootstrap included; ${loadNote()}`,
    })
  }
  return rows
}

if (import.meta.main) console.table(await bench())
