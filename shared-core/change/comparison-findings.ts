import type { BlockComparison, MetricComparison } from './compare-blocks.ts'
import { comparisonCells, minForALevel, isSureChange, openToDrift, tradeOffOf } from './comparison-cells.ts'
import type { TradeOff } from './comparison-cells.ts'
import { sayFinding, type Finding, type FindingInWords } from './finding.ts'
import { andList, capital, commas, phrase, semicolons, sentences, type Word } from '../wording/phrase.ts'
import {
  adjustedP,
  assumedError,
  clubPhrase,
  count,
  isNothing,
  leftOutData,
  leftOutWords,
  level,
  moreOrLess,
  name,
  names,
  nothingDone,
  notRecorded,
  quoted,
  range,
  sdOfInterval,
  signed,
  size,
  spanWords,
} from './words.ts'
import type { Wording } from './words.ts'
import type { ShownMetric } from '../units.ts'

/**
 * What a comparison of two blocks says: one finding with a cell a metric, and one for clubs that could not be compared. The
 * words are "came with", never "because of": one block after another cannot tell the cue from practice, tempo or wind.
 */
export function comparisonFindings(report: BlockComparison, wording: Wording): Finding[] {
  if (!report.isComparable) return [notComparable(report)]
  const finding = comparisonFinding(report, wording)
  return report.leftOut.length > 0 ? [finding, clubFinding(report)] : [finding]
}

type Words = Pick<FindingInWords, 'sentence' | 'howSure'>

function comparisonFinding(report: BlockComparison, wording: Wording): Finding {
  const said = saidOf(report)
  return sayFinding({
    topic: 'change',
    metric: report.metrics.length === 1 ? report.metrics[0]!.metric : null,
    verdict: said,
    ...wordsOf(said, report, wording),
    // A difference that a drift could make is there, but what it came with is not sure.
    isSure: (said === 'traded' || said === 'changed') && openToDrift(report).length === 0,
    howWeKnow: {
      data: dataWords(report, wording),
      method: report.metrics.every((row) => row.p === null)
        ? phrase('compare.nothingDone')
        : methodWords(report),
      source: phrase('compare.drift', {
        publications: 'Hodges & Lehmann 1963; Wilcoxon 1945 (exact); Bretz et al. 2009',
        error: assumedError,
      }),
    },
    caution: null,
    kind: `comparison-${said}`,
    values: {
      before: report.before,
      after: report.after,
      club: report.club,
      isEarlier: report.isEarlier,
      returnBlock: report.returnBlock,
    },
    cells: comparisonCells(report),
  })
}

/** What a comparison has to say, the weightiest thing first. */
type Said =
  | 'traded'
  | 'changed'
  | 'first-impression'
  | 'no-visible-change'
  | 'cannot-tell'
  | 'too-few'
  | 'no-spread'
  | 'not-recorded'

const isRecorded = (row: MetricComparison): boolean => row.reason !== 'no-data'

function saidOf(report: BlockComparison): Said {
  const rows = report.metrics.filter(isRecorded)
  if (rows.length === 0) return 'not-recorded'
  if (tradeOffOf(report) !== null) return 'traded'
  if (rows.some(isSureChange)) return 'changed'
  if (rows.some((row) => row.verdict === 'changed')) return 'first-impression'
  for (const verdict of ['too-few', 'no-spread'] as const) {
    if (rows.every((row) => row.verdict === verdict)) return verdict
  }
  const isSame = rows.every(
    (row) => row.verdict === 'no-visible-change' || row.verdict === 'too-small-to-matter',
  )
  return isSame ? 'no-visible-change' : 'cannot-tell'
}

function wordsOf(said: Said, report: BlockComparison, wording: Wording): Words {
  const rows = report.metrics.filter(isRecorded)
  const [first] = report.metrics
  const [before, after] = [quoted(report.before), quoted(report.after)]
  const blocks = phrase('text.blocks', { before, after })
  const rest = [...othersWords(rows, report, wording), missingWords(report), moreShots(rows, wording)]
  switch (said) {
    case 'not-recorded': {
      const howSure = phrase('sure.notRecorded')
      if (first && first.before.n + first.after.n > 0) {
        const what = capital(names(report.metrics.map((row) => row.metric)))
        return { sentence: phrase('compare.noReadings', { what, blocks }), howSure }
      }
      return {
        sentence:
          report.metrics.length === 1
            ? notRecorded(first!.metric)
            : phrase('compare.nothingToCompare', { blocks }),
        howSure,
      }
    }
    case 'traded':
      return {
        sentence: sentences(
          tradedWords(tradeOffOf(report)!, report, wording),
          cameWith(report, wording),
          ...rest,
        ),
        howSure: sureWords(report),
      }
    case 'changed':
      return {
        sentence: sentences(changedWords(rows, report, wording), cameWith(report, wording), ...rest),
        howSure: sureWords(report),
      }
    case 'first-impression': {
      const row = rows.find((each) => each.verdict === 'changed')!
      const small = row.before.n <= row.after.n ? row.before : row.after
      const impression = phrase('compare.firstImpression', { n: small.n, block: quoted(small.label) })
      return {
        sentence: sentences(
          phrase('compare.looks', {
            what: capital(name(row.metric)),
            by: size(row.metric, row.difference!, wording, sdOfInterval(row.interval)),
            way: moreOrLess(row.metric, row.difference!),
            after,
            before,
            impression,
          }),
          phrase('compare.hitMore'),
        ),
        howSure: phrase('compare.notYetSure', { impression }),
      }
    }
    case 'too-few': {
      const row = rows[0]!
      const shots = { shots: count(row.before.n, 'shot'), other: row.after.n }
      return {
        sentence: sentences(phrase('compare.tooFew', { blocks, ...shots }), missingWords(report)),
        howSure: phrase('compare.chanceAlone'),
      }
    }
    case 'no-spread':
      return {
        sentence: phrase('compare.alike', { what: names(rows.map((row) => row.metric)), blocks }),
        howSure: phrase('sure.fewDigits'),
      }
    case 'no-visible-change':
      return {
        sentence: sentences(
          phrase('compare.nothingChanged', {
            before,
            after,
            what: andList(rows.map((row) => sameWords(row, wording))),
          }),
          missingWords(report),
        ),
        howSure: phrase('compare.insideMargin'),
      }
    case 'cannot-tell': {
      const clear = rows.filter(isClearAlone).length
      return {
        sentence: sentences(phrase('compare.cannotTell', { after, before }), ...rest),
        howSure:
          clear > 0
            ? phrase('compare.clearAlone', { n: clear, all: report.lookedAt })
            : phrase('compare.hidden'),
      }
    }
  }
}

/** "1.9 to 4.2 mph faster (about 3.1)": the interval first, since what passes for sure is on the lucky side. */
function byWords(row: MetricComparison, wording: Wording): Word {
  const { metric, difference, interval } = row
  const ends = interval!.map(Math.abs).sort((a, b) => a - b) as [number, number]
  const sd = sdOfInterval(interval)
  const by = size(metric, difference!, wording, sd)
  const about = typeof by === 'string' ? by.replace(/\s.*$/, '') : by
  const way = moreOrLess(metric, difference!)
  // An end that rounds to nothing would say that there may be no difference.
  return isNothing(metric, ends[0], wording, sd)
    ? phrase('compare.upTo', { by: size(metric, ends[1], wording, sd), way, about })
    : phrase('compare.between', { range: range(metric, ends, wording), way, about })
}

const placeWords = (report: BlockComparison): Word =>
  report.isEarlier
    ? phrase('compare.inEarlier', { after: quoted(report.after), before: quoted(report.before) })
    : phrase('compare.in', { after: quoted(report.after) })

function changedWords(rows: readonly MetricComparison[], report: BlockComparison, wording: Wording): Word {
  const changes = rows.filter(isSureChange).map((row, i) =>
    phrase(i === 0 ? 'compare.metricWas' : 'compare.metricBy', {
      metric: name(row.metric),
      by: byWords(row, wording),
    }),
  )
  return phrase('compare.changed', {
    where: placeWords(report),
    changes: andList(changes),
    before: quoted(report.before),
  })
}

function tradedWords(traded: TradeOff, report: BlockComparison, wording: Wording): Word {
  const row = (metric: string) => report.metrics.find((each) => each.metric === metric)!
  const ball =
    traded.ballMps === null
      ? phrase('compare.ballNotRecorded')
      : traded.gainedNothing
        ? phrase('compare.ballNothing', {
            range: range('ballSpeedMps', traded.ballInterval!, wording, { signed: true }),
          })
        : phrase('compare.ballOnly', { range: range('ballSpeedMps', traded.ballInterval!, wording) })
  return phrase('compare.traded', {
    where: placeWords(report),
    speed: byWords(row('clubSpeedMps'), wording),
    before: quoted(report.before),
    efficiency: byWords(row('efficiency'), wording),
    ball,
    alike: size('ballSpeedMps', traded.ballIfStruckAlikeMps, wording),
  })
}

/** What the change came with, and what else may be behind it. */
function cameWith(report: BlockComparison, wording: Wording): Word {
  const open = openToDrift(report)
  const back = report.returnBlock
  const whatOf = (rows: readonly MetricComparison[]) => names(rows.map((row) => row.metric))
  if (back !== null) {
    const block = quoted(back)
    const stayed = open.filter((row) => row.goingBack?.verdict === 'stayed')
    if (open.length === 0) return phrase('compare.backTookAway', { block })
    if (stayed.length > 0) return phrase('compare.backStayed', { block, what: whatOf(stayed) })
    return phrase('compare.backOpen', { block })
  }
  if (open.length === 0) {
    return report.isEarlier
      ? phrase('compare.soBefore', { before: quoted(report.before) })
      : phrase('compare.cameWith', { after: quoted(report.after) })
  }
  const likely = open.filter((row) => row.drift?.isLikely)
  const isLikely = likely.length > 0
  const what = whatOf(isLikely ? likely : open)
  const part = driftPart(likely[0] ?? open[0]!, wording)
  return part === null
    ? phrase(isLikely ? 'compare.driftLikely' : 'compare.driftOpen', { what })
    : phrase(isLikely ? 'compare.driftLikelyPart' : 'compare.driftOpenPart', { what, part })
}

/** How much of the difference the slope inside the blocks could make; null where it goes the other way. */
function driftPart(row: MetricComparison, wording: Wording): Word | null {
  if (row.drift === null) return null
  const most = Math.max(...row.drift.ci90.map((end) => end * Math.sign(row.difference!)))
  if (most <= 0) return null
  return most >= Math.abs(row.difference!) ? phrase('compare.all') : size(row.metric, most, wording)
}

/** The difference would count if it were the only number looked at; among several it does not. */
const isClearAlone = (row: MetricComparison): boolean =>
  row.verdict === 'cannot-tell' && row.interval !== null && row.interval[0] * row.interval[1] > 0

const sameWords = (row: MetricComparison, wording: Wording): Word => {
  const metric = name(row.metric)
  const margin = size(row.metric, row.margin, wording)
  return row.verdict === 'no-visible-change'
    ? phrase('compare.within', { metric, margin })
    : phrase('compare.lessThan', {
        metric,
        by: size(row.metric, row.difference!, wording),
        way: moreOrLess(row.metric, row.difference!),
        margin,
      })
}

/** What follows from club speed and efficiency. */
const follows: readonly ShownMetric[] = ['ballSpeedMps', 'carryM', 'totalM']

const looksWords = (rows: readonly MetricComparison[], but: Word, wording: Wording): Word | null => {
  if (rows.length === 0) return null
  const looks = rows.map((row) =>
    phrase('compare.metricLooks', { metric: name(row.metric), by: byWords(row, wording) }),
  )
  return phrase('compare.looksAlone', { what: capital(andList(looks)), but })
}

/** Why a difference that looks clear by itself is not counted. */
function chanceWords(rows: readonly MetricComparison[], report: BlockComparison): Word {
  const smallest = Math.min(...rows.flatMap(({ before, after }) => [before.n, after.n]))
  return smallest < minForALevel
    ? phrase('compare.butTooFew', { n: smallest })
    : phrase('compare.butByChance', { all: report.lookedAt })
}

/** What the other numbers say, each in a few words. */
function othersWords(
  rows: readonly MetricComparison[],
  report: BlockComparison,
  wording: Wording,
): (Word | null)[] {
  const others = rows.filter((row) => !isSureChange(row) && row.verdict !== 'changed')
  const clear = others.filter(isClearAlone)
  const sure = rows.filter(isSureChange)
  const fitting = clear.filter(
    (row) => follows.includes(row.metric) && sure.some((each) => each.difference! * row.difference! > 0),
  )
  const open = others.filter((row) => row.verdict === 'cannot-tell' && !isClearAlone(row))
  const small = others.filter(
    (row) => row.verdict === 'no-visible-change' || row.verdict === 'too-small-to-matter',
  )
  const within = others.filter((row) => row.verdict === 'within-device-error')
  const isOnly = others.length === rows.length
  const what = (some: readonly MetricComparison[], say: (row: MetricComparison) => Word) => ({
    what: andList(some.map(say)),
  })
  const fits = (row: MetricComparison): Word =>
    row.interval === null
      ? name(row.metric)
      : phrase('compare.fits', {
          metric: name(row.metric),
          span: spanWords(row.metric, row.interval, wording),
        })
  const device = (row: MetricComparison): Word =>
    phrase('compare.metricBy', {
      metric: name(row.metric),
      by: signed(row.metric, row.difference!, wording, sdOfInterval(row.interval)),
    })
  return [
    looksWords(fitting, phrase('compare.goesWithIt'), wording),
    looksWords(
      clear.filter((row) => !fitting.includes(row)),
      chanceWords(clear, report),
      wording,
    ),
    open.length > 0 ? phrase(isOnly ? 'compare.open' : 'compare.notClear', what(open, fits)) : null,
    small.length > 0
      ? phrase(
          'compare.muchTheSame',
          what(small, (row) => sameWords(row, wording)),
        )
      : null,
    within.length > 0 ? phrase('compare.deviceCould', what(within, device)) : null,
  ]
}

const missingWords = (report: BlockComparison): Word | null => {
  const missing = report.metrics.filter((row) => !isRecorded(row))
  return missing.length > 0
    ? phrase('compare.noReadingsOf', { what: names(missing.map((row) => row.metric)) })
    : null
}

/** How many shots would show what is still open, for the number that matters most. */
function moreShots(rows: readonly MetricComparison[], wording: Wording): Word | null {
  const row = rows.find(({ verdict, shotsNeeded }) => verdict === 'cannot-tell' && shotsNeeded !== null)
  if (!row) {
    const isOpen = rows.every(({ verdict }) => verdict === 'cannot-tell' || verdict === 'too-few')
    return isOpen ? phrase('compare.scatterTooWide') : null
  }
  const wanted = { margin: size(row.metric, row.margin, wording), metric: name(row.metric) }
  return row.shotsNeeded! <= Math.min(row.before.n, row.after.n)
    ? phrase('compare.wouldHaveShown', wanted)
    : phrase('compare.shotsWouldShow', { shots: row.shotsNeeded!, ...wanted })
}

function sureWords(report: BlockComparison): Word {
  const sure = report.metrics.filter(isSureChange)
  const why =
    report.lookedAt > 1
      ? phrase('compare.allowedFor', { all: report.lookedAt })
      : phrase('compare.largerThanScatter')
  return sentences(
    phrase(openToDrift(report).length === 0 ? 'compare.clear' : 'compare.clearDifference', { why }),
    sure.some((row) => row.lag1 >= 0.2) ? phrase('compare.resemble') : null,
    sure.some((row) => !row.isDeviceErrorKnown) ? phrase('compare.errorNotKnown') : null,
    report.sameSetup ? null : phrase('compare.placedAnew'),
  )
}

function dataWords(report: BlockComparison, wording: Wording): Word {
  const block = (row: MetricComparison, numbers: MetricComparison['before']): Word => {
    const flagged = numbers.flagged?.length ?? 0
    const extras = [
      ...(numbers.missing > 0 ? [phrase('compare.withoutReading', { n: numbers.missing })] : []),
      ...(flagged > 0 ? [phrase('compare.toLookAt', { n: flagged })] : []),
    ]
    const shots = { shots: count(numbers.n, 'shot'), block: quoted(numbers.label) }
    const text =
      numbers.median === null
        ? phrase('compare.shotsIn', shots)
        : phrase('compare.shotsInMedian', {
            ...shots,
            median: level(row.metric, numbers.median, wording, standardError(numbers)),
          })
    return extras.length > 0 ? phrase('compare.withExtras', { text, extras: commas(...extras) }) : text
  }
  const rows = report.metrics.filter(isRecorded).map((row) =>
    semicolons(
      phrase('compare.dataRow', {
        metric: capital(name(row.metric)),
        before: block(row, row.before),
        after: block(row, row.after),
      }),
      row.difference !== null && row.interval !== null
        ? phrase('compare.dataDifference', {
            range: range(row.metric, row.interval, wording, { signed: true }),
          })
        : null,
      row.p === null ? null : adjustedP(row.p, row.pAdjusted),
      row.smallestVisible === null
        ? null
        : phrase('compare.dataVisible', { by: size(row.metric, row.smallestVisible, wording) }),
    ),
  )
  return stops(capital(clubPhrase(report.club)), ...rows)
}

/** Each as a sentence of its own. */
const stops = (...texts: readonly Word[]): Word =>
  sentences(...texts.map((text) => phrase('text.stop', { text })))

const standardError = (numbers: MetricComparison['before']): number | null =>
  numbers.sd === null ? null : numbers.sd / Math.sqrt(numbers.n)

const methodWords = (report: BlockComparison): Word =>
  phrase(report.sameSetup ? 'compare.method' : 'compare.methodPlacedAnew', {
    method: report.metrics.find((row) => row.p !== null)!.method,
    all: report.lookedAt,
  })

function clubFinding(report: BlockComparison): Finding {
  const others = report.leftOut.filter(({ why }) => why === 'other-club')
  const coach = report.leftOut.filter(({ why }) => why === 'left-out-by-coach')
  return sayFinding({
    topic: 'change',
    metric: null,
    verdict: 'left-out',
    sentence: sentences(
      others.length > 0
        ? phrase('compare.onlyClub', { club: clubPhrase(report.club), others: leftOutWords(others) })
        : null,
      coach.length > 0 ? phrase('compare.notCounted', { others: leftOutWords(coach) }) : null,
    ),
    howSure: phrase('compare.clubsNotMixed'),
    isSure: false,
    howWeKnow: {
      data: leftOutData(report.leftOut),
      method: phrase('compare.sameClub'),
      source: 'common practice',
    },
    caution: null,
    kind: 'comparison-left-out',
    values: { before: report.before, after: report.after, club: report.club },
  })
}

const notComparable = (report: BlockComparison): Finding => {
  const blocks = phrase('text.blocks', { before: quoted(report.before), after: quoted(report.after) })
  return sayFinding({
    topic: 'change',
    metric: null,
    verdict: 'no-common-club',
    sentence: sentences(
      phrase('compare.noCommonClub', { blocks }),
      report.leftOut.length > 0 ? phrase('compare.thereAre', { shots: leftOutWords(report.leftOut) }) : null,
    ),
    howSure: phrase('sure.notCompared'),
    isSure: false,
    howWeKnow: { data: leftOutData(report.leftOut), ...nothingDone },
    caution: null,
    kind: 'comparison-no-common-club',
    values: { before: report.before, after: report.after },
  })
}
