/** A smooth value of a noisy path at one time, its rate of change, and one standard deviation of each. */
export interface LocalFit {
  readonly value: number
  readonly slope: number
  readonly sd: number
  readonly slopeSd: number
  readonly n: number
}

/**
 * Local polynomial regression at `at` with tricube weights within ± `halfWidth` and two rounds of bisquare weights against
 * outliers (Cleveland, "Robust locally weighted regression", JASA 1979). Quadratic with six or more points, linear with three to
 * five. Null with fewer than three, or none on one side within the window (nothing is carried beyond the data).
 */
export const localFit = (
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  at: number,
  halfWidth: number,
  degree: 1 | 2 = 2,
): LocalFit | null => {
  const picked: { t: number; y: number; w: number }[] = []
  let nearest = Infinity
  let [isBefore, isAfter] = [false, false]
  for (let i = 0; i < times.length; i++) {
    const t = times[i]! - at
    const y = values[i]!
    if (!Number.isFinite(y) || Math.abs(t) >= halfWidth) continue
    nearest = Math.min(nearest, Math.abs(t))
    isBefore ||= t <= 0
    isAfter ||= t >= 0
    picked.push({ t: t / halfWidth, y, w: (1 - Math.abs(t / halfWidth) ** 3) ** 3 })
  }
  const n = picked.length
  if (n < 3 || !isBefore || !isAfter) return null
  const terms = n >= 6 ? degree + 1 : 2
  let robust = picked.map(() => 1)
  let beta: number[] = []
  let inverse: number[][] = []
  let variance = 0
  for (let round = 0; round < 3; round++) {
    const weights = picked.map((p, i) => p.w * robust[i]!)
    const solved = weighted(picked, weights, terms)
    if (!solved) return null
    ;({ beta, inverse } = solved)
    const rest = picked.map((p) => p.y - beta.reduce((sum, b, k) => sum + b * p.t ** k, 0))
    const sorted = rest.map(Math.abs).sort((a, b) => a - b)
    const scale = sorted[n >> 1]!
    variance =
      rest.reduce((sum, r, i) => sum + weights[i]! * r * r, 0) /
      (weights.reduce((a, b) => a + b, 0) * Math.max(0.3, 1 - terms / n))
    if (scale < 1e-9) break
    robust = rest.map((r) => (Math.abs(r) < 6 * scale ? (1 - (r / (6 * scale)) ** 2) ** 2 : 0))
  }
  return {
    value: beta[0]!,
    slope: beta[1]! / halfWidth,
    sd: Math.sqrt(variance * inverse[0]![0]!),
    slopeSd: Math.sqrt(variance * inverse[1]![1]!) / halfWidth,
    n,
  }
}

/** Weighted least squares of a polynomial in t; null where the points lie too close together. */
const weighted = (
  points: readonly { t: number; y: number }[],
  weights: readonly number[],
  terms: number,
): { beta: number[]; inverse: number[][] } | null => {
  // Normal equations beside the unit matrix, Gauss-Jordan with pivoting: three terms at most.
  const rows = Array.from({ length: terms }, (_, i) => [
    ...Array.from({ length: terms }, (_, k) =>
      points.reduce((s, p, j) => s + weights[j]! * p.t ** (i + k), 0),
    ),
    ...Array.from({ length: terms }, (_, k) => (i === k ? 1 : 0)),
    points.reduce((s, p, j) => s + weights[j]! * p.y * p.t ** i, 0),
  ])
  for (let i = 0; i < terms; i++) {
    const pivot = rows
      .slice(i)
      .reduce((best, row, k) => (Math.abs(row[i]!) > Math.abs(rows[best]![i]!) ? i + k : best), i)
    ;[rows[i], rows[pivot]] = [rows[pivot]!, rows[i]!]
    const lead = rows[i]![i]!
    if (Math.abs(lead) < 1e-9) return null
    rows[i] = rows[i]!.map((v) => v / lead)
    for (let k = 0; k < terms; k++) {
      if (k === i) continue
      const factor = rows[k]![i]!
      rows[k] = rows[k]!.map((v, c) => v - factor * rows[i]![c]!)
    }
  }
  return { beta: rows.map((row) => row[2 * terms]!), inverse: rows.map((row) => row.slice(terms, 2 * terms)) }
}
