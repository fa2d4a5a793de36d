interface Change {
  /** Of the text before: from here to there is replaced. */
  from: number
  to: number
  by: string
}

const changeOf = (before: string, after: string): Change => {
  const shorter = Math.min(before.length, after.length)
  let from = 0
  while (from < shorter && before[from] === after[from]) from++
  let same = 0
  while (same < shorter - from && before[before.length - 1 - same] === after[after.length - 1 - same]) same++
  return { from, to: before.length - same, by: after.slice(from, after.length - same) }
}

const applied = (text: string, { from, to, by }: Change) => text.slice(0, from) + by + text.slice(to)

/**
 * Two hands changed one text at the same time: both changes, made to the text as it was. Where they touch the same
 * place, what was there first stands before what came after, on a line of its own; nothing typed is dropped.
 */
export const mergeNote = (before: string, mine: string, theirs: string): string => {
  if (theirs === before || mine === theirs) return mine
  if (mine === before) return theirs
  const a = changeOf(before, mine)
  const b = changeOf(before, theirs)
  if (a.to < b.from) return applied(applied(before, b), a)
  if (b.to < a.from) return applied(applied(before, a), b)
  const from = Math.min(a.from, b.from)
  const to = Math.max(a.to, b.to)
  const part = (change: Change) => before.slice(from, change.from) + change.by + before.slice(change.to, to)
  const [first, second] = [part(b), part(a)]
  const together = () => {
    const isInsertion = from === to
    if (isInsertion && first.startsWith('\n') && !second.startsWith('\n')) return second + first
    return isInsertion && second.startsWith('\n') ? first + second : `${first}\n${second}`
  }
  const both = first.includes(second) ? first : second.includes(first) ? second : together()
  return before.slice(0, from) + both + before.slice(to)
}
