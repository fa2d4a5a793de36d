/** Round numbers between `from` and `to`, about `count` of them: steps of 1, 2 or 5 times a power of ten. */
export const niceTicks = (from: number, to: number, count: number): number[] => {
  const span = to - from
  if (!(span > 0) || !Number.isFinite(span)) return []
  const raw = span / Math.max(1, count)
  const power = 10 ** Math.floor(Math.log10(raw))
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= raw)!
  const ticks: number[] = []
  for (let i = Math.ceil(from / step - 1e-9); i * step <= to + step * 1e-9; i++) {
    ticks.push(i === 0 ? 0 : i * step)
  }
  return ticks
}
