/**
 * An expression of ffmpeg's with one value from each `from` on, the first one from the start. Halved again and again, because
 * ffmpeg's expressions nest only so deep.
 */
export const stepped = (
  variable: string,
  steps: readonly { readonly from: number; readonly value: string | number }[],
): string => {
  const within = (from: number, to: number): string => {
    if (to - from <= 1) return String(steps[from]!.value)
    const middle = (from + to) >> 1
    return `if(lt(${variable},${steps[middle]!.from}),${within(from, middle)},${within(middle, to)})`
  }
  return within(0, steps.length)
}
