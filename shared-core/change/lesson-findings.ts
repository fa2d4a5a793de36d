import { sayFinding, type Finding, type FindingInWords } from './finding.ts'
import type { LessonAgainstLesson, RetentionMetric } from './lesson-against-lesson.ts'
import { capital, phrase, semicolons, type Word } from '../wording/phrase.ts'
import {
  clubPhrase,
  leftOutData,
  moreOrLess,
  name,
  names,
  nothingDone,
  notRecorded,
  percent,
  quoted,
  range,
  sdOfInterval,
  size,
  withAssumedError,
} from './words.ts'
import type { Wording } from './words.ts'

/** Sentences about what is left of last lesson's gain. */
export function lessonFindings(report: LessonAgainstLesson, wording: Wording): Finding[] {
  if (!report.isComparable) {
    return [
      sayFinding({
        topic: 'kept',
        metric: null,
        verdict: 'not-comparable',
        sentence: phrase('kept.notComparable', {
          previous: quoted(report.previous.label),
          current: quoted(report.current.label),
        }),
        howSure: phrase('sure.notCompared'),
        isSure: false,
        howWeKnow: { data: leftOutData(report.leftOut), ...nothingDone },
        caution: null,
      }),
    ]
  }
  const shared = (['gain-not-clear', 'too-few'] as const).map((verdict) =>
    report.metrics.filter((row) => row.verdict === verdict && row.reason !== 'no-data'),
  )
  const single = report.metrics.filter((row) => !shared.flat().includes(row))
  return [
    ...single.map((row) => finding([row], report, keptWords(row, wording))),
    ...shared
      .filter((rows) => rows.length > 0)
      .map((rows) => finding(rows, report, sharedWords(rows, wording))),
  ]
}

type Said = Pick<FindingInWords, 'sentence' | 'howSure'>

function finding(rows: readonly RetentionMetric[], report: LessonAgainstLesson, said: Said): Finding {
  const [row] = rows as [RetentionMetric]
  const compared = {
    club: capital(clubPhrase(report.club)),
    n: row.n[0],
    first: quoted(report.previous.first ?? ''),
    m: row.n[1],
    last: quoted(report.previous.last ?? ''),
    day: report.previous.date,
    k: row.n[2],
    now: quoted(report.current.first ?? ''),
    today: report.current.date,
  }
  const { warmUpShots } = report
  return sayFinding({
    topic: 'kept',
    metric: rows.length === 1 ? row.metric : null,
    verdict: row.reason === 'no-data' ? 'not-recorded' : row.verdict,
    ...said,
    isSure: row.verdict === 'kept' || row.verdict === 'lost',
    howWeKnow: {
      data:
        warmUpShots > 0
          ? phrase('kept.dataWarmUp', { ...compared, warmUp: warmUpShots })
          : phrase('kept.data', compared),
      method: phrase('kept.method'),
      source: withAssumedError('Fieller 1954; Kantak & Winstein 2012'),
    },
    caution: null,
  })
}

/** What is true of several numbers alike is said of them together. */
function sharedWords(rows: readonly RetentionMetric[], wording: Wording): Said {
  const what = capital(names(rows.map((row) => row.metric)))
  if (rows[0]!.verdict === 'too-few') {
    return { sentence: phrase('kept.tooFew', { what }), howSure: phrase('sure.cannotTellYet') }
  }
  const gains = rows.flatMap((row) =>
    row.gainCi95 === null
      ? []
      : [
          phrase('kept.gainOf', {
            metric: name(row.metric),
            range: range(row.metric, row.gainCi95, wording, { signed: true }),
          }),
        ],
  )
  return {
    sentence: phrase('kept.noGain', { what }),
    howSure:
      gains.length === 0
        ? phrase('kept.noClearGain')
        : phrase('kept.noneClear', { gains: semicolons(...gains) }),
  }
}

/** How much of the gain is left: "about 60 % of it (95 % interval 20 % to 100 %)". */
function shareWords({ retained, ci95 }: RetentionMetric): Word {
  if (retained === null) return ''
  const share =
    retained > 1 ? phrase('kept.all') : phrase('kept.about', { share: percent(Math.max(0, retained)) })
  return ci95 === null
    ? share
    : phrase('kept.interval', { share, low: percent(ci95[0]), high: percent(ci95[1]) })
}

function keptWords(row: RetentionMetric, wording: Wording): Said {
  if (row.n.every((n) => n === 0)) {
    return { sentence: notRecorded(row.metric), howSure: phrase('sure.notRecorded') }
  }
  const what = capital(name(row.metric))
  const gain = row.gain === null ? '' : size(row.metric, row.gain, wording, sdOfInterval(row.gainCi95))
  const way = row.gain === null ? '' : moreOrLess(row.metric, row.gain)
  const share = shareWords(row)
  switch (row.verdict) {
    case 'kept':
      return {
        sentence: phrase('kept.stillThere', { what, gain, way, share }),
        howSure: phrase('kept.halfKept'),
      }
    case 'lost':
      return {
        sentence: phrase('kept.mostGone', { what, gain, way, share }),
        howSure: phrase('kept.lessKept'),
      }
    case 'cannot-tell':
      return {
        sentence: phrase('kept.cannotTell', { what, gain, way }),
        howSure: phrase('kept.cannotTellYet', { share }),
      }
    case 'within-setup-error':
      return {
        sentence: phrase('kept.withinSetUp', {
          what,
          gain,
          way,
          floor: size(row.metric, row.setupFloor, wording),
        }),
        howSure: phrase('kept.setUpError'),
      }
    case 'gain-not-clear':
    case 'too-few':
      return sharedWords([row], wording)
  }
}
