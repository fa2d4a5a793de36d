import { levelsForDrawing, type DrawnLevel } from '../change/levels-for-drawing.ts'
import { blockIn, clubIn, labelIn, numberIn, sayIn, type Say } from '../wording/say.ts'
import { metricInSystem, metricUnit, type ShownMetric, type UnitSystem } from '../units.ts'
import type { LessonReport } from './lesson-report.ts'

/** One dot of a chart: a shot in the order they were hit. */
export interface ChartShot {
  order: number
  blockLabel: string
  club: string | null
  value: number
}

/** Tones of the blocks; they only tell blocks apart, none of them means good or bad. */
export const blockTones = ['#5f6c74', '#2f7f79', '#a0603a', '#5a5fa8', '#8a4f7d', '#7a7a35'] as const

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** Blocks differ in shape as well as in tone. */
const blockSymbols = ['circle', 'rect', 'triangle', 'diamond', 'roundRect', 'pin'] as const

/** ECharts' options as plain data; the window and the hand-over draw the same chart from it. */
export type ChartOptions = Record<string, unknown>

interface ChartLook {
  ink: string
  soft: string
  rule: string
}
/** Colours of a chart on the student's page and on paper. */
export const lightLook: ChartLook = { ink: '#1c2226', soft: '#5a646b', rule: '#dcd8cc' }

const valueOf = (
  shot: LessonReport['shots'][number],
  speeds: ReadonlyMap<string, number | null>,
  metric: ShownMetric,
) =>
  metric === 'efficiency'
    ? (shot.efficiency?.value ?? null)
    : metric === 'carryM'
      ? shot.carry.carryM
      : (speeds.get(shot.shotId) ?? null)

/**
 * One metric of every shot of a club in the order they were hit, coloured by block, with each block's median as a line.
 * Null if fewer than two shots have it.
 */
export const metricByShotChart = (
  report: LessonReport,
  metric: ShownMetric,
  club: string | null,
  values: ReadonlyMap<string, number | null>,
  options: { units: UnitSystem; look?: ChartLook; width?: 'wide' | 'narrow'; say?: Say },
): { options: ChartOptions; size: { width: number; height: number }; title: string; text: string } | null => {
  const { units, look = lightLook, say = sayIn('en') } = options
  const isNarrow = options.width === 'narrow'
  const textPx = isNarrow ? 15 : 13
  const blocks = report.blocks.filter((b) => b.club === club)
  const shots = report.shots.filter((s) => s.club === club && !s.isLeftOut)
  const dots = shots.flatMap((shot, index) => {
    const value = valueOf(shot, values, metric)
    return value === null
      ? []
      : [{ order: index + 1, blockId: shot.blockId, value: metricInSystem(metric, value, units) }]
  })
  if (dots.length < 2) return null
  const unit = metricUnit(metric, units)
  const decimals = metric === 'efficiency' ? 2 : 0
  const series = blocks.map((block, index) => {
    const own = dots.filter((d) => d.blockId === block.blockId)
    const median = block.metrics.find((m) => m.metric === metric)?.median
    const level = median === null || median === undefined ? null : metricInSystem(metric, median, units)
    return {
      name: blockIn(say, block.label),
      type: 'scatter',
      symbol: blockSymbols[index % blockSymbols.length],
      symbolSize: isNarrow ? 10 : 9,
      itemStyle: { color: blockTones[index % blockTones.length] },
      data: own.map((d) => [d.order, Number(d.value.toFixed(3))]),
      ...(level !== null && own.length > 1
        ? {
            markLine: {
              silent: true,
              symbol: 'none',
              label: {
                formatter: numberIn(say, level.toFixed(decimals)),
                color: look.ink,
                position: 'insideEndTop',
                fontSize: isNarrow ? 15 : 12,
                fontWeight: 600,
              },
              lineStyle: { color: blockTones[index % blockTones.length], width: 2, type: 'solid' },
              data: [[{ coord: [own[0]!.order - 0.3, level] }, { coord: [own.at(-1)!.order + 0.3, level] }]],
            },
          }
        : {}),
    }
  })
  const step = levelStep(report, metric, club, dots)
  const name = `${labelIn(say, metric)}${unit ? ` (${unit})` : ''}`
  const levels = blocks.map((b) => {
    const median = b.metrics.find((m) => m.metric === metric)?.median
    return median === null || median === undefined
      ? say('chart.notRecorded', { block: blockIn(say, b.label) })
      : `${blockIn(say, b.label)} ${numberIn(say, metricInSystem(metric, median, units).toFixed(decimals))}`
  })
  const legendRows = blocks.length
  return {
    size: isNarrow ? { width: 360, height: 290 + legendRows * 24 } : { width: 680, height: 320 },
    title: say(step ? 'chart.titleStep' : 'chart.title', {
      metric: capital(labelIn(say, metric)),
      club: clubIn(say, club),
    }),
    text: say(step ? 'chart.textStep' : 'chart.text', {
      metric: name,
      club: clubIn(say, club),
      blocks: levels.join(', '),
      ...(step ? { from: String(step.from), to: String(step.to) } : {}),
    }),
    options: {
      animation: false,
      backgroundColor: 'transparent',
      textStyle: { color: look.ink, fontFamily: 'Source Sans 3, system-ui, sans-serif', fontSize: textPx },
      grid: isNarrow
        ? { left: 44, right: 12, top: 26 + legendRows * 24, bottom: 44 }
        : { left: 56, right: 20, top: 60, bottom: 44 },
      legend: {
        top: 2,
        left: 0,
        itemGap: 12,
        ...(isNarrow ? { orient: 'vertical' as const, itemGap: 6 } : {}),
        textStyle: { color: look.ink, fontSize: textPx },
      },
      xAxis: {
        type: 'value',
        name: say('chart.shot'),
        nameLocation: 'middle',
        nameGap: 26,
        min: 0,
        max: shots.length + 1,
        minInterval: 1,
        axisLabel: { color: look.soft, fontSize: textPx },
        axisLine: { lineStyle: { color: look.rule } },
        splitLine: { show: false },
      },
      yAxis: {
        type: 'value',
        scale: true,
        name,
        nameTextStyle: {
          color: look.soft,
          align: 'left',
          fontSize: textPx,
          padding: [0, 0, 0, isNarrow ? -36 : -48],
        },
        axisLabel: { color: look.soft, fontSize: textPx },
        splitLine: { lineStyle: { color: look.rule } },
      },
      series: step ? [...series, stepSeries(step, look)] : series,
    },
  }
}

interface LevelStep {
  /** The last shot that is surely before the change and the first that is surely after it. */
  from: number
  to: number
  levels: DrawnLevel[]
}

/**
 * Where the session's level changed, in the chart's own numbers of shots, and the levels on both sides; null unless the
 * session report says that it did, and where.
 */
const levelStep = (
  report: LessonReport,
  metric: ShownMetric,
  club: string | null,
  dots: readonly { order: number; value: number }[],
): LevelStep | null => {
  const found = report.session.metrics.find((m) => m.metric === metric)?.levelChange
  if (report.session.club !== club || found?.state !== 'changed') return null
  if (found.from === null || found.to === null || found.isPlaceVague || found.isAlsoTrend) return null
  const [from, to] = [dots[found.from - 1]?.order, dots[found.to]?.order]
  if (from === undefined || to === undefined) return null
  const levels = levelsForDrawing(
    dots.map((d) => d.value),
    { maxBreaks: 1 },
  ).map((l) => ({ ...l, fromShot: dots[l.fromShot]!.order, toShot: dots[l.toShot]!.order }))
  return { from, to, levels }
}

/** A shaded strip where the level changed, and the levels before and after it, dashed. */
const stepSeries = ({ from, to, levels }: LevelStep, look: ChartLook) => ({
  type: 'line',
  silent: true,
  data: [],
  markArea: {
    silent: true,
    itemStyle: { color: look.rule, opacity: 0.6 },
    data: [[{ xAxis: from }, { xAxis: to }]],
  },
  markLine: {
    silent: true,
    symbol: 'none',
    label: { show: false },
    lineStyle: { color: look.soft, width: 1, type: 'dashed' },
    data: levels.map((l) => [{ coord: [l.fromShot, l.level] }, { coord: [l.toShot, l.level] }]),
  },
})
