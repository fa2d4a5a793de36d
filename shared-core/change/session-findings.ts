import type { Finding } from './finding.ts'
import { fewestToPlace } from './session-report.ts'
import type { SessionMetric, SessionReport } from './session-report.ts'
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
  size,
} from './words.ts'
import type { Wording } from './words.ts'

/** One thing said of one metric, or of several alike. */
interface Saying {
  row: SessionMetric
  verdict: string
  /** What is said of these metrics together, by their names: "club speed and efficiency". */
  sentence: (what: string) => string
  howSure: string
  isSure: boolean
  data: string
  method: string
  source: string
  /** Said once for all metrics it is true of, so that what can't be told does not fill the page. */
  isShared: boolean
}

/**
 * Sentences about one session: where did the level change. What can't be told of several metrics is said of them together.
 * Whether the baseline had settled is no finding: it changes the words of a change (drift-check.ts).
 */
export function sessionFindings(report: SessionReport, wording: Wording): Finding[] {
  const sayings = report.metrics.flatMap((row) =>
    row.reason === 'no-data' ? [notRecordedHere(row)] : [levelChange(row, wording)],
  )
  const said = new Set<string>()
  return sayings.flatMap((saying) => {
    if (!saying.isShared) return [finding([saying], report)]
    if (said.has(saying.verdict)) return []
    said.add(saying.verdict)
    return [
      finding(
        sayings.filter((other) => other.verdict === saying.verdict),
        report,
      ),
    ]
  })
}

function finding(sayings: readonly Saying[], report: SessionReport): Finding {
  const [first] = sayings as [Saying]
  const isAlone = sayings.length === 1
  const club = `${capital(clubPhrase(report.club))}, ${count(report.shots, 'shot')} of the session`
  const data = sayings
    .filter((saying) => saying.data !== '')
    .map((saying) => (isAlone ? saying.data : `${name(saying.row.metric)}: ${saying.data}`))
  return {
    topic: 'session',
    metric: isAlone ? first.row.metric : null,
    verdict: first.verdict,
    sentence: first.sentence(list(sayings.map((saying) => name(saying.row.metric)))),
    howSure: first.howSure,
    isSure: first.isSure,
    howWeKnow: { data: `${[club, ...data].join('; ')}.`, method: first.method, source: first.source },
    caution: null,
  }
}

const notRecordedHere = (row: SessionMetric): Saying => ({
  row,
  verdict: 'not-recorded',
  sentence: (what) =>
    what === name(row.metric)
      ? notRecorded(row.metric)
      : `${capital(what)} were not recorded, so nothing can be said about them.` +
        (what.includes(name('efficiency'))
          ? ' Efficiency needs club speed and ball speed of the same shot.'
          : ''),
  howSure: 'Not recorded.',
  isSure: false,
  data: '',
  method: 'None.',
  source: 'none',
  isShared: true,
})

function levelChange(row: SessionMetric, wording: Wording): Saying {
  const found = row.levelChange
  const method =
    'Whether: rank test for one change of level, p by shuffling (Pettitt), adjusted with the session’s other tests ' +
    '(Holm). Where: probability of each place, range that holds 90 %.'
  const source = 'Pettitt 1979; Phipson & Smyth 2010; Smith 1975; Holm 1979'
  const data = `${count(found.n, 'reading')}, ${pWords(found.p)}, adjusted ${pWords(found.pAdjusted)}`
  const say = (
    verdict: string,
    sentence: Saying['sentence'],
    howSure: string,
    { isSure }: { isSure: boolean },
  ): Saying => ({ row, verdict, sentence, howSure, isSure, data, method, source, isShared: !isSure })
  if (found.state === 'too-few') {
    return say(
      'level-too-few',
      (what) => `Too few shots to say whether and where ${what} changed inside the session.`,
      `Can't tell: at least ${fewestToPlace} shots are needed.`,
      { isSure: false },
    )
  }
  if (found.state === 'no-spread') {
    return say(
      'level-no-spread',
      (what) => `All readings of ${what} are alike, so no change can be placed.`,
      "Can't tell: the device gives too few digits.",
      { isSure: false },
    )
  }
  if (found.state === 'steady' || found.shotsBefore === null) {
    return say(
      'level-steady',
      (what) => `Shot by shot, no step in ${what} stands out.`,
      'That is not proof that nothing changed.',
      { isSure: false },
    )
  }
  const step = `${size(row.metric, found.step!, wording)} ${moreOrLess(row.metric, found.step!)}`
  if (found.isAlsoTrend) {
    const way = found.step! > 0 ? 'rose' : 'fell'
    return say(
      'level-trend',
      (what) =>
        `${capital(what)} ${way} bit by bit during the session, more like a slope than a step: the later part was ${step}.`,
      'Clear that it moved; not where.',
      { isSure: true },
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
    (what) => `${capital(what)} changed ${place}: ${step} from there on.${block}${cues}`,
    'Clear that it changed; the true place lies in that range with 90 %.',
    { isSure: true },
  )
}
