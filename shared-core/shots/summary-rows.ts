import { mean } from '../statistics/mean.ts'
import { median } from '../statistics/median.ts'
import { summaryWord } from './summary-row-word.ts'

/** One line as this module needs it. */
export type SummaryCandidate = {
  /** Number columns by index: the value as written and how many digits stand behind the mark. */
  readonly numbers: ReadonlyMap<number, { value: number; decimals: number }>
  /** Cells that are no numbers: what kind of column they stand in. `name`: club, time, date, number of the shot. */
  readonly texts: readonly { column: number; text: string; place: 'name' | 'number' | 'free' }[]
  /** Which of time, number of the shot and club it has. */
  readonly marks: ReadonlySet<string>
  readonly club: string | null
  /** A heading or a repeated header stands before it. */
  readonly startsGroup: boolean
}

const sdOf = (values: readonly number[], ddof: 0 | 1): number => {
  const middle = mean(values)
  return Math.sqrt(values.reduce((s, v) => s + (v - middle) ** 2, 0) / (values.length - ddof))
}

const statistics = {
  mean: (v: readonly number[]) => mean(v),
  sd: (v: readonly number[]) => sdOf(v, 1),
  'population sd': (v: readonly number[]) => sdOf(v, 0),
  median: (v: readonly number[]) => median(v)!,
  smallest: (v: readonly number[]) => Math.min(...v),
  largest: (v: readonly number[]) => Math.max(...v),
} as const
type StatisticName = keyof typeof statistics

/**
 * How unlikely it is that a real shot would agree with a statistic of other rows in every column within rounding; 1 if
 * it does not agree. Columns go together (speed, carry), so each counts less than alone.
 */
const chance = (name: StatisticName, row: SummaryCandidate, group: readonly SummaryCandidate[]): number => {
  let p = 1
  let compared = 0
  const sources = new Set<number>()
  for (const [column, { value, decimals }] of row.numbers) {
    const others = group.flatMap((r) => r.numbers.get(column) ?? [])
    if (others.length < 2) continue
    const values = others.map((o) => o.value)
    const ownStep = 10 ** -decimals
    const step = 10 ** -Math.max(...others.map((o) => o.decimals))
    const isExact = name === 'median' || name === 'smallest' || name === 'largest'
    const tolerance = 0.5 * ownStep + (isExact ? 0 : 0.5 * step) + 1e-9
    const expected = statistics[name](values)
    if (Math.abs(value - expected) > tolerance) return 1
    compared++
    const spread = sdOf(values, 1)
    if (name === 'mean' || name === 'median') {
      p *= Math.min(1, (2 * tolerance) / (2.5 * spread)) ** 0.7
    } else if (name === 'sd' || name === 'population sd') p *= 0.05 ** 0.7
    else {
      p *= spread > 0 ? 0.1 ** 0.7 : 1
      const at = group.flatMap((r, i) => (r.numbers.get(column)?.value === expected ? [i] : []))
      if (sources.size === 0) at.forEach((i) => sources.add(i))
      else for (const i of sources) if (!at.includes(i)) sources.delete(i)
      // All extremes of one row: the same shot twice, not a line of extremes.
      if (sources.size === 0) sources.add(-1)
    }
  }
  if (compared < 2) return 1
  if ((name === 'smallest' || name === 'largest') && !sources.has(-1)) return 1
  return p
}

/** So small a share of the usual value in every column has no shot among full ones, but a line of spreads has it. */
const spreadShare = 0.12

/** Whether all positive numbers of a row are far below those of the others, which no single shot's are together. */
const isSpreadBySize = (row: SummaryCandidate, group: readonly SummaryCandidate[]): boolean => {
  if (group.length < 3) return false
  const shares = [...row.numbers].flatMap(([column, { value }]) => {
    const others = group.flatMap((r) => r.numbers.get(column)?.value ?? [])
    return others.length >= 3 && others.every((o) => o > 0) ? [Math.abs(value) / median(others)] : []
  })
  return shares.length >= 3 && shares.every((share) => share < spreadShare)
}

/** The likeliest statistic that a row is of the rows around it, or null. */
const statisticOf = (
  row: SummaryCandidate,
  groups: readonly (readonly SummaryCandidate[])[],
): { name: StatisticName; p: number } | null => {
  let best: { name: StatisticName; p: number } | null = null
  for (const group of groups) {
    if (group.length < 2) continue
    for (const name of Object.keys(statistics) as StatisticName[]) {
      const p = chance(name, row, group)
      if (p < (best?.p ?? 1)) best = { name, p }
    }
  }
  return best
}

/**
 * Which rows sum up others (averages, spreads, extremes) and are no shots: by their label in any language, and without
 * one by their numbers, which agree with a statistic of the rows around them in every column.
 *
 * @returns for each row the reason as words, or null for a shot.
 */
export const summaryRows = (rows: readonly SummaryCandidate[]): (string | null)[] => {
  const reasons: (string | null)[] = rows.map(() => null)
  const textCounts = new Map<string, number>()
  for (const row of rows) {
    for (const { column, text } of row.texts) {
      const key = `${column} ${text}`
      textCounts.set(key, (textCounts.get(key) ?? 0) + 1)
    }
  }
  const usualMarks = ['time', 'number', 'club'].filter(
    (mark) => rows.filter((r) => r.marks.has(mark)).length * 2 > rows.length,
  )

  // Those with a plain label first, so that they are in nobody's group.
  rows.forEach((row, i) => {
    row.texts.forEach(({ column, text, place }, position) => {
      if (reasons[i] !== null) return
      const word = summaryWord(text)
      // What stands in most lines is a name, whatever it says.
      if (!word || (textCounts.get(`${column} ${text}`)! * 2 > rows.length && rows.length > 2)) return
      const isNamePlace = place !== 'free' || (position === 0 && column === 0)
      if (word.strength === 'strong' && (word.extent === 'all' || isNamePlace)) reasons[i] = text.trim()
      else if (
        word.strength === 'weak' &&
        word.extent === 'all' &&
        (place === 'number' || (column === 0 && row.marks.size === 0))
      ) {
        reasons[i] = text.trim()
      }
    })
  })

  const isShot = (i: number) => reasons[i] === null
  const look = (i: number): void => {
    if (!isShot(i)) return
    const row = rows[i]!
    const isLast = i === rows.length - 1 || (i < rows.length - 1 && !reasons.slice(i + 1).includes(null))
    const lacksMarks = usualMarks.some((mark) => !row.marks.has(mark))
    const hasWord = row.texts.some(({ text }) => summaryWord(text) !== null)
    const isAtEdge =
      i === 0 ||
      isLast ||
      row.startsGroup ||
      rows[i + 1]!.startsGroup ||
      !isShot(i + 1) ||
      rows[i + 1]!.club !== row.club
    // Lines that sum up stand first or last, or look unlike shots.
    if (!lacksMarks && !hasWord && !isAtEdge) return
    const groups = groupsAround(rows, i, isShot)
    if (groups.some((group) => isSpreadBySize(row, group))) {
      reasons[i] = 'spread of the lines around it'
      return
    }
    const found = statisticOf(row, groups)
    if (!found) return
    const limit = hasWord || lacksMarks ? 0.06 : isLast ? 0.02 : 2e-3
    // With all the marks that the others have it looks like a shot; only its numbers speak against it.
    const isMarked = usualMarks.length > 0 && !lacksMarks && !hasWord
    if (found.p <= (isMarked ? Math.min(limit, 1e-4) : limit)) {
      reasons[i] = `${found.name} of the lines around it`
    }
  }
  // A line of spreads may follow one of averages: what was found makes the line before it an edge.
  for (let pass = 0, before = -1; pass < 4; pass++) {
    rows.forEach((_, i) => look(i))
    const count = reasons.filter((r) => r !== null).length
    if (count === before) break
    before = count
  }
  return reasons
}

/** A table of shots is rarely longer; in longer ones the statistics of the whole are not looked for. */
const longestGroup = 500

/** What a line may sum up: the run of lines above it, that with its club, the run below it, all others. */
const groupsAround = (
  rows: readonly SummaryCandidate[],
  i: number,
  isShot: (k: number) => boolean,
): SummaryCandidate[][] => {
  const row = rows[i]!
  let k = i - 1
  while (k >= 0 && !isShot(k) && !rows[k + 1]!.startsGroup) k--
  const above: SummaryCandidate[] = []
  for (; k >= 0 && isShot(k) && !rows[k + 1]!.startsGroup && above.length < longestGroup; k--) {
    above.push(rows[k]!)
  }
  const sameClub = above.findIndex((r) => row.club !== null && r.club !== null && r.club !== row.club)
  const below: SummaryCandidate[] = []
  for (
    let m = i + 1;
    m < rows.length && isShot(m) && !rows[m]!.startsGroup && below.length < longestGroup;
    m++
  ) {
    below.push(rows[m]!)
  }
  // Its own club may be the heading's of the row above the summary.
  const shots = rows.length <= longestGroup ? rows.filter((_, m) => m !== i && isShot(m)) : []
  const last = above[0]?.club ?? null
  const lastRun = above.findIndex((r) => r.club !== last)
  // A table that lists every shot twice sums up each once.
  const once = above.filter(
    (r, at) => at === 0 || [...r.numbers].some(([c, n]) => above[at - 1]!.numbers.get(c)?.value !== n.value),
  )
  return [
    above,
    once.length < above.length ? once : [],
    above.slice(1),
    above.slice(2),
    above.slice(3),
    sameClub > 0 ? above.slice(0, sameClub) : [],
    lastRun > 0 ? above.slice(0, lastRun) : [],
    below,
    shots,
    shots.filter((r) => r.club === row.club),
  ]
}
