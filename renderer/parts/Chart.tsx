import { LineChart, ScatterChart } from 'echarts/charts'
import { GridComponent, LegendComponent, MarkLineComponent, TooltipComponent } from 'echarts/components'
import * as echarts from 'echarts/core'
import { SVGRenderer } from 'echarts/renderers'
import { useEffect, useRef } from 'react'
import { useApp } from '../store/app-store.ts'

// Only the parts that our charts use; a new kind of series or component is named here.
echarts.use([
  ScatterChart,
  LineChart,
  GridComponent,
  LegendComponent,
  MarkLineComponent,
  TooltipComponent,
  SVGRenderer,
])

/** Colours of a chart in the window's theme. */
export interface ChartLook {
  ink: string
  soft: string
  rule: string
  lead: string
  wash: string
}

const lookNow = (): ChartLook => {
  const style = getComputedStyle(document.documentElement)
  const read = (name: string) => style.getPropertyValue(name).trim()
  return {
    ink: read('--ink'),
    soft: read('--ink-soft'),
    rule: read('--line'),
    lead: read('--lead'),
    wash: read('--lead-wash'),
  }
}

/**
 * An ECharts chart that follows its frame's size and the theme. `text` says in words what is seen, for screen readers;
 * the same numbers must also stand somewhere as text.
 */
export function Chart(props: {
  options: (look: ChartLook) => echarts.EChartsCoreOption
  text: string
  height: number
}) {
  const frame = useRef<HTMLDivElement>(null)
  const theme = useApp((s) => s.settings.theme)
  const { options, height, text } = props
  useEffect(() => {
    const element = frame.current
    if (!element) return
    const chart = echarts.init(element, null, { renderer: 'svg' })
    chart.setOption({
      animation: false,
      textStyle: { fontFamily: 'Source Sans 3', fontSize: 12 },
      ...options(lookNow()),
    })
    const observer = new ResizeObserver(() => chart.resize())
    observer.observe(element)
    return () => {
      observer.disconnect()
      chart.dispose()
    }
  }, [options, theme])
  return <div ref={frame} role="img" aria-label={text} style={{ width: '100%', height }} />
}
