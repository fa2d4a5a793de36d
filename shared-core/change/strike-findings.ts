import { sayFinding, type Finding, type FindingInWords } from './finding.ts'
import type { StrikeMapReport } from './strike-map-report.ts'
import { andList, capital, phrase, type Word } from '../wording/phrase.ts'
import { clubPhrase, count, nothingDone, pWords } from './words.ts'

/** Sentences about the strike map. Lengths on the face are millimetres in every unit system. */
export function strikeFindings(report: StrikeMapReport): Finding[] {
  const data = phrase('strike.data', {
    club: capital(clubPhrase(report.club)),
    strikes: count(report.n, 'strike'),
  })
  const base = { topic: 'strike' as const, caution: null }
  if (report.n === 0) {
    return [
      sayFinding({
        ...base,
        metric: null,
        verdict: 'not-recorded',
        sentence: phrase('strike.notRecorded'),
        howSure: phrase('sure.notRecorded'),
        isSure: false,
        howWeKnow: { data: phrase('text.stop', { text: data }), ...nothingDone },
      }),
    ]
  }
  const origin = spotOrigin(report)
  return [
    sayFinding({
      ...base,
      metric: null,
      verdict: report.pattern.isShown ? `pattern-${report.bias.verdict}` : 'pattern-too-few',
      ...patternWords(report),
      isSure: report.bias.verdict === 'off',
      howWeKnow: {
        data: phrase('strike.dataBias', { data, p: pWords(report.bias.p), origin }),
        method: phrase('strike.ellipseMethod'),
        source: 'Chew 1966; Schubert & Kirchner 2014; Hotelling 1931',
      },
    }),
    sayFinding({
      ...base,
      metric: 'efficiency',
      verdict: `loss-${report.loss.verdict}`,
      ...lossWords(report),
      isSure: report.loss.verdict === 'falls-with-distance',
      howWeKnow: {
        data: phrase('strike.lossData', { strikes: count(report.loss.n, 'strike'), origin }),
        method: phrase('strike.lossMethod'),
        source: phrase('strike.lossSource'),
      },
    }),
  ]
}

type Said = Pick<FindingInWords, 'sentence' | 'howSure'>

function patternWords(report: StrikeMapReport): Said {
  const { centreMm, semiAxesMm, isShown } = report.pattern
  const [x, y] = [report.spot?.xMm ?? 0, report.spot?.yMm ?? 0]
  const spot = spotWords(report)
  if (!isShown || centreMm === null || semiAxesMm === null) {
    return {
      sentence: phrase('strike.firstImpression', { strikes: count(report.n, 'strike') }),
      howSure: phrase('strike.strikesNeeded'),
    }
  }
  const ellipse = phrase('strike.ellipse', { width: mm(2 * semiAxesMm[0]), height: mm(2 * semiAxesMm[1]) })
  if (report.bias.verdict === 'off') {
    const off = offWords(centreMm[0] - x, centreMm[1] - y)
    return {
      sentence: phrase('strike.off', { off, spot, ellipse }),
      howSure: phrase('strike.clearOff'),
    }
  }
  return {
    sentence: phrase('strike.noBias', { spot, ellipse }),
    howSure: phrase('strike.centredUnsure'),
  }
}

const spotWords = ({ spot }: StrikeMapReport): Word => phrase(spot ? 'strike.bestSpot' : 'strike.faceCentre')

/** Where the spot comes from, for "how do we know". */
const spotOrigin = ({ spot }: StrikeMapReport): Word =>
  spot
    ? phrase('strike.ofBestSpot', {
        strikes: count(spot.strikes, 'strike'),
        off: offWords(spot.xMm, spot.yMm),
      })
    : phrase('strike.ofFaceCentre')

const mm = (value: number): string => String(Math.round(value))

/** "6 mm towards the toe and 3 mm low"; a part below one millimetre is not named. */
function offWords(x: number, y: number): Word {
  const parts = [
    ...(Math.abs(x) >= 1 ? [phrase(x > 0 ? 'strike.toe' : 'strike.heel', { mm: mm(Math.abs(x)) })] : []),
    ...(Math.abs(y) >= 1 ? [phrase(y > 0 ? 'strike.high' : 'strike.low', { mm: mm(Math.abs(y)) })] : []),
  ]
  return parts.length > 0 ? andList(parts) : phrase('strike.middle')
}

function lossWords(report: StrikeMapReport): Said {
  const { loss } = report
  const spot = spotWords(report)
  switch (loss.verdict) {
    case 'falls-with-distance':
      return {
        sentence: phrase('strike.falls', { spot, loss: Math.abs(loss.at10Mm!).toFixed(2) }),
        howSure: phrase('strike.fallsInterval', {
          low: Math.abs(loss.ci95![1]).toFixed(2),
          high: Math.abs(loss.ci95![0]).toFixed(2),
        }),
      }
    case 'cannot-tell':
      return { sentence: phrase('strike.cannotTell', { spot }), howSure: phrase('sure.cannotTellYet') }
    case 'too-few':
      return { sentence: phrase('strike.tooFew', { n: loss.n }), howSure: phrase('strike.lossNeeded') }
    case 'not-recorded':
      return { sentence: phrase('strike.lossNotRecorded'), howSure: phrase('sure.notRecorded') }
  }
}
