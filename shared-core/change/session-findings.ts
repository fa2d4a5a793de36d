import { sayFinding, type Finding } from './finding.ts'
import { minToPlace } from './session-report.ts'
import type { SessionMetric, SessionReport } from './session-report.ts'
import type { ShownMetric } from '../units.ts'
import { andList, capital, phrase, semicolons, sentences, type Word } from '../wording/phrase.ts'
import {
  adjustedP,
  clubPhrase,
  count,
  cueWords,
  moreOrLess,
  name,
  names,
  notRecorded,
  nothingDone,
  quoted,
  size,
} from './words.ts'
import type { Wording } from './words.ts'

/** One thing said of one metric, or of several alike. */
interface Saying {
  row: SessionMetric
  verdict: string
  /** What is said of these metrics together. */
  sentence: (metrics: readonly ShownMetric[]) => Word
  howSure: Word
  isSure: boolean
  data: Word | null
  method: Word
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
  const club = phrase('session.ofClub', {
    club: capital(clubPhrase(report.club)),
    shots: count(report.shots, 'shot'),
  })
  const data = sayings.flatMap(({ row, data: own }) =>
    own === null ? [] : [isAlone ? own : phrase('text.of', { label: name(row.metric), text: own })],
  )
  return sayFinding({
    topic: 'session',
    metric: isAlone ? first.row.metric : null,
    verdict: first.verdict,
    sentence: first.sentence(sayings.map((saying) => saying.row.metric)),
    howSure: first.howSure,
    isSure: first.isSure,
    howWeKnow: {
      data: phrase('text.stop', { text: semicolons(club, ...data) }),
      method: first.method,
      source: first.source,
    },
    caution: null,
  })
}

const notRecordedHere = (row: SessionMetric): Saying => ({
  row,
  verdict: 'not-recorded',
  sentence: (metrics) =>
    metrics.length === 1
      ? notRecorded(row.metric)
      : sentences(
          phrase('session.notRecordedMany', { what: capital(names(metrics)) }),
          metrics.includes('efficiency') ? phrase('session.efficiencyNeeds') : null,
        ),
  howSure: phrase('sure.notRecorded'),
  isSure: false,
  data: null,
  ...nothingDone,
  isShared: true,
})

function levelChange(row: SessionMetric, wording: Wording): Saying {
  const found = row.levelChange
  const say = (
    verdict: string,
    sentence: (what: Word) => Word,
    howSure: Word,
    { isSure }: { isSure: boolean },
  ): Saying => ({
    row,
    verdict,
    sentence: (metrics) => sentence(names(metrics)),
    howSure,
    isSure,
    data: phrase('session.data', {
      readings: count(found.n, 'reading'),
      p: adjustedP(found.p, found.pAdjusted),
    }),
    method: phrase('session.method'),
    source: 'Pettitt 1979; Phipson & Smyth 2010; Smith 1975; Holm 1979',
    isShared: !isSure,
  })
  if (found.state === 'too-few') {
    return say(
      'level-too-few',
      (what) => phrase('session.tooFew', { what }),
      phrase('session.shotsNeeded', { least: minToPlace }),
      { isSure: false },
    )
  }
  if (found.state === 'no-spread') {
    return say('level-no-spread', (what) => phrase('session.alike', { what }), phrase('sure.fewDigits'), {
      isSure: false,
    })
  }
  if (found.state === 'steady' || found.shotsBefore === null) {
    return say('level-steady', (what) => phrase('session.steady', { what }), phrase('session.noProof'), {
      isSure: false,
    })
  }
  const step = {
    by: size(row.metric, found.step!, wording),
    way: moreOrLess(row.metric, found.step!),
  }
  if (found.isAlsoTrend) {
    return say(
      'level-trend',
      (what) => phrase(found.step! > 0 ? 'session.rose' : 'session.fell', { what: capital(what), ...step }),
      phrase('session.moved'),
      { isSure: true },
    )
  }
  const place = found.isPlaceVague
    ? phrase('session.somewhere')
    : found.from === found.to
      ? phrase('session.after', { shot: found.from! })
      : phrase('session.between', { from: found.from!, to: found.to! + 1 })
  const block = found.isPlaceVague
    ? null
    : found.startingBlock !== null
      ? phrase('session.withStart', { block: quoted(found.startingBlock) })
      : found.blocks.length > 0
        ? phrase('session.thatIsIn', { blocks: andList(found.blocks.map(quoted)) })
        : null
  const cues =
    found.startingCues.length > 0 && !found.isPlaceVague
      ? phrase('session.firstTagged', {
          cues: andList(found.startingCues.map((cue) => cueWords(cue, wording))),
        })
      : null
  return say(
    'level-changed',
    (what) => sentences(phrase('session.changed', { what: capital(what), place, ...step }), block, cues),
    phrase('session.clearRange'),
    { isSure: true },
  )
}
