import { LineChart, ScatterChart } from 'echarts/charts'
import {
  GridComponent,
  LegendComponent,
  MarkAreaComponent,
  MarkLineComponent,
  TooltipComponent,
} from 'echarts/components'
import * as echarts from 'echarts/core'
import { SVGRenderer } from 'echarts/renderers'
import { useEffect, useLayoutEffect, useRef, useState } from 'react'
import { useApp } from '../store/app-store.ts'

// Only the parts that our charts use; a new kind of series or component is named here.
echarts.use([
  ScatterChart,
  LineChart,
  GridComponent,
  LegendComponent,
  MarkAreaComponent,
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
  surface: string
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
    surface: read('--surface'),
  }
}

/**
 * An ECharts chart that follows its frame's size and the theme; `options` are asked for the width it is drawn at. `text` says in words what is seen, for screen readers;
 * the same numbers must also stand somewhere as text. `onPress` gets the name of the dot that was pressed.
 */
export function Chart(props: {
  options: (look: ChartLook, widthPx: number) => echarts.EChartsCoreOption
  text: string
  height: number
  fontSizePx?: number
  onPress?: (name: string) => void
}) {
  const frame = useRef<HTMLDivElement>(null)
  const chart = useRef<echarts.ECharts | null>(null)
  const press = useRef(props.onPress)
  const theme = useApp((s) => s.shownTheme)
  const [widthPx, setWidthPx] = useState(0)
  const { options, height, text, fontSizePx = 12 } = props
  useLayoutEffect(() => {
    press.current = props.onPress
  })
  useEffect(() => {
    const element = frame.current
    if (!element) return
    const made = echarts.init(element, null, { renderer: 'svg' })
    chart.current = made
    made.on('click', ({ name }) => {
      if (name) press.current?.(name)
    })
    const fit = () => {
      made.resize()
      setWidthPx(element.clientWidth)
    }
    fit()
    const observer = new ResizeObserver(fit)
    observer.observe(element)
    return () => {
      observer.disconnect()
      made.dispose()
      chart.current = null
    }
  }, [])
  useEffect(() => {
    chart.current?.setOption(
      {
        animation: false,
        textStyle: { fontFamily: 'Source Sans 3', fontSize: fontSizePx },
        ...options(lookNow(), widthPx),
      },
      { notMerge: true },
    )
  }, [options, theme, fontSizePx, widthPx])
  // A label on a time axis says no size of its own and takes the frame's.
  return (
    <div ref={frame} role="img" aria-label={text} style={{ width: '100%', height, fontSize: fontSizePx }} />
  )
}
