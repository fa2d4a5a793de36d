import { swingCaution } from './finding.ts'
import type { Finding } from './finding.ts'
import type { PlaySpeedReport } from './play-speed-report.ts'
import { assumedError, capital, clubPhrase, count, level, list, percent, range } from './words.ts'
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
  const speed: Finding = {
    topic: 'play-speed',
    metric: 'clubSpeedMps',
    verdict: report.verdict,
    ...speedWords(report, wording, options.leak ?? null),
    isSure: report.bandMps !== null || report.verdict === 'still-rising' || report.verdict === 'falling',
    howWeKnow: {
      data:
        `${capital(clubPhrase(report.club))}: ${count(report.n, 'shot')} with club speed and ball speed` +
        (report.slowestMps === null || report.fastestMps === null || report.n < 2
          ? ''
          : `, ${range('clubSpeedMps', [report.slowestMps, report.fastestMps], wording)}`) +
        (report.reliability === null
          ? ''
          : `; ${percent(Math.max(0, report.reliability))} of the spread of club speed is more than misreading`) +
        '.',
      method:
        'Efficiency against club speed, curved fit over all shots, mishits included; the speed with the greatest ' +
        'expected ball speed, never outside what was hit; 2,000 resamplings must agree to 95 %.',
      source: `Fitts 1954; Schmidt et al. 1979; Davison & Hinkley 1997; Fuller 1987; ${assumedError}`,
    },
    caution: !isStrike(options.leak) && (report.toHit ?? report.bandMps) !== null ? swingCaution : null,
  }
  return [speed, controlFinding(report)]
}

function speedWords(
  report: PlaySpeedReport,
  wording: Wording,
  leak: Leak | null,
): { sentence: string; howSure: string } {
  const strikeFirst =
    leak === 'strike'
      ? ' The strike costs more than the speed here: work on the strike.'
      : leak === 'strike-first'
        ? ' Look at the strike before trying other speeds.'
        : ''
  const toHit =
    report.toHit === null || isStrike(leak)
      ? ''
      : ` To find out, hit about ${report.toHit.shots} more shots, a third each at ` +
        `${list(report.toHit.efforts.map(percent))} effort` +
        ` (roughly ${list(report.toHit.speedsMps.map((v) => level('clubSpeedMps', v, wording, v / 20)))}).`
  if (report.n === 0) {
    return {
      sentence:
        'Play speed needs club speed and ball speed of the same shots; they were not both recorded, so nothing can be said about it.',
      howSure: 'Not recorded.',
    }
  }
  switch (report.verdict) {
    case 'too-few':
      return {
        sentence: `${capital(count(report.n, 'shot'))} ${report.n === 1 ? 'is' : 'are'} too few to find the play speed.${toHit}${strikeFirst}`,
        howSure: "Can't tell: at least 12 shots are needed, 20 are worth waiting for.",
      }
    case 'not-enough-range':
      return {
        sentence:
          (report.reliability === null || report.reliability < 0.8
            ? 'The play speed can’t be found yet: these swings differ in speed hardly more than the device errs.'
            : 'The shots do not agree on one play speed: not enough range to tell.') +
          toHit +
          strikeFirst,
        howSure: "Can't tell: not enough range of speeds.",
      }
    case 'still-rising':
      return {
        sentence:
          `Ball speed kept rising with club speed up to ${level('clubSpeedMps', report.fastestMps, wording)}: no limit ` +
          'was found in these swings. That alone is no reason to swing harder; direction, body and safety come first.' +
          strikeFirst,
        howSure: 'Clear for the speeds that were hit, and for those only.',
      }
    case 'falling':
      return {
        sentence:
          'Ball speed was highest at the slowest swings that were hit: more club speed came with so much worse strikes ' +
          'that nothing was gained.' +
          strikeFirst,
        howSure: 'Clear for the speeds that were hit, and for those only.',
      }
    case 'inside': {
      if (report.suggestedMps === null || report.bestMps === null) {
        return { sentence: 'Not enough range to tell the play speed.', howSure: "Can't tell." }
      }
      const worse = report.control.verdict === 'worse-with-speed'
      if (report.isTooMild) {
        return {
          sentence:
            `The best speed can't be placed closely: from ${range('clubSpeedMps', report.bandMps!, wording)} the ball speed is within ` +
            `1 % of its best. Take the slower end, about ${level('clubSpeedMps', report.bandMps![0], wording, 1)}` +
            `${worse ? '; the faster swings went farther from the usual direction' : ''}.` +
            strikeFirst,
          howSure: `The bend is mild: the best speed lies somewhere in ${range('clubSpeedMps', report.bestCi95 ?? report.bandMps!, wording)}.`,
        }
      }
      return {
        sentence:
          `Your play speed is about ${range('clubSpeedMps', report.suggestedMps, wording)}: there the ball speed is best` +
          (worse ? ', and above it the direction gets worse' : '') +
          `. Your fastest swing, ${level('clubSpeedMps', report.fastestMps, wording)}, gave no more ball speed on average.` +
          strikeFirst,
        howSure:
          report.bestCi95 === null
            ? 'Resampling agrees.'
            : `The best speed lies at ${range('clubSpeedMps', report.bestCi95, wording)} (95 % interval).`,
      }
    }
  }
}

function controlFinding(report: PlaySpeedReport): Finding {
  const { metric, n, spearman, ci95, verdict } = report.control
  const words: Record<typeof verdict, [string, string]> = {
    'worse-with-speed': ['The faster swings went farther from the usual direction.', 'Clear.'],
    'better-with-speed': ['The faster swings were nearer to the usual direction.', 'Clear.'],
    'cannot-tell': ["Can't tell whether direction gets worse with speed.", "Can't tell yet."],
    'too-few': [
      `Too few shots with a direction (${n}) to hold it against speed.`,
      'At least 10 shots are needed.',
    ],
    'not-recorded': ['Direction was not recorded, so this is about ball speed only.', 'Not recorded.'],
  }
  const [sentence, howSure] = words[verdict]
  return {
    topic: 'play-speed',
    metric,
    verdict: `direction-${verdict}`,
    sentence,
    howSure,
    isSure: verdict === 'worse-with-speed' || verdict === 'better-with-speed',
    howWeKnow: {
      data:
        `${count(n, 'shot')}` +
        (spearman === null || ci95 === null
          ? '.'
          : `, rank correlation ${spearman.toFixed(1).replace('-', '−')} (95 % interval ${ci95.map((end) => end.toFixed(1).replace('-', '−')).join(' to ')}).`),
      method: 'Rank correlation of club speed with the distance from the median direction (Spearman).',
      source: 'Bonett & Wright 2000',
    },
    caution: null,
  }
}
