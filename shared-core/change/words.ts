import { clubWords } from '../model/club.ts'
import { formatMetric, metricText } from '../units.ts'
import type { ShownMetric, UnitSystem } from '../units.ts'
import { andList, capital, phrase, type Phrase, type PhraseKey, type Word } from '../wording/phrase.ts'
import type { LeftOut } from './same-club.ts'

/** How findings are worded: the student's units, and names of cues where they have any. */
export interface Wording {
  units: UnitSystem
  /** Key of a cue → its label; the key itself where there is none. */
  cueLabels?: Readonly<Record<string, string>>
}

/** A name that the coach gave, in quotation marks. */
export const quoted = (label: string): Phrase => phrase('text.quoted', { label })

/** What is counted, of those that `count.…` has words for. */
type Counted = Exclude<
  Extract<PhraseKey, `count.${string}`> extends `count.${infer Thing}` ? Thing : never,
  'clubShot'
>

/** "1 shot", "8 shots". */
export const count = (n: number, thing: Counted): Phrase => ({ phrase: `count.${thing}`, values: { n } })

/** The coach's own word for a cue, in quotation marks. */
export const cueWords = (cue: string, wording: Wording): Phrase => quoted(wording.cueLabels?.[cue] ?? cue)

/** Standard error behind a 95 % interval; the digits shown follow from it. */
export const sdOfInterval = (interval: readonly [number, number] | null): number | null =>
  interval === null ? null : (interval[1] - interval[0]) / 3.92

/** True where the digits that are shown of a difference are all zero. */
export const isNothing = (
  metric: ShownMetric,
  value: number,
  wording: Wording,
  sd: number | null = null,
): boolean => isZero(formatMetric(metric, Math.abs(value), wording.units, { sd }).text)

/** Size of a difference without its sign: "2.1 mph"; "next to nothing" where the digits shown are all zero. */
export const size = (metric: ShownMetric, value: number, wording: Wording, sd: number | null = null): Word =>
  isNothing(metric, value, wording, sd)
    ? phrase('text.nothing')
    : unsigned(metricText(metric, Math.abs(value), wording.units, { sd }))

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
): Phrase {
  const sd = sdOfInterval(ends)
  const isSigned = options.signed ?? (ends[0] < 0 || ends[1] < 0)
  const texts = ends.map((end) => formatMetric(metric, end, wording.units, { sd, signed: isSigned }).text)
  if (texts.every(isZero)) return phrase('text.nothingEitherWay')
  return fromTo(texts[0]!, metricText(metric, ends[1], wording.units, { sd, signed: isSigned }))
}

/** "1 to 2". */
export const fromTo = (low: Word, high: Word): Phrase => phrase('text.fromTo', { low, high })

const isZero = (text: string): boolean => Number(text.replace('−', '-').replace('+', '')) === 0
const unsigned = (text: string): string => text.replace(/^\+/, '')

/** Words of a rise and of a fall: "faster", "slower". */
export function moreOrLess(metric: ShownMetric, value: number): Phrase {
  const up = value > 0
  if (metric === 'clubSpeedMps' || metric === 'ballSpeedMps') {
    return phrase(up ? 'way.faster' : 'way.slower')
  }
  if (metric === 'carryM' || metric === 'totalM') return phrase(up ? 'way.longer' : 'way.shorter')
  if (metric === 'backswingSeconds' || metric === 'downswingSeconds') {
    return phrase(up ? 'way.longer' : 'way.shorter')
  }
  if (metric === 'braceBeforeImpactSeconds' || metric === 'pelvisStopSeconds') {
    return phrase(up ? 'way.earlier' : 'way.later')
  }
  if (metric.startsWith('leadKnee') && metric.endsWith('Deg')) {
    return phrase(up ? 'way.straighter' : 'way.moreBent')
  }
  if (metric.endsWith('AlongTopWidths') || metric.endsWith('AlongImpactWidths')) {
    return phrase(up ? 'way.towardTarget' : 'way.fromTarget')
  }
  return phrase(up ? 'way.higher' : 'way.lower')
}

/** An interval across 0 in words: "0.01 lower to 0.04 higher". */
export function spanWords(metric: ShownMetric, ends: readonly [number, number], wording: Wording): Phrase {
  const sd = sdOfInterval(ends)
  const [low, high] = ends.map((end) =>
    isNothing(metric, end, wording, sd)
      ? phrase('text.noDifference')
      : phrase('text.byWay', { by: size(metric, end, wording, sd), way: moreOrLess(metric, end) }),
  )
  return fromTo(low!, high!)
}

/** A p-value with no more digits than mean something. */
export const pWords = (p: number | null): Phrase =>
  p === null
    ? phrase('text.noP')
    : p < 0.001
      ? phrase('text.smallP')
      : phrase('text.p', { p: p.toFixed(p < 0.1 ? 3 : 2) })

/** "p 0.03, adjusted p 0.06". */
export const adjustedP = (p: number | null, adjusted: number | null): Phrase =>
  phrase('text.adjustedP', { p: pWords(p), adjusted: pWords(adjusted) })

/** Percent of a share: "60 %". */
export const percent = (share: number): string => `${`${Math.round(share * 100)}`.replace('-', '−')} %`

/** Name of the metric, with what it is for those that are computed. */
export const name = (metric: ShownMetric): Phrase => phrase(`metric.${metric}`)

/** "club speed, efficiency and carry". */
export const names = (metrics: readonly ShownMetric[]): Word => andList(metrics.map(name))

/** Why a metric that has no readings can't be spoken of. */
export const notRecorded = (metric: ShownMetric): Phrase =>
  metric === 'efficiency'
    ? phrase('text.efficiencyNotRecorded')
    : phrase('text.notRecorded', { what: capital(name(metric)) })

/** "4 driver shots in “Baseline”": what a report did not look at. */
export const leftOutWords = (leftOut: readonly LeftOut[]): Word =>
  andList(
    leftOut.map(({ block, club, shots, why }) => {
      const kind =
        club === null
          ? phrase('count.shotOfUnknownClub', { n: shots })
          : phrase('count.clubShot', { n: shots, club: clubWords(club) })
      return phrase(why === 'left-out-by-coach' ? 'text.inBlockByCoach' : 'text.inBlock', {
        kind,
        block: quoted(block),
      })
    }),
  )

/** The same as a sentence: "4 driver shots in “Baseline”.", "No shots." */
export const leftOutData = (leftOut: readonly LeftOut[]): Phrase =>
  leftOut.length > 0 ? phrase('text.stop', { text: leftOutWords(leftOut) }) : phrase('text.noShots')

/** "the 7-iron", or "all shots (no club named)". */
export const clubPhrase = (club: string | null): Phrase =>
  club === null ? phrase('text.noClub') : phrase('text.theClub', { club: clubWords(club) })

/** What a finding rests on, where it was not computed. */
export const nothingDone = { method: phrase('text.none'), source: 'none' } as const

/** Says that the device's error is the program's assumption. */
export const assumedError: Phrase = phrase('text.assumedError')

/** Publications, and that the device's error is assumed. */
export const withAssumedError = (publications: string): Phrase =>
  phrase('text.sourceAndError', { publications, error: assumedError })
