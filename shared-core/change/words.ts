import { clubWords } from '../model/club.ts'
import { formatMetric, metricLabel, metricText } from '../units.ts'
import type { ShownMetric, UnitSystem } from '../units.ts'
import type { LeftOut } from './same-club.ts'

/** How findings are worded: the student's units, and names of cues where they have any. */
export interface Wording {
  units: UnitSystem
  /** Key of a cue → its label; the key itself where there is none. */
  cueLabels?: Readonly<Record<string, string>>
}

export const quoted = (label: string): string => `“${label}”`

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

export const count = (n: number, thing: string): string => `${n} ${thing}${n === 1 ? '' : 's'}`

/** "a", "a and b", "a, b and c". */
export const list = (items: readonly string[]): string =>
  items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items[items.length - 1]}`

export const cueWords = (cue: string, wording: Wording): string => quoted(wording.cueLabels?.[cue] ?? cue)

/** Standard error behind a 95 % interval; the digits shown follow from it. */
export const sdOfInterval = (interval: readonly [number, number] | null): number | null =>
  interval === null ? null : (interval[1] - interval[0]) / 3.92

/** Size of a difference without its sign: "2.1 mph"; "next to nothing" where the digits shown are all zero. */
export function size(metric: ShownMetric, value: number, wording: Wording, sd: number | null = null): string {
  const { text } = formatMetric(metric, Math.abs(value), wording.units, { sd })
  return isZero(text)
    ? 'next to nothing'
    : unsigned(metricText(metric, Math.abs(value), wording.units, { sd }))
}

/** A difference with its sign: "+2.1 mph". */
export const signed = (
  metric: ShownMetric,
  value: number,
  wording: Wording,
  sd: number | null = null,
): string => metricText(metric, value, wording.units, { sd, signed: true })

/** A level: "94.2 mph", "1.46". */
export const level = (
  metric: ShownMetric,
  value: number | null,
  wording: Wording,
  sd: number | null = null,
): string => metricText(metric, value, wording.units, { sd })

/** "0.9 to 3.4 mph"; with signs where one end is negative. */
export function range(
  metric: ShownMetric,
  ends: readonly [number, number],
  wording: Wording,
  options: { signed?: boolean } = {},
): string {
  const sd = sdOfInterval(ends)
  const isSigned = options.signed ?? (ends[0] < 0 || ends[1] < 0)
  const texts = ends.map((end) => formatMetric(metric, end, wording.units, { sd, signed: isSigned }).text)
  if (texts.every(isZero)) return 'next to nothing either way'
  return `${texts[0]} to ${metricText(metric, ends[1], wording.units, { sd, signed: isSigned })}`
}

const isZero = (text: string): boolean => Number(text.replace('−', '-').replace('+', '')) === 0
const unsigned = (text: string): string => text.replace(/^\+/, '')

/** Words of a rise and of a fall: "faster", "slower". */
export function moreOrLess(metric: ShownMetric, value: number): string {
  const up = value > 0
  if (metric === 'clubSpeedMps' || metric === 'ballSpeedMps') return up ? 'faster' : 'slower'
  if (metric === 'carryM' || metric === 'totalM') return up ? 'longer' : 'shorter'
  if (metric === 'backswingSeconds' || metric === 'downswingSeconds') return up ? 'longer' : 'shorter'
  if (metric === 'braceBeforeImpactSeconds' || metric === 'pelvisStopSeconds') return up ? 'earlier' : 'later'
  if (metric.startsWith('leadKnee') && metric.endsWith('Deg')) return up ? 'straighter' : 'more bent'
  if (metric.endsWith('AlongTopWidths') || metric.endsWith('AlongImpactWidths')) {
    return up ? 'further toward the target' : 'further from the target'
  }
  return up ? 'higher' : 'lower'
}

/** "8 times in 10", from the share of pairs that point the way of the difference. */
export function timesWords(share: number): string {
  const tenths = Math.round(share * 10)
  return share === 1 ? 'every time' : tenths === 10 ? 'nearly every time' : `${tenths} times in 10`
}

/** An interval across 0 in words: "0.01 lower to 0.04 higher". */
export function spanWords(metric: ShownMetric, ends: readonly [number, number], wording: Wording): string {
  const sd = sdOfInterval(ends)
  const [low, high] = ends.map((end) => {
    const by = size(metric, end, wording, sd)
    return by === 'next to nothing' ? 'no difference' : `${by} ${moreOrLess(metric, end)}`
  })
  return `${low} to ${high}`
}

/** A p-value with no more digits than mean something. */
export const pWords = (p: number | null): string =>
  p === null ? 'no p' : p < 0.001 ? 'p below 0.001' : `p ${p.toFixed(p < 0.1 ? 3 : 2)}`

const months = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]

/** "9 May 2026", from YYYY-MM-DD. */
export function dayWords(date: string): string {
  const [year, month, day] = date.split('-').map(Number)
  return `${day} ${months[month! - 1]} ${year}`
}

/** Percent of a share: "60 %". */
export const percent = (share: number): string => `${`${Math.round(share * 100)}`.replace('-', '−')} %`

/** Name of the metric, with what it is for those that are computed. */
export const name = (metric: ShownMetric): string => metricLabel(metric)

/** Why a metric that has no readings can't be spoken of. */
export function notRecorded(metric: ShownMetric): string {
  return metric === 'efficiency'
    ? 'Efficiency needs club speed and ball speed of the same shot; they were not both recorded, so nothing can be said about it.'
    : `${capital(name(metric))} was not recorded, so nothing can be said about it.`
}

/** "4 driver shots in “Baseline”": what a report did not look at. */
export const leftOutWords = (leftOut: readonly LeftOut[]): string =>
  list(
    leftOut.map(({ block, club, shots, why }) => {
      const kind =
        club === null ? count(shots, 'shot') + ' of an unknown club' : count(shots, `${clubWords(club)} shot`)
      return `${kind} in ${quoted(block)}${why === 'left-out-by-coach' ? ' (left out by the coach)' : ''}`
    }),
  )

/** "the 7-iron", or "all shots (no club named)". */
export const clubPhrase = (club: string | null): string =>
  club === null ? 'the shots without a club name' : `the ${clubWords(club)}`

export const assumedError =
  'device error: assumed, to be edited by the coach (no published figure for the device could be confirmed)'
