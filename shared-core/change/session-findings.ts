import type { Finding } from './finding.ts'
import { fewestToPlace } from './session-report.ts'
import type { Drift, SessionMetric, SessionReport } from './session-report.ts'
import {
  capital,
  clubPhrase,
  count,
  cueWords,
  list,
  moreOrLess,
  name,
  notRecorded,
  pWords,
  quoted,
  range,
  sdOfInterval,
  size,
} from './words.ts'
import type { Wording } from './words.ts'

/** Sentences about one session: was the baseline settled, where did the level change, did the later half sink. */
export function sessionFindings(report: SessionReport, wording: Wording): Finding[] {
  return report.metrics.flatMap((row) =>
    row.reason === 'no-data'
      ? [
          finding(
            row,
            report,
            'not-recorded',
            notRecorded(row.metric),
            'Not recorded.',
            false,
            '',
            'None.',
            'none',
          ),
        ]
      : [warmUp(row, report, wording), levelChange(row, report, wording), laterHalf(row, report, wording)],
  )
}

function finding(
  row: SessionMetric,
  report: SessionReport,
  verdict: string,
  sentence: string,
  howSure: string,
  isSure: boolean,
  data: string,
  method: string,
  source: string,
): Finding {
  const club = `${capital(clubPhrase(report.club))}, ${count(report.shots, 'shot')} of the session`
  return {
    topic: 'session',
    metric: row.metric,
    verdict,
    sentence,
    howSure,
    isSure,
    howWeKnow: { data: data === '' ? `${club}.` : `${club}; ${data}.`, method, source },
    caution: null,
  }
}

const trendMethod =
  'Median of all pairwise slopes with its 95 % interval (Theil-Sen, Sen), times the number of steps.'
const trendSource = 'Sen 1968; Mann 1945; Kendall 1975'

const driftData = (row: SessionMetric, drift: Drift, wording: Wording): string =>
  `${count(drift.n, 'shot')}, ` +
  (drift.ci95 === null
    ? 'too few for an interval'
    : `drift ${range(row.metric, drift.ci95, wording, { signed: true })} (95 %), ${pWords(drift.p)}`)

function warmUp(row: SessionMetric, report: SessionReport, wording: Wording): Finding {
  const what = name(row.metric)
  const block = quoted(report.baselineLabel ?? 'the first block')
  const { drift, ci95, state } = row.baseline
  const sd = sdOfInterval(ci95)
  const sentences: Record<Drift['state'], [string, string, boolean]> = {
    settled: [
      `${capital(what)} had settled in ${block}: from its first to its last shot it moved less than ${size(row.metric, row.margin, wording)}.`,
      'Sure within that margin (95 % interval inside it).',
      true,
    ],
    'still-moving': [
      `${capital(what)} was still moving in ${block}: ${size(row.metric, drift ?? 0, wording, sd)} ` +
        `${moreOrLess(row.metric, drift ?? 0)} from its first to its last shot (95 % interval ` +
        `${ci95 === null ? '' : range(row.metric, ci95, wording, { signed: true })}). Compare with its later half too.`,
      'Clear: the interval leaves out 0.',
      true,
    ],
    'cannot-tell': [
      `Can't tell whether ${what} had settled in ${block}.`,
      "Can't tell: the scatter of so few shots hides a drift.",
      false,
    ],
    'too-few': [
      `Too few shots with ${what} in ${block} (${row.baseline.n}) to see whether it had settled.`,
      "Can't tell: at least 5 shots are needed, 10 are useful.",
      false,
    ],
  }
  const [sentence, howSure, isSure] = sentences[state]
  const data = driftData(row, row.baseline, wording)
  return finding(row, report, `baseline-${state}`, sentence, howSure, isSure, data, trendMethod, trendSource)
}

function levelChange(row: SessionMetric, report: SessionReport, wording: Wording): Finding {
  const what = name(row.metric)
  const found = row.levelChange
  const method =
    'Whether: rank test for one change of level, p by shuffling (Pettitt), adjusted with the session’s other tests ' +
    '(Holm). Where: probability of each place, range that holds 90 %.'
  const source = 'Pettitt 1979; Phipson & Smyth 2010; Smith 1975; Holm 1979'
  const data = `${count(found.n, 'reading')}, ${pWords(found.p)}, adjusted ${pWords(found.pAdjusted)}`
  const say = (verdict: string, sentence: string, howSure: string, isSure: boolean): Finding =>
    finding(row, report, verdict, sentence, howSure, isSure, data, method, source)
  if (found.state === 'too-few') {
    return say(
      'level-too-few',
      `${capital(what)}: ${count(found.n, 'shot')} are too few to place a change inside the session.`,
      `Can't tell: at least ${fewestToPlace} shots are needed.`,
      false,
    )
  }
  if (found.state === 'no-spread') {
    return say('level-no-spread', `${capital(what)}: all readings are alike.`, "Can't tell.", false)
  }
  if (found.state === 'steady' || found.shotsBefore === null) {
    return say(
      'level-steady',
      `No change of level in ${what} can be shown inside the session.`,
      'That is not proof that nothing changed.',
      false,
    )
  }
  const step = `${size(row.metric, found.step!, wording)} ${moreOrLess(row.metric, found.step!)}`
  if (found.isAlsoTrend) {
    const way = found.step! > 0 ? 'rose' : 'fell'
    return say(
      'level-trend',
      `${capital(what)} ${way} during the session; the later part was ${step}. It looks like a slope rather than a step.`,
      'Clear that it moved; not where.',
      true,
    )
  }
  const place = found.isPlaceVague
    ? 'somewhere in the middle of the session'
    : found.from === found.to
      ? `after shot ${found.from}`
      : `between shot ${found.from} and shot ${found.to! + 1}`
  const block =
    found.startingBlock !== null && !found.isPlaceVague
      ? ` It came with the start of ${quoted(found.startingBlock)}.`
      : found.blocks.length > 0 && !found.isPlaceVague
        ? ` That is in ${list(found.blocks.map(quoted))}.`
        : ''
  const cues =
    found.startingCues.length > 0 && !found.isPlaceVague
      ? ` First tagged there: ${list(found.startingCues.map((cue) => cueWords(cue, wording)))}.`
      : ''
  return say(
    'level-changed',
    `${capital(what)} changed its level ${place}: ${step} from there on.${block}${cues}`,
    `Clear that it changed; the place is a range that holds 90 %.`,
    true,
  )
}

function laterHalf(row: SessionMetric, report: SessionReport, wording: Wording): Finding {
  const what = name(row.metric)
  const { drift, ci95, state } = row.laterHalf
  const data = driftData(row, row.laterHalf, wording)
  const say = (sentence: string, howSure: string, isSure: boolean): Finding =>
    finding(row, report, `later-${state}`, sentence, howSure, isSure, data, trendMethod, trendSource)
  switch (state) {
    case 'still-moving': {
      const by = size(row.metric, drift!, wording, sdOfInterval(ci95))
      const falls = drift! < 0
      return say(
        `In the later half of the session ${what} got ${by} ${moreOrLess(row.metric, drift!)}.` +
          (falls
            ? ' Tiredness is one possible reason, a new focus another; a rest and a few shots more would show.'
            : ''),
        'Clear that it moved, not why.',
        true,
      )
    }
    case 'settled':
      return say(
        `In the later half of the session ${what} held its level within ${size(row.metric, row.margin, wording)}.`,
        'Sure within that margin (95 % interval inside it).',
        true,
      )
    case 'cannot-tell':
      return say(
        `Can't tell whether ${what} held its level in the later half of the session.`,
        "Can't tell: the scatter hides a drift.",
        false,
      )
    case 'too-few':
      return say(
        `Too few shots with ${what} in the later half of the session to look for tiredness.`,
        "Can't tell: at least 10 shots are needed there.",
        false,
      )
  }
}
