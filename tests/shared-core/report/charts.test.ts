import { describe, expect, it } from 'vitest'
import { defaultSetupError } from '../../../shared-core/change/metric-noise.ts'
import { defaultDeviceError } from '../../../shared-core/impact/device-error.ts'
import { metricByShotChart } from '../../../shared-core/report/charts.ts'
import { lessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { ReportShot } from '../../../shared-core/report/report-input.ts'

const noAir = { temperatureC: null, pressureHpa: null, altitudeM: null, humidityPercent: null }

/** Eighteen shots; from the tenth on the club is `step` m/s faster. */
const chartOf = (step: number, leftOut: readonly number[] = []) => {
  const shots = Array.from({ length: 18 }, (_, i): ReportShot => ({
    id: `s${i}`,
    club: 'driver',
    cues: [],
    isLeftOut: leftOut.includes(i),
    clubSpeedMps: 40 + 0.3 * ((i * 5) % 4) + (i >= 9 ? step : 0),
    ballSpeedMps: 58,
  }))
  const blocks = [shots.slice(0, 9), shots.slice(9)].map((own, i) => ({
    id: `b${i}`,
    label: `Block ${i + 1}`,
    isBaseline: i === 0,
    shots: own,
  }))
  const report = lessonReport({
    lesson: { label: 'Lesson', date: '2026-05-01', air: noAir, blocks },
    earlier: [],
    ownEfficiencies: {},
    deviceError: defaultDeviceError,
    setupError: defaultSetupError,
    margins: {},
    units: 'mps-m',
    cueLabels: {},
  })
  const speeds = new Map(shots.map((s) => [s.id, s.clubSpeedMps!]))
  const chart = metricByShotChart(report, 'clubSpeedMps', 'driver', speeds, { units: 'mps-m' })!
  return {
    chart,
    series: chart.options.series as { type: string; data: unknown[]; markArea?: { data: unknown } }[],
  }
}

describe('the chart of a lesson', () => {
  it('shades where the level changed and says so, with the shots on both sides of it', () => {
    const { chart, series } = chartOf(4)
    expect(chart.title).toContain('where the strip is, the level changed')
    expect(chart.text).toContain('the level changed between shot 9 and shot 10')
    expect(series.find((s) => s.markArea)!.markArea!.data).toEqual([[{ xAxis: 9 }, { xAxis: 10 }]])
  })

  it('shades nothing where no change was found', () => {
    const { chart, series } = chartOf(0)
    expect(chart.title).not.toContain('strip')
    expect(series.some((s) => s.markArea)).toBe(false)
  })

  it('leaves out the shots the coach left out, as the numbers do', () => {
    const { chart, series } = chartOf(4, [2, 3])
    expect(series.filter((s) => s.type === 'scatter').flatMap((s) => s.data)).toHaveLength(16)
    expect(chart.text).toContain('between shot 7 and shot 8')
  })
})
