import { clubWords } from '../model/club.ts'
import { centreInterval } from '../statistics/centre-interval.ts'
import { median } from '../statistics/median.ts'
import { formatMetric, metricInSystem, metricLabel, metricUnit } from '../units.ts'
import type { ShownMetric, UnitSystem } from '../units.ts'
import { textWidth, wrapText } from '../scene/text-width.ts'
import { blockTones, type ChartOptions } from './charts.ts'
import type { LessonReport } from './lesson-report.ts'
import { commas, phrase, said, sayWord } from '../wording/phrase.ts'

/** What the picture of a lesson shows; the first is what it opens on. */
export const pictureMetrics: readonly ShownMetric[] = ['efficiency', 'clubSpeedMps', 'ballSpeedMps', 'carryM']

/** A shot in the order it was hit; its swing, and whether that was filmed. Values in the metric's own unit. */
export interface PictureDot {
  shotId: string
  swingId: string | null
  /** 1 for the first shot with this club. */
  order: number
  blockId: string
  value: number
  hasClip: boolean
  isLeftOut: boolean
}

/** Five shots give 94 % at most, fewer not enough to be drawn (exact signed-rank interval). */
const minConfidence = 0.9

/** The middle of a block with its 95 % interval (94 % with five shots, null with fewer). */
export interface PictureBand {
  blockId: string
  label: string
  isBaseline: boolean
  fromOrder: number
  toOrder: number
  /** Shots that count. */
  n: number
  middle: number | null
  interval: [number, number] | null
}

/** The lesson as dots in the order hit, with its blocks' middles and the club's ceiling, in the metric's SI unit. */
export interface LessonPicture {
  metric: ShownMetric
  club: string | null
  dots: PictureDot[]
  bands: PictureBand[]
  /** Of the club, for efficiency; null for the other metrics and where none is known. */
  ceiling: number | null
  shotCount: number
}

/** What the picture needs of a shot besides the report: in the order they were hit. */
export interface PictureShot {
  id: string
  swingId: string | null
  hasClip: boolean
  clubSpeedMps: number | null
  ballSpeedMps: number | null
}

/** The clubs of a lesson, the one with the most shots first. */
export const clubsOfReport = (report: LessonReport): (string | null)[] => {
  const counts = new Map<string | null, number>()
  for (const { club, isLeftOut } of report.shots) {
    counts.set(club, (counts.get(club) ?? 0) + (isLeftOut ? 0 : 1))
  }
  return [...counts].sort((a, b) => b[1] - a[1]).map(([club]) => club)
}

/**
 * One metric of every shot of a club in the order hit, with the blocks' middles (Hodges-Lehmann, as the comparisons) and
 * their exact signed-rank intervals, and the club's ceiling. Shots left out are shown, and count for nothing.
 */
export const lessonPicture = (
  report: LessonReport,
  shots: readonly PictureShot[],
  metric: ShownMetric,
  club: string | null,
): LessonPicture => {
  const facts = new Map(shots.map((s) => [s.id, s]))
  const ofClub = report.shots.filter((s) => s.club === club)
  const dots = ofClub.flatMap((shot, index): PictureDot[] => {
    const fact = facts.get(shot.shotId)
    const value =
      metric === 'efficiency'
        ? (shot.efficiency?.value ?? null)
        : metric === 'carryM'
          ? shot.carry.carryM
          : metric === 'clubSpeedMps' || metric === 'ballSpeedMps'
            ? (fact?.[metric] ?? null)
            : null
    return value === null
      ? []
      : [
          {
            shotId: shot.shotId,
            swingId: fact?.swingId ?? null,
            order: index + 1,
            blockId: shot.blockId,
            value,
            hasClip: fact?.hasClip ?? false,
            isLeftOut: shot.isLeftOut,
          },
        ]
  })
  const bands = report.blocks
    .filter((b) => b.club === club)
    .flatMap((block): PictureBand[] => {
      const orders = ofClub.flatMap((s, i) => (s.blockId === block.blockId ? [i + 1] : []))
      if (orders.length === 0) return []
      const values = dots.filter((d) => d.blockId === block.blockId && !d.isLeftOut).map((d) => d.value)
      const found = centreInterval(values)
      return [
        {
          blockId: block.blockId,
          label: block.label,
          isBaseline: block.isBaseline,
          fromOrder: Math.min(...orders),
          toOrder: Math.max(...orders),
          n: values.length,
          middle: found.centre,
          interval:
            found.lower === null || found.upper === null || found.achievedConfidence! < minConfidence
              ? null
              : [found.lower, found.upper],
        },
      ]
    })
  const ceilings = ofClub.flatMap((s) => (s.ceiling ? [s.ceiling.efficiency] : []))
  return {
    metric,
    club,
    dots,
    bands,
    ceiling: metric === 'efficiency' && ceilings.length > 0 ? median(ceilings) : null,
    shotCount: ofClub.length,
  }
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** The picture in words, numbers included, for whoever does not see it. */
export const lessonPictureWords = (
  picture: LessonPicture,
  units: UnitSystem,
  finding: string | null,
): string => {
  const { metric, bands, ceiling, club, dots } = picture
  const text = (value: number) => formatMetric(metric, value, units).text
  const unit = metricUnit(metric, units)
  const left = dots.filter((d) => d.isLeftOut).length
  return [
    said(unit ? 'picture.titleUnit' : 'picture.title', {
      metric: capital(metricLabel(metric)),
      unit,
      n: dots.length,
      club: clubWords(club),
    }),
    ...bands.map((b) =>
      b.middle === null
        ? said('picture.notRecorded', { label: b.label })
        : b.interval
          ? said('picture.bandInterval', {
              label: b.label,
              middle: text(b.middle),
              low: text(b.interval[0]),
              high: text(b.interval[1]),
              n: b.n,
            })
          : said('picture.band', { label: b.label, middle: text(b.middle), n: b.n }),
    ),
    ...(ceiling === null ? [] : [said('picture.ceiling', { value: text(ceiling) })]),
    ...(left > 0 ? [said('picture.leftOut', { n: left })] : []),
    ...(finding === null ? [] : [finding]),
  ].join(' ')
}

/** Colours of the lesson's picture. */
export interface PictureLook {
  ink: string
  soft: string
  rule: string
  surface: string
}

interface PictureOptions {
  units: UnitSystem
  look: PictureLook
  /** On this swing a ring is drawn. */
  activeSwingId?: string | null
  textPx?: number
  /** About how wide it is drawn, so that names end before the next begins. */
  widthPx?: number
  /** Without a pointer (on paper, in a file) no numbers pop up. */
  isStill?: boolean
}

/** Filmed, device only: apart in shape, so that tone is not needed. */
const symbolOf = (dot: PictureDot) => (dot.hasClip ? 'circle' : 'diamond')

/**
 * ECharts options of the picture; a dot's `name` is its swing. What lies far outside the shots that count is put at the
 * edge, so that one mishit does not press all others into a line.
 */
export const lessonPictureOptions = (picture: LessonPicture, options: PictureOptions): ChartOptions => {
  const { metric, dots, bands, ceiling, shotCount } = picture
  const { units, look, activeSwingId = null, textPx = 12, widthPx = 300, isStill = false } = options
  const pxPerShot = (widthPx - 4.2 * textPx) / (shotCount + 0.2)
  const names = bands.map((b) =>
    inLines(b.label, (b.toOrder - b.fromOrder + 1) * pxPerShot - textPx * 0.4, textPx),
  )
  const shown = (value: number) => metricInSystem(metric, value, units)
  const unit = metricUnit(metric, units)
  const number = (value: number) => formatMetric(metric, value, units).text
  const { min, max } = rangeOf(picture, shown)
  const inRange = (value: number) => Math.max(min, Math.min(max, shown(value)))
  const toneOf = (blockId: string) =>
    blockTones[
      Math.max(
        0,
        bands.findIndex((b) => b.blockId === blockId),
      ) % blockTones.length
    ]!
  const size = textPx * 0.75
  const dotData = dots.map((d) => {
    const tone = toneOf(d.blockId)
    const isActive = d.swingId !== null && d.swingId === activeSwingId
    return {
      name: d.swingId ?? '',
      value: [d.order, inRange(d.value)],
      symbol: symbolOf(d),
      symbolSize: (isActive ? 1.7 : 1) * (d.hasClip ? size : size * 1.25),
      itemStyle: {
        color: d.isLeftOut ? look.surface : tone,
        borderColor: isActive ? look.ink : d.isLeftOut ? tone : look.surface,
        borderWidth: isActive ? 2.5 : d.isLeftOut ? 1.8 : 1,
      },
      words: sayWord(
        commas(
          `${number(d.value)} ${unit}`,
          d.isLeftOut ? phrase('picture.dotLeftOut') : null,
          d.hasClip ? null : phrase('picture.dotNoClip'),
        ),
      ),
    }
  })
  return {
    backgroundColor: 'transparent',
    grid: {
      left: textPx * 3.4,
      right: textPx * 0.8,
      top: textPx * (1.8 + 1.2 * Math.max(1, ...names.map((name) => name.length))),
      bottom: textPx * 2,
    },
    ...(isStill
      ? {}
      : {
          tooltip: {
            trigger: 'item',
            backgroundColor: look.ink,
            borderWidth: 0,
            textStyle: { color: look.surface },
            formatter: (item: { data: { words: string; value: [number, number] } }) =>
              `shot ${item.data.value[0]}: ${item.data.words}`,
          },
        }),
    xAxis: {
      type: 'value',
      min: 0.4,
      max: shotCount + 0.6,
      axisLabel: {
        color: look.soft,
        fontSize: textPx,
        customValues: roundNumbers(shotCount),
        formatter: (value: number) => String(value),
      },
      axisTick: { show: false },
      axisLine: { lineStyle: { color: look.rule } },
      splitLine: { show: false },
    },
    yAxis: {
      type: 'value',
      min,
      max,
      splitNumber: 4,
      axisLabel: {
        color: look.soft,
        fontSize: textPx,
        showMinLabel: false,
        showMaxLabel: false,
        formatter: (value: number) => value.toFixed(metric === 'efficiency' ? 2 : 0),
      },
      splitLine: { lineStyle: { color: look.rule, opacity: 0.7 } },
    },
    series: [
      ...bands.map((b, i) =>
        bandSeries(b, { name: names[i]!, shown, number, tone: toneOf(b.blockId), look, textPx, max }),
      ),
      ...(ceiling === null
        ? []
        : [
            {
              type: 'scatter',
              silent: true,
              data: [],
              markLine: {
                silent: true,
                symbol: 'none',
                label: {
                  formatter: `ceiling ${number(ceiling)}`,
                  position: 'insideStartTop',
                  color: look.soft,
                  fontSize: textPx,
                },
                lineStyle: { color: look.soft, type: 'dashed', width: 1.4 },
                data: [{ yAxis: shown(ceiling) }],
              },
            },
          ]),
      { type: 'scatter', data: dotData, z: 5, cursor: isStill ? 'default' : 'pointer' },
    ],
  }
}

/** A block as a band over its shots: its ground, its interval as a darker band, its middle as a line with its number. */
const bandSeries = (
  band: PictureBand,
  by: {
    /** Its name in lines. */
    name: readonly string[]
    shown: (value: number) => number
    number: (value: number) => string
    tone: string
    look: PictureLook
    textPx: number
    max: number
  },
) => {
  const { name, shown, number, tone, look, textPx, max } = by
  const [from, to] = [band.fromOrder - 0.5, band.toOrder + 0.5]
  const { interval, middle } = band
  return {
    type: 'scatter',
    silent: true,
    z: 1,
    data: [[(from + to) / 2, max]],
    symbolSize: 0.1,
    label: {
      show: true,
      position: 'top',
      distance: textPx * 0.35,
      color: look.ink,
      fontSize: textPx,
      lineHeight: textPx * 1.2,
      rich: { middle: { fontWeight: 700, fontSize: textPx * 1.15, color: look.ink } },
      formatter: `${name.join('\n')}\n{middle|${middle === null ? '–' : number(middle)}}`,
    },
    markArea: {
      silent: true,
      data: [
        [{ xAxis: from, itemStyle: { color: tone, opacity: 0.1 } }, { xAxis: to }],
        ...(interval
          ? [
              [
                { xAxis: from, yAxis: shown(interval[0]), itemStyle: { color: tone, opacity: 0.28 } },
                { xAxis: to, yAxis: shown(interval[1]) },
              ],
            ]
          : []),
      ],
    },
    markLine: {
      silent: true,
      symbol: 'none',
      data: [
        ...(middle === null
          ? []
          : [
              [
                {
                  coord: [from, shown(middle)],
                  lineStyle: { color: tone, width: 2.2, type: 'solid' },
                  label: { show: false },
                },
                { coord: [to, shown(middle)] },
              ],
            ]),
      ],
    },
  }
}

/** Lines of a name at most. */
const mostLines = 2

/** A name in lines over its band, on words; what has no room in it ends with …, so that no name touches the next. */
const inLines = (name: string, widthPx: number, textPx: number): string[] => {
  const fits = (line: string) => textWidth(line, textPx) <= widthPx
  const cut = (line: string) => {
    let end = line.length
    while (end > 1 && !fits(`${line.slice(0, end).trimEnd()}…`)) end -= 1
    return `${line.slice(0, end).trimEnd()}…`
  }
  const lines = wrapText(name, textPx, widthPx)
  const shown = lines.slice(0, mostLines)
  return shown.map((line, i) => {
    const isLast = i === shown.length - 1 && lines.length > shown.length
    return isLast ? cut(`${line} ${lines[i + 1]!}`) : fits(line) ? line : cut(line)
  })
}

/** What stands under the shots: every second, fifth or tenth, as there is room for about eight. */
const roundNumbers = (count: number): number[] => {
  const step = [1, 2, 5, 10, 20, 50].find((each) => count / each <= 8) ?? 100
  return Array.from({ length: Math.floor(count / step) }, (_, i) => (i + 1) * step)
}

/** From below the least that counts to above the most, the ceiling within; no closer than 5 % of it. */
const rangeOf = (
  { dots, bands, ceiling }: LessonPicture,
  shown: (value: number) => number,
): { min: number; max: number } => {
  const counted = dots.filter((d) => !d.isLeftOut).map((d) => d.value)
  const values = [
    ...(counted.length > 0 ? counted : dots.map((d) => d.value)),
    ...bands.flatMap((b) => b.interval ?? []),
    ...(ceiling === null ? [] : [ceiling]),
  ].map(shown)
  if (values.length === 0) return { min: 0, max: 1 }
  const [least, most] = [Math.min(...values), Math.max(...values)]
  const room = Math.max((most - least) * 0.12, Math.abs(most) * 0.025, 1e-6)
  return { min: least - room, max: most + room }
}
