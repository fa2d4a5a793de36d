import type { SeasonMetric } from '../../shared-core/change/season-report.ts'
import { median } from '../../shared-core/statistics/median.ts'
import { metricInSystem, metricLabel, metricUnit, type UnitSystem } from '../../shared-core/units.ts'
import type { ChartLook } from '../parts/Chart.tsx'
import { dateText } from '../roster/LessonRow.tsx'
import { seasonWords } from '../../shared-core/wording/window/season.ts'

/**
 * One metric over the lessons: the centre of each lesson as a dot, the level with luck taken out as a line where there
 * is one, the trend only where it is shown to be there.
 */
export const levelChart = (metric: SeasonMetric, units: UnitSystem) => (look: ChartLook) => {
  const shown = (value: number | null) =>
    value === null ? null : metricInSystem(metric.metric, value, units)
  const unit = metricUnit(metric.metric, units)
  const dots = metric.levels.flatMap((l) =>
    l.centre === null ? [] : [[l.date, shown(l.centre), l.n, l.label]],
  )
  const levels = metric.levels.flatMap((l) => (l.shrunken === null ? [] : [[l.date, shown(l.shrunken)]]))
  const trend = trendLine(metric).map(([date, value]) => [date, shown(value)])
  return {
    grid: { left: 52, right: 18, top: 34, bottom: 30 },
    tooltip: {
      trigger: 'item',
      backgroundColor: look.ink,
      borderWidth: 0,
      textStyle: { color: look.wash },
      formatter: (item: { value: [string, number, number?, string?] }) =>
        `${dateText(item.value[0])}: ${item.value[1].toFixed(metric.metric === 'efficiency' ? 2 : 1)} ${unit}${item.value[2] ? seasonWords('ofShots', { shots: item.value[2] }) : ''}`,
    },
    xAxis: {
      type: 'time',
      // Lessons have days, not hours: one lesson alone must not show a clock.
      minInterval: 24 * 3600 * 1000,
      splitNumber: 4,
      axisLabel: {
        color: look.soft,
        hideOverlap: true,
        fontSize: 12,
        margin: 12,
        formatter: (at: number) => dayFormat.format(at),
      },
      axisLine: { lineStyle: { color: look.rule } },
      splitLine: { show: false },
    },
    yAxis: {
      type: 'value',
      ...yRange(dots.map((dot) => dot[1] as number)),
      name: `${metricLabel(metric.metric)}${unit ? ` (${unit})` : ''}`,
      nameTextStyle: { color: look.soft, align: 'left' },
      axisLabel: {
        color: look.soft,
        fontSize: 12,
        // The ends are where the range stops, not round numbers.
        showMinLabel: false,
        showMaxLabel: false,
        ...(metric.metric === 'efficiency' ? { formatter: (value: number) => value.toFixed(2) } : {}),
      },
      splitLine: { lineStyle: { color: look.rule } },
    },
    series: [
      {
        type: 'line',
        data: levels,
        showSymbol: false,
        lineStyle: { color: look.lead, width: 2 },
        silent: true,
      },
      {
        type: 'line',
        data: trend,
        showSymbol: false,
        lineStyle: { color: look.soft, width: 1.5, type: 'dashed' },
        silent: true,
      },
      { type: 'scatter', data: dots, symbolSize: 9, itemStyle: { color: look.lead } },
    ],
  }
}

const dayFormat = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short' })

/** From below the least to above the greatest; no closer than 5 % of them, so that one lesson or a hair's breadth does not fill the chart. */
export const yRange = (values: readonly number[]): { min: number; max: number } | object => {
  if (values.length === 0) return { scale: true }
  const [least, most] = [Math.min(...values), Math.max(...values)]
  const room = Math.max((most - least) * 0.15, ((Math.abs(least) + Math.abs(most)) / 2) * 0.05)
  if (room === 0) return { scale: true }
  const step = 10 ** Math.floor(Math.log10(room))
  return { min: Math.floor((least - room) / step) * step, max: Math.ceil((most + room) / step) * step }
}

/** Both ends of the trend, through the middle of the lessons; empty unless a trend was shown to be there. */
const trendLine = (metric: SeasonMetric): [string, number][] => {
  const { state, perThirtyDays } = metric.trend
  if ((state !== 'rising' && state !== 'falling') || perThirtyDays === null) return []
  const slope = perThirtyDays / 30
  const points = metric.levels.filter((l) => l.centre !== null)
  const start = median(points.map((l) => l.centre! - slope * l.day))
  return [points[0]!, points.at(-1)!].map((l) => [l.date, start + slope * l.day])
}

/** What the chart shows, in words. */
export const levelWords = (metric: SeasonMetric, units: UnitSystem): string =>
  seasonWords('metricOverLessons', {
    metric: metricLabel(metric.metric),
    lessons: metric.levels.length,
    levels: metric.levels
      .map((l) => {
        const value = l.centre === null ? null : metricInSystem(metric.metric, l.centre, units)
        return `${dateText(l.date)} ${value === null ? seasonWords('notRecorded') : value.toFixed(metric.metric === 'efficiency' ? 2 : 1)}`
      })
      .join(', '),
  })
