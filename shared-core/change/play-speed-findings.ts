import { sayFinding, swingCaution, type Finding, type FindingInWords } from './finding.ts'
import type { PlaySpeedReport } from './play-speed-report.ts'
import { andList, capital, commas, phrase, semicolons, sentences, type PhraseKey } from '../wording/phrase.ts'
import { clubPhrase, count, level, percent, range, withAssumedError } from './words.ts'
import type { Wording } from './words.ts'

/** What holds the player back (impact/holding-back); `strike-first`: not clear, but the strike is to be looked at first. */
type Leak = 'strike' | 'speed' | 'strike-first'
const isStrike = (leak: Leak | null | undefined): boolean => leak === 'strike' || leak === 'strike-first'

/**
 * Sentences about play speed. `leak`: what holds this player back, if known; where it is the strike, no sentence speaks for more speed. A best that is still rising is never advice to swing harder.
 */
export function playSpeedFindings(
  report: PlaySpeedReport,
  wording: Wording,
  options: { leak?: Leak | null } = {},
): Finding[] {
  const isRange = report.slowestMps !== null && report.fastestMps !== null && report.n >= 2
  const shots = commas(
    phrase('speed.shots', { shots: count(report.n, 'shot') }),
    isRange ? range('clubSpeedMps', [report.slowestMps!, report.fastestMps!], wording) : null,
  )
  const more =
    report.reliability === null
      ? null
      : phrase('speed.more', { share: percent(Math.max(0, report.reliability)) })
  const speed = sayFinding({
    topic: 'play-speed',
    metric: 'clubSpeedMps',
    verdict: report.verdict,
    ...speedWords(report, wording, options.leak ?? null),
    isSure: report.bandMps !== null || report.verdict === 'still-rising' || report.verdict === 'falling',
    howWeKnow: {
      data: phrase('text.ofClub', {
        club: capital(clubPhrase(report.club)),
        text: semicolons(shots, more),
      }),
      method: phrase('speed.method'),
      source: withAssumedError('Fitts 1954; Schmidt et al. 1979; Davison & Hinkley 1997; Fuller 1987'),
    },
    caution: !isStrike(options.leak) && (report.toHit ?? report.bandMps) !== null ? swingCaution : null,
  })
  return [speed, controlFinding(report)]
}

type Said = Pick<FindingInWords, 'sentence' | 'howSure'>

function speedWords(report: PlaySpeedReport, wording: Wording, leak: Leak | null): Said {
  const strikeFirst =
    leak === 'strike'
      ? phrase('speed.strikeCosts')
      : leak === 'strike-first'
        ? phrase('speed.strikeFirst')
        : null
  const toHit =
    report.toHit === null || isStrike(leak)
      ? null
      : phrase('speed.toHit', {
          shots: report.toHit.shots,
          efforts: andList(report.toHit.efforts.map(percent)),
          speeds: andList(report.toHit.speedsMps.map((v) => level('clubSpeedMps', v, wording, v / 20))),
        })
  if (report.n === 0) {
    return { sentence: phrase('speed.notRecorded'), howSure: phrase('sure.notRecorded') }
  }
  switch (report.verdict) {
    case 'too-few':
      return {
        sentence: sentences(phrase('speed.tooFew', { n: report.n }), toHit, strikeFirst),
        howSure: phrase('speed.shotsNeeded'),
      }
    case 'not-enough-range': {
      const isAlike = report.reliability === null || report.reliability < 0.8
      return {
        sentence: sentences(phrase(isAlike ? 'speed.alike' : 'speed.disagree'), toHit, strikeFirst),
        howSure: phrase('speed.noRange'),
      }
    }
    case 'still-rising': {
      const fastest = level('clubSpeedMps', report.fastestMps, wording)
      return {
        sentence: sentences(phrase('speed.stillRising', { fastest }), strikeFirst),
        howSure: phrase('sure.hitSpeedsOnly'),
      }
    }
    case 'falling':
      return {
        sentence: sentences(phrase('speed.falling'), strikeFirst),
        howSure: phrase('sure.hitSpeedsOnly'),
      }
    case 'inside': {
      if (report.suggestedMps === null || report.bestMps === null) {
        return { sentence: phrase('speed.noRangeInside'), howSure: phrase('sure.cannotTell') }
      }
      const worse = report.control.verdict === 'worse-with-speed'
      if (report.isTooMild) {
        const band = {
          band: range('clubSpeedMps', report.bandMps!, wording),
          slower: level('clubSpeedMps', report.bandMps![0], wording, 1),
        }
        return {
          sentence: sentences(phrase(worse ? 'speed.mildWorse' : 'speed.mild', band), strikeFirst),
          howSure: phrase('speed.mildBend', {
            range: range('clubSpeedMps', report.bestCi95 ?? report.bandMps!, wording),
          }),
        }
      }
      const best = {
        range: range('clubSpeedMps', report.suggestedMps, wording),
        fastest: level('clubSpeedMps', report.fastestMps, wording),
      }
      return {
        sentence: sentences(phrase(worse ? 'speed.bestWorse' : 'speed.best', best), strikeFirst),
        howSure:
          report.bestCi95 === null
            ? phrase('speed.resampling')
            : phrase('speed.liesAt', { range: range('clubSpeedMps', report.bestCi95, wording) }),
      }
    }
  }
}

const directionWords = {
  'worse-with-speed': ['direction.worse', 'sure.clear'],
  'better-with-speed': ['direction.better', 'sure.clear'],
  'cannot-tell': ['direction.cannotTell', 'sure.cannotTellYet'],
  'too-few': ['direction.tooFew', 'direction.shotsNeeded'],
  'not-recorded': ['direction.notRecorded', 'sure.notRecorded'],
} as const satisfies Record<PlaySpeedReport['control']['verdict'], readonly [PhraseKey, PhraseKey]>

function controlFinding(report: PlaySpeedReport): Finding {
  const { metric, n, spearman, ci95, verdict } = report.control
  const [sentence, howSure] = directionWords[verdict]
  const shots = count(n, 'shot')
  const written = (r: number) => r.toFixed(1).replace('-', '−')
  return sayFinding({
    topic: 'play-speed',
    metric,
    verdict: `direction-${verdict}`,
    sentence: sentence === 'direction.tooFew' ? phrase(sentence, { n }) : phrase(sentence),
    howSure: phrase(howSure),
    isSure: verdict === 'worse-with-speed' || verdict === 'better-with-speed',
    howWeKnow: {
      data:
        spearman === null || ci95 === null
          ? phrase('text.stop', { text: shots })
          : phrase('direction.correlation', {
              shots,
              r: written(spearman),
              low: written(ci95[0]),
              high: written(ci95[1]),
            }),
      method: phrase('direction.method'),
      source: 'Bonett & Wright 2000',
    },
    caution: null,
  })
}
