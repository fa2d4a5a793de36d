import fs from 'node:fs'
import path from 'node:path'
import { Command, Option } from 'commander'
import { comparisonFindings } from '../../../shared-core/change/findings.ts'
import { defaultSetupError } from '../../../shared-core/change/metric-noise.ts'
import { defaultMetrics } from '../../../shared-core/change/metric-value.ts'
import { defaultDeviceError } from '../../../shared-core/impact/device-error.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { lessonReport, type LessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { ReportLesson } from '../../../shared-core/report/report-input.ts'
import {
  metricLabel,
  metricText,
  shownMetrics,
  unitSystems,
  type ShotMetric,
  type ShownMetric,
  type UnitSystem,
} from '../../../shared-core/units.ts'
import { reportShot } from '../../../shared-core/report/report-shot.ts'
import type { ShotsReading } from '../../../shared-core/shots/read-shots.ts'
import { assumedUnits } from '../../library/queries/insert-shots.ts'
import { readingLines } from '../reading-lines.ts'
import { expectShots, readShotsFile } from '../../library/handlers/shots.ts'
import { reportInputOf, reportOfLesson } from '../../library/queries/report-lesson.ts'
import { headings, makeOutput, table, type Output } from '../output.ts'
import { findLesson, withLibrary } from '../with-library.ts'
import { languageCaution, languages, type Language } from '../../../shared-core/wording/language.ts'
import { findingIn } from '../../../shared-core/wording/say-finding.ts'
import { commonTexts } from '../../../shared-core/wording/command-line/common.ts'
import { numbersTexts } from '../../../shared-core/wording/command-line/numbers.ts'

interface Options {
  json?: boolean
  library?: string
  units?: UnitSystem
  metric?: string
  by?: string
  full?: boolean
  language?: Language
}

/** A file's shots as a lesson: its blocks are the runs of its `block` column; without one it is a single block. */
export const lessonOfFile = (
  file: string,
  { shots, columns }: Pick<ShotsReading, 'shots' | 'columns'>,
): ReportLesson => {
  const assumed = assumedUnits({ columns })
  const names = [...new Set(shots.map((s) => s.block ?? numbersTexts('allShots')))]
  return {
    label: path.basename(file),
    date: '1970-01-01',
    air: { temperatureC: null, pressureHpa: null, altitudeM: null, humidityPercent: null },
    blocks: names.map((label, index) => ({
      id: label,
      label,
      isBaseline: index === 0,
      shots: shots
        .filter((s) => (s.block ?? numbersTexts('allShots')) === label)
        .map((shot) =>
          reportShot({
            ...shot,
            id: `line ${shot.line}`,
            assumed: assumed.filter(({ metric }) => shot[metric] !== null),
          }),
        ),
    })),
  }
}

const isFile = (text: string) => fs.existsSync(text) && fs.statSync(text).isFile()

const looksLikeFile = (text: string) => /[\\/]|\.(csv|tsv|txt)$/i.test(text)

const reportOfFile = async (
  file: string,
  units: UnitSystem,
  metrics?: readonly ShownMetric[],
): Promise<{ lesson: ReportLesson; report: LessonReport; reading: ShotsReading }> => {
  const reading = await readShotsFile(file)
  expectShots(reading, file)
  const lesson = lessonOfFile(file, reading)
  const report = lessonReport({
    lesson,
    earlier: [],
    ownEfficiencies: {},
    deviceError: defaultDeviceError,
    setupError: defaultSetupError,
    margins: {},
    units,
    cueLabels: {},
    ...(metrics ? { metrics } : {}),
  })
  return { lesson, report, reading }
}

const metricsOf = (text: string | undefined): ShotMetric[] | undefined => {
  if (text === undefined) return undefined
  const names = text.split(',').map((name) => name.trim())
  const unknown = names.find((name) => !(shownMetrics as readonly string[]).includes(name))
  if (unknown !== undefined) {
    throw new Problem('usage.metric', { name: unknown, metrics: shownMetrics.join(', '), where: '--metric' })
  }
  return names as ShotMetric[]
}

/** The report with its findings said in a language. */
const reportIn = (report: LessonReport, language: Language): LessonReport => ({
  ...report,
  findings: report.findings.map((finding) => findingIn(language, finding)),
})

/** Says before what no speaker has read yet. */
const warnOf = (language: Language) => {
  const caution = languageCaution(language)
  if (caution) process.stderr.write(`${caution}\n`)
}

/** A report as readable lines: blocks, then the findings. */
export const reportLines = (report: LessonReport, options: { isFull: boolean }): string[] => {
  const { units } = report
  if (report.shots.length === 0) {
    return [numbersTexts('noShotsSoNo')]
  }
  const rows = report.blocks.map((block) => [
    block.label,
    clubWords(block.club),
    String(block.shots),
    ...block.metrics.map((m) => (m.median === null ? '–' : metricText(m.metric, m.median, units))),
  ])
  const lines = table(
    [
      ...headings('block', 'club', 'shots'),
      ...(report.blocks[0]?.metrics ?? []).map((m) => metricLabel(m.metric)),
    ],
    rows,
  )
  const findings = report.findings.filter((f) => options.isFull || f.isMain)
  for (const finding of findings) {
    lines.push('', `• ${finding.sentence}`, `  ${finding.howSure}`)
    if (finding.caution) lines.push(`  ${finding.caution}`)
    if (options.isFull) {
      lines.push(
        numbersTexts('dataAndMethod', {
          data: finding.howWeKnow.data,
          method: finding.howWeKnow.method,
        }),
      )
    }
  }
  return lines
}

const shotLines = (report: LessonReport, labels: ReadonlyMap<string, string>): string[] =>
  table(
    [
      ...headings('shot', 'club', 'efficiency'),
      numbersTexts('ceiling'),
      numbersTexts('ballSpeedLeft'),
      numbersTexts('carryLeft'),
      'carry',
      numbersTexts('lookAt'),
    ],
    report.shots.map((s) => [
      labels.get(s.shotId) ?? s.shotId,
      clubWords(s.club),
      s.efficiency ? metricText('efficiency', s.efficiency.value, report.units) : '–',
      s.shareOfCeiling ? `${Math.round(s.shareOfCeiling.value * 100)} %` : '–',
      s.ballSpeedLeftMps
        ? metricText('ballSpeedMps', s.ballSpeedLeftMps.value, report.units, { sd: s.ballSpeedLeftMps.sd })
        : '–',
      s.carryLeftM ? metricText('carryM', s.carryLeftM.value, report.units, { sd: s.carryLeftM.sd }) : '–',
      s.carry.carryM === null
        ? '–'
        : `${metricText('carryM', s.carry.carryM, report.units)}${s.carry.how === 'computed' ? ' (computed)' : ''}`,
      s.flags.map((f) => f.message).join('; '),
    ]),
  )

const printNumbers = (
  output: Output,
  report: LessonReport,
  labels: ReadonlyMap<string, string>,
  isFull: boolean,
  reading?: ShotsReading,
) =>
  output.result(reading ? { ...report, problems: reading.problems } : report, [
    ...(reading ? [...readingLines(reading), ''] : []),
    ...(report.readingNotes.length > 0 ? [...report.readingNotes, ''] : []),
    ...(report.shots.length > 0 ? [...shotLines(report, labels), ''] : []),
    ...reportLines(report, { isFull }),
  ])

const carryLines = ({ computedCarryClubs }: LessonReport): string[] =>
  computedCarryClubs.length > 0
    ? [
        numbersTexts('computedCarry', {
          computedCarryClubs: computedCarryClubs.map(clubWords).join(', '),
        }),
      ]
    : []

const unitsOption = () => new Option('--units <units>', commonTexts('unitsShown')).choices([...unitSystems])

export const numberCommands = (): Command[] => [
  new Command('numbers')
    .description(numbersTexts('efficiencyAndWhatLeft'))
    .argument('<lesson-or-file>', numbersTexts('lessonIdStartId'))
    .addOption(unitsOption())
    .option('--full', numbersTexts('everyFindingWithHow'))
    .addOption(
      new Option('--language <language>', numbersTexts('findingsRestEnglish'))
        .choices([...languages])
        .default('en'),
    )
    .action(async (text: string, options: Options) => {
      const output = makeOutput(Boolean(options.json))
      const language = options.language ?? 'en'
      warnOf(language)
      if (isFile(text) || looksLikeFile(text)) {
        const { report, reading } = await reportOfFile(text, options.units ?? 'mps-m')
        printNumbers(output, reportIn(report, language), new Map(), Boolean(options.full), reading)
        return
      }
      await withLibrary(options.library, output, async (library) => {
        const lessonId = await findLesson(library, text)
        const opened = await library.ask('lesson.open', { lessonId })
        const report = reportOfLesson(library.context, lessonId, { units: options.units })
        const swings = new Map(opened.swings.map((s) => [s.shotId, s.order]))
        printNumbers(
          output,
          reportIn(report, language),
          new Map(opened.shots.map((s) => [s.id, `#${swings.get(s.id) ?? s.line}`])),
          Boolean(options.full),
        )
      })
    }),
  new Command('change')
    .description(numbersTexts('whatChangedBetween'))
    .argument('<lesson-or-file>', numbersTexts('lessonIdStartId'))
    .addOption(new Option('--by <what>', numbersTexts('whatCompared')).choices(['block']).default('block'))
    .option('--metric <names>', numbersTexts('commaSeparated', { shownMetrics: shownMetrics.join(', ') }))
    .addOption(unitsOption())
    .action(async (text: string, options: Options) => {
      const output = makeOutput(Boolean(options.json))
      const metrics = metricsOf(options.metric)
      // Decided under the lesson's one budget, whichever metrics are shown of it.
      const lookedAt = metrics && [...new Set([...defaultMetrics, ...metrics])]
      const print = (lesson: ReportLesson, report: LessonReport, reading?: ShotsReading) => {
        if (lesson.blocks.length < 2) {
          throw new Problem('one-block', { where: lesson.label })
        }
        const { readingNotes: notes, units } = report
        const comparisons = report.comparisons.map((comparison) => ({
          ...comparison,
          metrics: comparison.metrics.filter(
            ({ metric }) => !metrics || metrics.includes(metric as ShotMetric),
          ),
        }))
        // One list of metrics for the usual case of two blocks; every comparison beside it.
        output.result(
          {
            metrics: comparisons.flatMap((c) => c.metrics),
            comparisons,
            readingNotes: notes,
            ...(reading ? { problems: reading.problems } : {}),
          },
          [...(reading ? readingLines(reading) : []), ...notes, ...carryLines(report)].concat(
            comparisons.flatMap((c) => [
              '',
              numbersTexts('against', {
                after: c.after,
                before: c.before,
                club: c.club ? ` (${clubWords(c.club)})` : '',
              }),
              ...comparisonFindings(c, { units }).flatMap((f) => [`• ${f.sentence}`, `  ${f.howSure}`]),
            ]),
          ),
        )
      }
      if (isFile(text) || looksLikeFile(text)) {
        const { lesson, report, reading } = await reportOfFile(text, options.units ?? 'mps-m', lookedAt)
        print(lesson, report, reading)
        return
      }
      await withLibrary(options.library, output, async (library) => {
        const lessonId = await findLesson(library, text)
        const { lesson, ...input } = reportInputOf(library.context, lessonId, {
          units: options.units,
          metrics: lookedAt,
        })
        print(lesson, lessonReport({ lesson, ...input }))
      })
    }),
]
