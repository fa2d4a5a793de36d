import type { Finding } from './finding.ts'
import type { StrikeReport } from './strike-report.ts'
import { capital, clubPhrase, count, pWords } from './words.ts'

/** Sentences about the strike map. Lengths on the face are millimetres in every unit system. */
export function strikeFindings(report: StrikeReport): Finding[] {
  const data = `${capital(clubPhrase(report.club))}: ${count(report.n, 'strike')} with a place on the face`
  const base = { topic: 'strike' as const, caution: null }
  if (report.n === 0) {
    return [
      {
        ...base,
        metric: null,
        verdict: 'not-recorded',
        sentence: 'No place on the face was recorded, so there is no strike map.',
        howSure: 'Not recorded.',
        isSure: false,
        howWeKnow: { data: `${data}.`, method: 'None.', source: 'none' },
      },
    ]
  }
  return [
    {
      ...base,
      metric: null,
      verdict: report.pattern.isShown ? `pattern-${report.bias.verdict}` : 'pattern-too-few',
      ...patternWords(report),
      isSure: report.bias.verdict === 'off',
      howWeKnow: {
        data: `${data}; bias ${pWords(report.bias.p)}. ${spotOrigin(report)}`,
        method:
          'Ellipse in which 95 % of the next strikes fall (F factor for few shots); bias by Hotelling’s test.',
        source: 'Chew 1966; Schubert & Kirchner 2014; Hotelling 1931',
      },
    },
    {
      ...base,
      metric: 'efficiency',
      verdict: `loss-${report.loss.verdict}`,
      ...lossWords(report),
      isSure: report.loss.verdict === 'falls-with-distance',
      howWeKnow: {
        data: `${count(report.loss.n, 'strike')} with efficiency. ${spotOrigin(report)}`,
        method:
          'Least squares of efficiency on the squared distance from the spot, which is fixed beforehand.',
        source: 'ordinary least squares; rigid body: the loss grows with the squared distance',
      },
    },
  ]
}

function patternWords(report: StrikeReport): { sentence: string; howSure: string } {
  const { centreMm, semiAxesMm, isShown } = report.pattern
  const [x, y] = [report.spot?.xMm ?? 0, report.spot?.yMm ?? 0]
  const spot = spotWords(report)
  if (!isShown || centreMm === null || semiAxesMm === null) {
    return {
      sentence: `${capital(count(report.n, 'strike'))} on the map: a first impression, not a pattern.`,
      howSure: "Can't tell yet: at least 8 strikes are needed.",
    }
  }
  const size = `95 % of the next strikes fall in an ellipse of about ${mm(2 * semiAxesMm[0])} by ${mm(2 * semiAxesMm[1])} mm`
  if (report.bias.verdict === 'off') {
    return {
      sentence: `The strikes sit ${offWords(centreMm[0] - x, centreMm[1] - y)} of ${spot}; ${size}.`,
      howSure: 'Clear that the centre of the pattern is off.',
    }
  }
  return {
    sentence: `No bias from ${spot} can be shown; ${size}.`,
    howSure: "That the strikes are centred can't be told for sure.",
  }
}

const spotWords = ({ spot }: StrikeReport): string =>
  spot ? 'the player’s best spot so far' : 'the face centre'

/** Where the spot comes from, for "how do we know". */
const spotOrigin = ({ spot }: StrikeReport): string =>
  spot
    ? `Best spot: the middle of the best quarter of ${count(spot.strikes, 'strike')} in earlier lessons, ${offWords(spot.xMm, spot.yMm)} of the face centre.`
    : 'Distances count from the face centre; from 20 strikes of earlier lessons on, from the player’s own best spot.'

const mm = (value: number): string => String(Math.round(value))

/** "6 mm towards the toe and 3 mm low"; a part below one millimetre is not named. */
function offWords(x: number, y: number): string {
  const parts = [
    Math.abs(x) >= 1 ? `${mm(Math.abs(x))} mm on the ${x > 0 ? 'toe' : 'heel'} side` : '',
    Math.abs(y) >= 1 ? `${mm(Math.abs(y))} mm on the ${y > 0 ? 'high' : 'low'} side` : '',
  ].filter(Boolean)
  return parts.length > 0 ? parts.join(' and ') : 'less than 1 mm off the middle'
}

function lossWords(report: StrikeReport): { sentence: string; howSure: string } {
  const { loss } = report
  const spot = spotWords(report)
  switch (loss.verdict) {
    case 'falls-with-distance':
      return {
        sentence: `10 mm from ${spot} efficiency is about ${Math.abs(loss.at10Mm!).toFixed(2)} lower.`,
        howSure: `95 % interval ${Math.abs(loss.ci95![1]).toFixed(2)} to ${Math.abs(loss.ci95![0]).toFixed(2)} lower.`,
      }
    case 'cannot-tell':
      return {
        sentence: `Can't tell yet how much efficiency falls with distance from ${spot}.`,
        howSure: "Can't tell yet.",
      }
    case 'too-few':
      return {
        sentence: `Too few strikes with efficiency (${loss.n}) to see how it falls with distance.`,
        howSure: "Can't tell: at least 10 are needed.",
      }
    case 'not-recorded':
      return {
        sentence: 'Efficiency was not recorded with these strikes, so the cost of a miss can’t be told.',
        howSure: 'Not recorded.',
      }
  }
}
