/** How many backups are kept: the last of each of so many days, weeks and months that have one. */
export const kept = { days: 7, weeks: 4, months: 12 } as const

const dayOf = (at: Date) => `${at.getFullYear()}-${at.getMonth()}-${at.getDate()}`
/** Monday of the week, as a day. */
const weekOf = (at: Date) =>
  dayOf(new Date(at.getFullYear(), at.getMonth(), at.getDate() - ((at.getDay() + 6) % 7)))
const monthOf = (at: Date) => `${at.getFullYear()}-${at.getMonth()}`

/** Several of one day may be on purpose: so many of the newest stay in any case. */
const newest = 3

/** Ids of backups that may go. Days, weeks and months are those of the coach's clock. */
export const outdated = (backups: readonly { id: string; madeAt: string }[]): string[] => {
  const newestFirst = backups.toSorted((a, b) => b.madeAt.localeCompare(a.madeAt))
  const stays = new Set(newestFirst.slice(0, newest).map((b) => b.id))
  for (const [keyOf, most] of [
    [dayOf, kept.days],
    [weekOf, kept.weeks],
    [monthOf, kept.months],
  ] as const) {
    const seen = new Set<string>()
    for (const { id, madeAt } of newestFirst) {
      const key = keyOf(new Date(madeAt))
      if (seen.has(key)) continue
      if (seen.size === most) break
      seen.add(key)
      stays.add(id)
    }
  }
  return newestFirst.filter((b) => !stays.has(b.id)).map((b) => b.id)
}
