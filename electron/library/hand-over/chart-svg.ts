import * as echarts from 'echarts'
import type { ChartOptions } from '../../../shared-core/report/charts.ts'

/** A chart as SVG text, drawn without a window. */
export const chartSvg = (options: ChartOptions, size = { width: 680, height: 300 }): string => {
  const chart = echarts.init(null, null, { renderer: 'svg', ssr: true, ...size })
  try {
    chart.setOption(options)
    return chart
      .renderToSVGString()
      .replace('<svg ', `<svg viewBox="0 0 ${size.width} ${size.height}" `)
      .replace(/(<svg [^>]*?) viewBox="[^"]*"([^>]*viewBox=)/, '$1$2')
  } finally {
    chart.dispose()
  }
}
