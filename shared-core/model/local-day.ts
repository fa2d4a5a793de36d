/** The day at `at` where the coach is, as YYYY-MM-DD: what a calendar on the wall says, not the day in Greenwich. */
export const localDay = (at: Date): string => {
  const two = (n: number) => String(n).padStart(2, '0')
  return `${String(at.getFullYear()).padStart(4, '0')}-${two(at.getMonth() + 1)}-${two(at.getDate())}`
}
