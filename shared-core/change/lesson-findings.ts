import type { Finding } from './finding.ts'
import type { LessonAgainstLesson, RetentionMetric } from './lesson-against-lesson.ts'
import {
  assumedError,
  capital,
  clubPhrase,
  leftOutWords,
  list,
  moreOrLess,
  name,
  notRecorded,
  percent,
  quoted,
  range,
  sdOfInterval,
  size,
} from './words.ts'
import type { Wording } from './words.ts'

/** Sentences about what is left of last lesson's gain. */
export function lessonFindings(report: LessonAgainstLesson, wording: Wording): Finding[] {
  if (!report.isComparable) {
    return [
      {
        topic: 'kept',
        metric: null,
        verdict: 'not-comparable',
        sentence:
          `${quoted(report.previous.label)} and ${quoted(report.current.label)} can't be compared: it takes two blocks ` +
          'in the lesson before and one in this, with the same club.',
        howSure: 'Nothing was compared.',
        isSure: false,
        howWeKnow: {
          data: `${leftOutWords(report.leftOut) || 'No shots'}.`,
          method: 'None.',
          source: 'none',
        },
        caution: null,
      },
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

interface Words {
  sentence: string
  howSure: string
}

function finding(rows: readonly RetentionMetric[], report: LessonAgainstLesson, words: Words): Finding {
  const [row] = rows as [RetentionMetric]
  return {
    topic: 'kept',
    metric: rows.length === 1 ? row.metric : null,
    verdict: row.reason === 'no-data' ? 'not-recorded' : row.verdict,
    ...words,
    isSure: row.verdict === 'kept' || row.verdict === 'lost',
    howWeKnow: {
      data:
        `${capital(clubPhrase(report.club))}: ${row.n[0]} shots of ${quoted(report.previous.first ?? '')} and ` +
        `${row.n[1]} of ${quoted(report.previous.last ?? '')} (${report.previous.date}), ${row.n[2]} of ` +
        `${quoted(report.current.first ?? '')} (${report.current.date})` +
        (report.warmUpShots > 0
          ? `; the first ${report.warmUpShots} shots of each first block are warm-up`
          : '') +
        '.',
      method:
        'Share of the gain still there, with Fieller’s interval; the verdict allows for all numbers shown ' +
        '(Bonferroni) and for placing the device anew.',
      source: `Fieller 1954; Kantak & Winstein 2012; ${assumedError}`,
    },
    caution: null,
  }
}

/** What is true of several numbers alike is said of them together. */
function sharedWords(rows: readonly RetentionMetric[], wording: Wording): Words {
  const what = capital(list(rows.map((row) => name(row.metric))))
  if (rows[0]!.verdict === 'too-few') {
    return {
      sentence: `${what}: too few shots to say what was kept of last lesson (8 in each block are needed).`,
      howSure: "Can't tell yet.",
    }
  }
  const gains = rows.flatMap((row) =>
    row.gainCi95 === null
      ? []
      : [`${name(row.metric)} ${range(row.metric, row.gainCi95, wording, { signed: true })}`],
  )
  return {
    sentence: `${what}: no clear gain last lesson, so there is nothing to keep or lose.`,
    howSure:
      gains.length === 0
        ? 'No clear gain.'
        : `None is clear once all are counted; each by itself: ${gains.join('; ')} (95 % intervals).`,
  }
}

function keptWords(row: RetentionMetric, wording: Wording): Words {
  const what = name(row.metric)
  if (row.n.every((n) => n === 0)) return { sentence: notRecorded(row.metric), howSure: 'Not recorded.' }
  const gain = row.gain === null ? '' : size(row.metric, row.gain, wording, sdOfInterval(row.gainCi95))
  const way = row.gain === null ? '' : moreOrLess(row.metric, row.gain)
  const share =
    row.retained === null
      ? ''
      : (row.retained > 1 ? 'all of it or more' : `about ${percent(Math.max(0, row.retained))} of it`) +
        (row.ci95 === null ? '' : ` (95 % interval ${percent(row.ci95[0])} to ${percent(row.ci95[1])})`)
  switch (row.verdict) {
    case 'kept':
      return {
        sentence: `${capital(what)} got ${gain} ${way} last lesson, and it is still there: ${share}.`,
        howSure: 'Sure that at least half of it was kept.',
      }
    case 'lost':
      return {
        sentence: `${capital(what)} got ${gain} ${way} last lesson, and most of that is gone; what is left is ${share}.`,
        howSure: 'Sure that less than half of it was kept.',
      }
    case 'cannot-tell':
      return {
        sentence: `${capital(what)} got ${gain} ${way} last lesson; can't tell yet how much of it is still there.`,
        howSure: `Can't tell yet: ${share}.`,
      }
    case 'within-setup-error':
      return {
        sentence:
          `${capital(what)} got ${gain} ${way} last lesson, which is no more than placing the device anew could make ` +
          `(up to ${size(row.metric, row.setupFloor, wording)}), so it can't be followed from lesson to lesson.`,
        howSure: "Can't be told from the set-up's error.",
      }
    case 'gain-not-clear':
    case 'too-few':
      return sharedWords([row], wording)
  }
}
