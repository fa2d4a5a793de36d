import type { ChangeBlock, ChangeLesson, ChangeShot } from '../change/change-shot.ts'
import { regressionToMeanReport, type RegressionToMeanReport } from '../change/regression-to-mean-report.ts'
import { compareToBaseline, type BlockComparison, type MetricSummary } from '../change/compare-blocks.ts'
import { compareSpreads, type SpreadReport } from '../change/compare-spread.ts'
import { cueReport, type CueReport } from '../change/cue-report.ts'
import {
  regressionToMeanFinding,
  comparisonFindings,
  cueFindings,
  lessonFindings,
  playSpeedFindings,
  sessionFindings,
  spreadFindings,
  strikeFindings,
  type Finding,
} from '../change/findings.ts'
import { lessonAgainstLesson, type LessonAgainstLesson } from '../change/lesson-against-lesson.ts'
import { metricValues } from '../change/metric-value.ts'
import { playSpeedReport, type PlaySpeedReport } from '../change/play-speed-report.ts'
import { pairsWithBaseline } from '../change/drift-check.ts'
import { mostHitClub, onlyClub } from '../change/same-club.ts'
import { sessionReport, type SessionReport } from '../change/session-report.ts'
import { strikeMapReport, type StrikeMapReport } from '../change/strike-map-report.ts'
import { airOf } from '../flight/air.ts'
import { carryOf, type CarryAnswer } from '../flight/carry.ts'
import { holdingBack, type HoldingBack } from '../impact/holding-back.ts'
import { strikeReport, type StrikeReport } from '../impact/strike-report.ts'
import { clubWords } from '../model/club.ts'
import { blockSummary } from '../statistics/block-summary.ts'
import { mersenneGenerator } from '../statistics/generator.ts'
import type { ShownMetric, UnitSystem } from '../units.ts'
import { measuresReport, type MeasuresReport } from './measures-report.ts'
import type { ReportBlock, ReportInput, ReportLesson, ReportShot } from './report-input.ts'
import { underOneBudget } from './one-budget.ts'
import { readingNotes } from './reading-notes.ts'
import { withCarry } from './with-carry.ts'
import { commas, phrase } from '../wording/phrase.ts'
import { sayHowWeKnow } from '../wording/how-we-know.ts'

/** The numbers of one shot beside its clip. */
export interface ShotNumbers extends StrikeReport {
  shotId: string
  blockId: string
  club: string | null
  isLeftOut: boolean
  /** Measured, or computed by the flight model where the device gave none. */
  carry: CarryAnswer
}

/** One metric of one club in one block. */
export interface BlockMetric extends Omit<MetricSummary, 'label' | 'flagged'> {
  metric: ShownMetric
}

/** One club's numbers in one block, SI units. */
export interface BlockNumbers {
  blockId: string
  label: string
  isBaseline: boolean
  club: string | null
  shots: number
  leftOut: number
  metrics: BlockMetric[]
}

/** A finding with a key that stays the same while the numbers move, so that a coach's own wording keeps its place. */
export interface KeyedFinding extends Omit<Finding, 'topic'> {
  key: string
  topic: Finding['topic'] | 'holding-back'
  /** Shown first; the rest opens on demand. */
  isMain: boolean
}

/** Everything that is computed of a lesson; one report for the window, the command line and the hand-over. */
export interface LessonReport {
  units: UnitSystem
  shots: ShotNumbers[]
  blocks: BlockNumbers[]
  comparisons: BlockComparison[]
  spreads: SpreadReport[]
  regressionsToMean: RegressionToMeanReport[]
  session: SessionReport
  cues: CueReport
  playSpeed: PlaySpeedReport
  strikeMap: StrikeMapReport
  holdingBack: (HoldingBack & { blockLabel: string }) | null
  kept: LessonAgainstLesson | null
  /** Clubs whose carry no device gave: it is computed from ball speed, launch and spin, and said so. */
  computedCarryClubs: (string | null)[]
  /** What the pictures give; null where nothing is marked. */
  measures: MeasuresReport | null
  /** What the numbers rest on, in words: units assumed, values and shots that took no part. */
  readingNotes: string[]
  findings: KeyedFinding[]
}

const summaryMetrics: readonly ShownMetric[] = ['clubSpeedMps', 'ballSpeedMps', 'efficiency', 'carryM']
/** Same data, same answer: every report starts its generator here. */
const generatorStart = 20_260_101

const changeShot = (shot: ReportShot): ChangeShot => shot
const changeBlock = (block: ReportBlock): ChangeBlock => ({
  label: block.label,
  isBaseline: block.isBaseline,
  shots: block.shots.map(changeShot),
})
const changeLesson = (lesson: ReportLesson): ChangeLesson => ({
  label: lesson.label,
  date: lesson.date,
  blocks: lesson.blocks.map(changeBlock),
})

const clubsOf = (shots: readonly ReportShot[]): (string | null)[] => [...new Set(shots.map((s) => s.club))]

/** Median, spread and count of the usual metrics, for each block and club; shots left out are counted apart. */
export const blockNumbers = (
  blocks: readonly ReportBlock[],
  metrics: readonly ShownMetric[] = summaryMetrics,
): BlockNumbers[] =>
  blocks.flatMap((block) =>
    clubsOf(block.shots).map((club) => {
      const ofClub = block.shots.filter((s) => s.club === club)
      const used = ofClub.filter((s) => !s.isLeftOut)
      return {
        blockId: block.id,
        label: block.label,
        isBaseline: block.isBaseline,
        club,
        shots: used.length,
        leftOut: ofClub.length - used.length,
        metrics: metrics.map((metric) => {
          const { n, missing, median, scaledMad, mean, sd } = blockSummary(metricValues(used, metric))
          return { metric, n, missing, median, mad: scaledMad, mean, sd }
        }),
      }
    }),
  )

/** The block to ask what is holding the student back: the baseline (as the student came), else the fullest one. */
const blockForHoldingBack = (blocks: readonly ReportBlock[], club: string | null) => {
  const isFull = (s: ReportShot) => s.clubSpeedMps != null && s.ballSpeedMps != null
  const ofClub = blocks.map((block) => ({
    block,
    shots: block.shots.filter((s) => s.club === club && !s.isLeftOut),
  }))
  const fullness = (one: (typeof ofClub)[number]) => one.shots.filter(isFull).length
  const baseline = ofClub.find(({ block }) => block.isBaseline)
  if (baseline && fullness(baseline) >= 5) return baseline
  return ofClub
    .filter((one) => one.shots.length > 0)
    .reduce<(typeof ofClub)[number] | null>(
      (best, one) => (best === null || fullness(one) > fullness(best) ? one : best),
      null,
    )
}

/** Findings that a student should see first: what changed, and what was hoped for but cannot be told. */
const isMainFinding = (finding: Finding): boolean => {
  if (finding.isSure) {
    // Where the level changed is already said block by block; that the baseline had not settled is news.
    return finding.topic !== 'session' || !finding.verdict.startsWith('level')
  }
  if (finding.verdict === 'not-recorded') return false
  switch (finding.topic) {
    case 'change':
      return finding.verdict === 'regression-to-mean' || finding.cells !== undefined
    case 'kept':
      return finding.metric === 'efficiency'
    case 'play-speed':
      return finding.metric === 'clubSpeedMps'
    default:
      return false
  }
}

/**
 * What a change after an unusual baseline would have shown by itself. Only beside a change that goes the same way,
 * else there is nothing to take it off from. Carry follows ball speed, and other days' air is in it: left out.
 */
const regressionsToMean = (
  comparisons: readonly BlockComparison[],
  blocks: readonly ChangeBlock[],
  earlier: readonly ReportLesson[],
): RegressionToMeanReport[] => {
  const baseline = blocks.find((block) => block.isBaseline) ?? blocks[0]
  const changed = comparisons.flatMap((c) =>
    c.metrics
      .filter((row) => row.verdict === 'changed' && row.metric !== 'carryM' && row.metric !== 'totalM')
      .map((row) => ({ club: c.club, metric: row.metric, difference: row.difference! })),
  )
  const seen = new Set<string>()
  return changed.flatMap(({ club, metric, difference }) => {
    if (seen.has(metric) || baseline === undefined) return []
    seen.add(metric)
    const history = earlier.flatMap((lesson) => onlyClub(lesson.blocks.map(changeBlock), club).blocks)
    const found = regressionToMeanReport({ history, baseline: onlyClub([baseline], club).blocks[0]!, metric })
    return found.expectedChange !== null && found.expectedChange * difference > 0 ? [found] : []
  })
}

/**
 * Everything that is computed about one lesson: each shot, each block, block against baseline, the session, cues,
 * play speed, strike map, what is holding the student back, the lesson before, and the findings in words.
 * Pure; same input, same report. Sources: those of the parts.
 */
export const lessonReport = (input: ReportInput): LessonReport => {
  const { ownEfficiencies, deviceError, setupError, margins, units, cueLabels, metrics } = input
  const wording = { units, cueLabels }
  const air = airOf(input.lesson.air)
  const filled = withCarry(input.lesson, { deviceError })
  const lesson = filled.lesson
  // Another day, another air: carries of two lessons are compared in standard air.
  const before = input.earlier.at(-1)
  const previous = before && withCarry(before, { deviceError, inStandardAir: true }).lesson
  const current = before ? withCarry(input.lesson, { deviceError, inStandardAir: true }).lesson : lesson
  const given = new Map(input.lesson.blocks.flatMap((b) => b.shots.map((s) => [s.id, s])))
  const blocks = lesson.blocks.map(changeBlock)
  const noise = { deviceError, setupError }

  const shots = lesson.blocks.flatMap((block) =>
    block.shots.map((shot): ShotNumbers => ({
      shotId: shot.id,
      blockId: block.id,
      club: shot.club,
      isLeftOut: shot.isLeftOut,
      carry: carryOf({ ...given.get(shot.id), club: shot.club }, { air, error: deviceError }),
      ...strikeReport(shot, {
        ownEfficiencies: ownEfficiencies[shot.club ?? ''] ?? [],
        error: deviceError,
        air,
      }),
    })),
  )

  const { comparisons, spreads, session, cues, playSpeed, strikeMap, measures } = underOneBudget({
    comparisons: compareToBaseline({ blocks, metrics, options: { ...noise, margins } }),
    spreads: compareSpreads(pairsWithBaseline(blocks), metrics),
    session: sessionReport({ blocks, metrics, options: { ...noise, margins } }),
    cues: cueReport({ blocks, metrics: metrics ?? ['clubSpeedMps', 'efficiency'], options: noise }),
    playSpeed: playSpeedReport({ blocks, options: noise }),
    strikeMap: strikeMapReport({
      blocks,
      options: { earlier: input.earlier.flatMap((l) => l.blocks.map(changeBlock)) },
    }),
    measures: measuresReport(lesson.blocks, input.measured ?? []),
  })
  const bounces = regressionsToMean(comparisons, blocks, input.earlier)
  const club = mostHitClub(blocks) ?? null
  const chosen = blockForHoldingBack(lesson.blocks, club)
  const held =
    chosen && chosen.shots.length > 0
      ? {
          blockLabel: chosen.block.label,
          ...holdingBack(chosen.shots, {
            generator: mersenneGenerator(generatorStart),
            ownEfficiencies: ownEfficiencies[club ?? ''] ?? [],
            error: deviceError,
            air,
            system: units,
            ...(margins.efficiency === undefined ? {} : { strikeMargin: margins.efficiency }),
          }),
        }
      : null
  const kept = previous
    ? lessonAgainstLesson({
        previous: changeLesson(previous),
        current: changeLesson(current),
        metrics,
        options: { ...noise, margins },
      })
    : null

  const leak = held?.isStrikeFirst
    ? 'strike-first'
    : held?.verdict === 'cannot-tell'
      ? null
      : (held?.verdict ?? null)
  // A lesson in steps is asked block by block; a single run, whether and where its level moved.
  const hasSteps = comparisons.some((c) => c.metrics.some((row) => row.p !== null))
  const isInSession = (finding: Finding) =>
    finding.metric === null || session.metrics.some((m) => m.metric === finding.metric && m.reason === null)
  const all: { findings: (Finding | null)[]; place: string }[] = [
    // What was not recorded at all is said once, of the session.
    ...comparisons.map((c) => ({
      findings: comparisonFindings(c, wording).filter(isInSession),
      place: c.after,
    })),
    {
      findings: bounces.map((bounce) => regressionToMeanFinding(bounce, wording)),
      place: 'regression-to-mean',
    },
    ...(kept
      ? [{ findings: lessonFindings(kept, wording).filter(isInSession), place: kept.previous.label }]
      : []),
    ...(playSpeed.n > 0
      ? [{ findings: playSpeedFindings(playSpeed, wording, { leak }), place: clubWords(playSpeed.club) }]
      : []),
    ...spreads.map((s) => ({ findings: spreadFindings(s), place: `${s.after} scatter` })),
    {
      findings: sessionFindings(session, wording).filter((f) => !hasSteps || f.verdict === 'not-recorded'),
      place: 'session',
    },
    { findings: cueFindings(cues, wording), place: 'cues' },
    // Without a single strike on the face there is nothing to say about the face.
    ...(strikeMap.n > 0 ? [{ findings: strikeFindings(strikeMap), place: 'face' }] : []),
    // Of the pictures only what is sure is said; the rest stands as numbers in the Ledger.
    ...(measures
      ? [
          ...measures.comparisons.map((c) => ({
            findings: comparisonFindings(c, wording).filter((f) => f.isSure),
            place: `pictures ${c.after}`,
          })),
          {
            findings: cueFindings(measures.cues, wording).filter((f) => f.isSure),
            place: 'pictures and cues',
          },
        ]
      : []),
  ]
  const hasShots = shots.some((shot) => !shot.isLeftOut)
  return {
    units,
    shots,
    blocks: blockNumbers(lesson.blocks),
    comparisons,
    spreads,
    regressionsToMean: bounces,
    session,
    cues,
    playSpeed,
    strikeMap,
    holdingBack: held,
    kept,
    computedCarryClubs: filled.computedClubs,
    measures,
    readingNotes: readingNotes(input.lesson),
    // Without shots nothing is claimed, not even that something can't be told.
    findings: hasShots
      ? keyed([
          ...(held ? [{ finding: heldFinding(held), key: 'holding-back' }] : []),
          ...all.flatMap(({ findings, place }) =>
            findings
              .filter((finding) => finding !== null)
              .map((finding) => ({
                finding: { ...sayComputed(finding, filled.computedClubs), isMain: isMainFinding(finding) },
                key: [finding.topic, place, aspectOf(finding), finding.metric ?? 'all']
                  .filter(Boolean)
                  .join(':'),
              })),
          ),
        ])
      : [],
  }
}

/**
 * Three things are said of each metric of a session; which one it is belongs to the key, what came out does not. What is
 * said of several metrics together goes by what came out.
 */
const aspectOf = ({ topic, metric, verdict }: Finding): string =>
  topic === 'session' ? verdict.split('-')[0]! : metric === null ? verdict : ''

const sayComputed = (finding: Finding, computed: readonly (string | null)[]): Finding =>
  finding.metric !== 'carryM' || computed.length === 0 ? finding : withComputedCarry(finding, computed)

const withComputedCarry = (finding: Finding, computed: readonly (string | null)[]): Finding => {
  const { words } = finding
  const howWeKnow = {
    ...words.howWeKnow,
    data: phrase('lesson.computedCarry', {
      data: words.howWeKnow.data,
      clubs: commas(...computed.map((club) => phrase('text.club', { club: clubWords(club) }))),
    }),
  }
  return { ...finding, words: { ...words, howWeKnow }, howWeKnow: sayHowWeKnow(howWeKnow) }
}

const heldFinding = (held: HoldingBack & { blockLabel: string }): Omit<KeyedFinding, 'key'> => ({
  topic: 'holding-back',
  metric: null,
  verdict: held.verdict,
  sentence: held.sentence,
  howSure: held.howSure,
  words: held.words,
  isSure: held.verdict !== 'cannot-tell',
  isMain: true,
  howWeKnow: held.howWeKnow,
  caution: held.caution,
  kind: `holding-back-${held.suspicion ?? (held.isStrikeFirst ? 'strike-first' : held.verdict)}`,
  values: {
    club: held.club,
    block: held.blockLabel,
    efficiency: held.today?.efficiency ?? null,
    withinReach: held.strike?.efficiency ?? null,
    strikeGainM: held.strike?.gainM ?? null,
    speedGainM: held.speed?.gainM ?? null,
    clubSpeedGainMps: held.speed?.clubSpeedGainMps ?? null,
    shotsNeeded: held.shotsNeeded,
  },
})

/** Two findings may speak of the same thing; the second gets a number. */
const keyed = (list: { finding: Omit<KeyedFinding, 'key'>; key: string }[]): KeyedFinding[] => {
  const seen = new Map<string, number>()
  return list.map(({ finding, key }) => {
    const times = (seen.get(key) ?? 0) + 1
    seen.set(key, times)
    return { ...finding, key: times === 1 ? key : `${key}#${times}` }
  })
}
