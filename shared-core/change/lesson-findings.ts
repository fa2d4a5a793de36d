import type { Finding } from './finding.ts'
import type { LessonAgainstLesson, RetentionMetric } from './lesson-against-lesson.ts'
import {
  assumedError,
  capital,
  clubPhrase,
  leftOutWords,
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
  return report.metrics.map((row) => ({
    topic: 'kept',
    metric: row.metric,
    verdict: row.verdict,
    ...keptWords(row, wording),
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
  }))
}

function keptWords(row: RetentionMetric, wording: Wording): { sentence: string; howSure: string } {
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
      return {
        sentence: `${capital(what)} had no clear gain last lesson, so there is nothing to keep or lose.`,
        howSure:
          row.gainCi95 === null
            ? 'No clear gain.'
            : `Gain ${range(row.metric, row.gainCi95, wording, { signed: true })} (95 % interval).`,
      }
    case 'too-few':
      return {
        sentence: `${capital(what)}: too few shots to say what was kept (${row.n.join(', ')}; 8 in each block are needed).`,
        howSure: "Can't tell yet.",
      }
  }
}
