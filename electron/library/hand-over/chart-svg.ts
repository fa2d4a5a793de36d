import { LineChart, ScatterChart } from 'echarts/charts'
import { GridComponent, LegendComponent, MarkLineComponent } from 'echarts/components'
import * as echarts from 'echarts/core'
import { SVGRenderer } from 'echarts/renderers'
import { blockTones, lightLook, type ChartOptions } from '../../../shared-core/report/charts.ts'

// Only the parts that shared-core/report/charts.ts uses: the whole of ECharts makes the library slow to start.
echarts.use([ScatterChart, LineChart, GridComponent, LegendComponent, MarkLineComponent, SVGRenderer])

// The page's own variables, so that a chart follows its light and dark.
const variables = new Map<string, string>([
  [lightLook.ink, 'var(--ink)'],
  [lightLook.soft, 'var(--soft)'],
  [lightLook.rule, 'var(--rule)'],
  ...blockTones.map((tone, i): [string, string] => [tone, `var(--tone-${i})`]),
])

/** A chart as SVG text, drawn without a window, in the page's colours. */
export const chartSvg = (chart: {
  options: ChartOptions
  size: { width: number; height: number }
}): string => {
  const drawn = echarts.init(null, null, { renderer: 'svg', ssr: true, ...chart.size })
  try {
    drawn.setOption(chart.options)
    let svg = drawn
      .renderToSVGString()
      .replace('<svg ', `<svg viewBox="0 0 ${chart.size.width} ${chart.size.height}" `)
      .replace(/(<svg [^>]*?) viewBox="[^"]*"([^>]*viewBox=)/, '$1$2')
    for (const [hex, variable] of variables) svg = svg.replaceAll(hex, variable)
    return svg
  } finally {
    drawn.dispose()
  }
}
