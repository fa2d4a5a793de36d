/** A signed number of milliseconds with a real minus sign, tenths below ten; "–" for what is not a number of them. */
export const signedMs = (ms: number): string => {
  if (!Number.isFinite(ms)) return '–'
  const text = ms.toFixed(Math.abs(ms) < 10 ? 1 : 0)
  if (Number(text) === 0) return '0'
  return ms > 0 ? `+${text}` : text.replace('-', '−')
}
