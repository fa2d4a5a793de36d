import { twoSidedT, twoSidedTPValue } from './distributions.ts'

/** Several estimates of one effect together, in their own unit. */
export interface RandomEffects {
  /** How many estimates went in. */
  k: number
  estimate: number
  /** Hartung–Knapp standard error, never below the usual one. */
  standardError: number
  /** Variance of the true effects between units (REML). */
  tau2: number
  ci: [number, number]
  p: number
  /** Where the effect of one more unit lies; null below three. */
  prediction: [number, number] | null
}

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0)

const weightedMean = (y: readonly number[], w: readonly number[]): number =>
  sum(y.map((value, i) => w[i]! * value)) / sum(w)

/**
 * Variance between units by restricted maximum likelihood, Fisher scoring from the moment estimate, not below zero.
 * Source: Viechtbauer 2005, J Educ Behav Stat 30:261 (the iteration is that of R's metafor).
 */
export const remlTau2 = (y: readonly number[], v: readonly number[]): number => {
  const middle = sum(y) / y.length
  const spread = sum(y.map((value) => (value - middle) ** 2)) / (y.length - 1)
  let tau2 = Math.max(0, spread - sum(v) / v.length)
  for (let round = 0; round < 200; round++) {
    const w = v.map((each) => 1 / (each + tau2))
    const mu = weightedMean(y, w)
    const [w1, w2, w3] = [1, 2, 3].map((power) => sum(w.map((each) => each ** power))) as [
      number,
      number,
      number,
    ]
    const yPPy = sum(y.map((value, i) => w[i]! ** 2 * (value - mu) ** 2))
    const traceP = w1 - w2 / w1
    const tracePP = w2 - (2 * w3) / w1 + (w2 / w1) ** 2
    const next = Math.max(0, tau2 + (yPPy - traceP) / tracePP)
    if (Math.abs(next - tau2) <= 1e-12 * (spread + 1e-300)) return next
    tau2 = next
  }
  return tau2
}

/**
 * Random-effects summary of estimates `y` with sampling variances `v` (> 0): the mean of the true effects with the
 * Hartung–Knapp interval on k − 1 degrees of freedom. Its standard error is never taken below the usual one, which keeps
 * estimates that agree by luck from giving a narrow interval. Null below two estimates.
 * Sources: Hartung & Knapp 2001, Stat Med 20:3875; IntHout, Ioannidis & Borm 2014, BMC Med Res Methodol 14:25; lower
 * bound: Röver, Knapp & Friede 2015, BMC Med Res Methodol 15:99; prediction on k − 2: Higgins, Thompson & Spiegelhalter
 * 2009, J R Stat Soc A 172:137.
 */
export const randomEffects = (
  y: readonly number[],
  v: readonly number[],
  options: { confidence?: number } = {},
): RandomEffects | null => {
  const k = y.length
  if (k < 2) return null
  const confidence = options.confidence ?? 0.95
  const tau2 = remlTau2(y, v)
  const w = v.map((each) => 1 / (each + tau2))
  const estimate = weightedMean(y, w)
  const q = sum(y.map((value, i) => w[i]! * (value - estimate) ** 2)) / (k - 1)
  const standardError = Math.sqrt(Math.max(1, q) / sum(w))
  const half = twoSidedT(confidence, k - 1) * standardError
  const reach = k < 3 ? null : twoSidedT(confidence, k - 2) * Math.sqrt(tau2 + standardError ** 2)
  return {
    k,
    estimate,
    standardError,
    tau2,
    ci: [estimate - half, estimate + half],
    p: twoSidedTPValue(estimate / standardError, k - 1),
    prediction: reach === null ? null : [estimate - reach, estimate + reach],
  }
}
