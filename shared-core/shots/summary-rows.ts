import { mean } from '../statistics/mean.ts'
import { median } from '../statistics/median.ts'
import { summaryWord } from './summary-row-word.ts'
import { phrase, said, type PhraseKey } from '../wording/phrase.ts'

/** One line as this module needs it. */
export type SummaryCandidate = {
  /** Number columns by index: the value as written and how many digits stand behind the mark. */
  readonly numbers: ReadonlyMap<number, { value: number; decimals: number }>
  /** Cells that are no numbers: what kind of column they stand in. `name`: club, time, date, number of the shot. */
  readonly texts: readonly {
    column: number
    text: string
    place: 'name' | 'number' | 'free'
    isBlock: boolean
    /** Words where a time or the number of the shot should stand. */
    isMisplaced: boolean
  }[]
  /** Which of time, number of the shot, club and block it has, read as such. */
  readonly marks: ReadonlySet<string>
  /** A cell for one of those holds something else. */
  readonly hasOddName: boolean
  readonly club: string | null
  /** A heading or a repeated header stands before it. */
  readonly startsGroup: boolean
  /** Empty lines stand before it. */
  readonly isApart: boolean
  /** It has fewer or more cells than the others: what its program summed up may stand elsewhere. */
  readonly isBroken: boolean
  /** Its numbers are per cents where those of the others are not. */
  readonly isInPercent: boolean
  /** It stands above the first club of a table that names each club once. */
  readonly isAboveFirstClub: boolean
}

/** Why a line is taken for one that sums up others; `isSure: false`: it may be a shot, and stays one. */
export type SummaryFound = { readonly reason: string; readonly isSure: boolean }

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
const statisticNames = Object.keys(statistics) as StatisticName[]

const words = {
  mean: 'sum.mean',
  sd: 'sum.spread',
  'population sd': 'sum.spread',
  median: 'sum.median',
  smallest: 'sum.smallest',
  largest: 'sum.largest',
} as const satisfies Record<StatisticName, PhraseKey>
const ofTheLines = (name: StatisticName): string => said('sum.ofTheLines', { what: phrase(words[name]) })

/** Columns go together (speed, carry), so each counts less than alone. */
const together = 0.7
/** How densely shots lie at the slowest or the longest of about ten, a spread: a normal law there (0.13 at 1.5), twice that to be careful. */
const extremeDensity = 0.3
/** How seldom a line that sums up others differs from our own sum in a column: other rules for what counts. */
const disagreement = 10

/** A group's numbers by column; sorted out once for all statistics. */
type GroupColumns = {
  size: number
  columns: Map<number, { values: number[]; decimals: number; spread: number; isWhole: boolean }>
}

const columnsOf = (group: readonly SummaryCandidate[]): GroupColumns => {
  const columns: GroupColumns['columns'] = new Map()
  const broken = group.some((r) => r.isBroken)
  for (const row of group) {
    // What stands in the wrong columns says nothing about them.
    if (row.isBroken) continue
    for (const [column, { value, decimals }] of row.numbers) {
      const own = columns.get(column) ?? { values: [], decimals: 0, spread: 0, isWhole: true }
      own.values.push(value)
      own.decimals = Math.max(own.decimals, decimals)
      columns.set(column, own)
    }
  }
  for (const own of columns.values()) {
    own.spread = own.values.length > 1 ? sdOf(own.values, 1) : 0
    own.isWhole = own.values.length === group.length && !broken && !own.values.includes(0)
  }
  return { size: group.filter((r) => !r.isBroken).length, columns }
}

/**
 * How unlikely it is that a real shot would agree with a statistic of other rows in that many columns within rounding;
 * above 1 where it speaks against it. Values that are missing may have been left out or counted as zero, or were there
 * when the program summed up, so that the result is known only roughly.
 */
const chance = (
  name: StatisticName,
  row: SummaryCandidate,
  group: GroupColumns,
  leastAgreeing = 2,
): number => {
  let p = 1
  let agreeing = 0
  let differing = 0
  const isExtreme = name === 'smallest' || name === 'largest'
  const isExact = isExtreme || name === 'median'
  for (const [column, { value, decimals }] of row.numbers) {
    const own = group.columns.get(column)
    if (!own || own.values.length < 2) continue
    const step =
      0.5 * 10 ** -decimals + (isExact && decimals === own.decimals ? 0 : 0.5 * 10 ** -own.decimals) + 1e-9
    const variants = [own.values]
    if (!own.isWhole) {
      const told = own.values.filter((v) => v !== 0)
      if (told.length >= 2) {
        variants.push(told)
        variants.push([...told, ...new Array<number>(group.size - told.length).fill(0)])
      }
    }
    const results = variants.map((v) => statistics[name](v))
    const nearest = Math.min(...results.map((r) => Math.abs(value - r)))
    const { spread } = own
    // One value of n that is not known moves the mean by a few spreads / n.
    const loose = own.isWhole ? step : step + (3.5 * spread) / Math.max(2, own.values.length)
    if (nearest > loose) {
      differing++
      continue
    }
    // Only known roughly, an extreme says nothing.
    if (isExtreme && nearest > step) continue
    agreeing++
    const tolerance = nearest <= step ? step : loose
    if (name === 'mean' || name === 'median') {
      p *= Math.min(1, (2 * tolerance) / (2.5 * spread || 1)) ** together
    } else if (!isExtreme) p *= (nearest <= step ? 0.05 : 0.3) ** together
    else if (agreeing === 1) p *= Math.min(1, (extremeDensity * 2 * step) / (spread || 1))
    else p *= (spread > 0 ? 0.15 : 1) ** together
  }
  if (agreeing < leastAgreeing || group.size < 2 || differing > agreeing / 2) return Number.POSITIVE_INFINITY
  return p * disagreement ** differing
}

/** A label stands once, or once with each club. */
const isSeldom = (count: number, rows: number): boolean => count === 1 || (count <= 8 && count * 3 <= rows)

/** All extremes in one row: that shot once more, not a line of extremes. */
const isOneRow = (row: SummaryCandidate, group: readonly SummaryCandidate[]): boolean =>
  group.some((r) => [...row.numbers].every(([column, { value }]) => r.numbers.get(column)?.value === value))

/** That shot once more, whatever its numbers agree with. */
const isDouble = (row: SummaryCandidate, group: readonly SummaryCandidate[]): boolean =>
  row.numbers.size >= 3 && isOneRow(row, group)

/** So small a share of the usual value in most columns has no shot among full ones, but a line of spreads has it. */
const spreadShare = 0.12
const largestShare = 0.35
/** Columns that scatter more than this share of their middle say nothing about size. */
const steadyShare = 0.35

/** How unlikely a shot's positive numbers are all so far below those of the others; 1 if they are not. */
const spreadBySize = (row: SummaryCandidate, group: GroupColumns): number => {
  if (group.size < 3) return 1
  const shares = [...row.numbers].flatMap(([column, { value }]) => {
    const others = (group.columns.get(column)?.values ?? []).filter((o) => o !== 0)
    const isSteady =
      others.length >= 2 && others.every((o) => o > 0) && sdOf(others, 1) < steadyShare * median(others)!
    return isSteady ? [Math.abs(value) / median(others)!] : []
  })
  if (shares.length < 2 || shares.some((s) => s > largestShare)) return 1
  const small = shares.filter((s) => s < spreadShare).length
  if (shares.length === 2) return small === 2 ? 1e-3 : 1
  return small === shares.length ? 1e-4 : small * 3 >= shares.length * 2 ? 1e-3 : 1
}

/** Odds, before the numbers are looked at, that a line sums up others; judged, no source. */
const priorOdds = {
  plain: 2e-4,
  edge: 3e-3,
  lastApart: 0.05,
  fewMarks: 0.2,
  noMarks: 3,
  moreDigits: 3,
  oddName: 3,
  aboveFirstClub: 3,
  beside: 0.1,
  word: 10,
  run: 5e-4,
  runApart: 0.05,
} as const
/** Lines that sum up others and agree with none of our sums: one in twenty. */
const noneAgrees = 20
const inPercent = said('sum.inPercent')
const sureOdds = 10
const unsureOdds = 0.12
const unsureRunOdds = 0.5

/**
 * Which rows sum up others (averages, spreads, extremes) and are no shots: by their label in any language, and without
 * one by their numbers, which agree with a statistic of the rows around them; the less a row looks like a shot
 * otherwise, the less agreement it takes.
 */
export const summaryRows = (rows: readonly SummaryCandidate[]): (SummaryFound | null)[] => {
  const found: (SummaryFound | null)[] = rows.map(() => null)
  const textCounts = new Map<string, number>()
  for (const row of rows) {
    for (const { column, text } of row.texts) {
      const key = `${column} ${text}`
      textCounts.set(key, (textCounts.get(key) ?? 0) + 1)
    }
  }
  // Lines that a label gives away are no measure of what a shot has.
  const unlabelled = rows.filter(
    (r) => !r.isInPercent && !r.texts.some(({ text }) => summaryWord(text)?.extent === 'all'),
  )
  const usualMarks = ['time', 'number', 'club', 'block'].filter(
    (mark) => unlabelled.filter((r) => r.marks.has(mark)).length * 2 >= unlabelled.length,
  )
  const tellingMarks = usualMarks.filter((mark) => mark === 'time' || mark === 'number')
  // A program writes its sums with more digits than the device its shots.
  const digits = new Map<number, number[]>()
  for (const row of rows) {
    for (const [column, { decimals }] of row.numbers) {
      digits.set(column, [...(digits.get(column) ?? []), decimals])
    }
  }
  const usualDigits = new Map([...digits].map(([column, list]) => [column, median(list)!]))
  const hasMoreDigits = (i: number) => {
    const { numbers } = rows[i]!
    const more = [...numbers].filter(([column, { decimals }]) => decimals > usualDigits.get(column)!)
    return more.length >= 2 && more.length * 2 > numbers.size
  }

  // Those with a plain label first, so that they are in nobody's group.
  rows.forEach((row, i) => {
    if (row.isInPercent) found[i] = { reason: inPercent, isSure: true }
    row.texts.forEach(({ column, text, place, isBlock, isMisplaced }, position) => {
      if (found[i] !== null) return
      const word = summaryWord(text)
      // What stands in most lines is a name, whatever it says.
      if (!word || (textCounts.get(`${column} ${text}`)! * 2 > rows.length && rows.length > 2)) return
      const isNamePlace = place !== 'free' || (position === 0 && column === 0)
      const isStrong =
        word.strength === 'strong' &&
        (place !== 'free' || (word.extent === 'all' && (isNamePlace || !isLikeOthers(row))))
      const isWeak =
        word.strength === 'weak' &&
        word.extent === 'all' &&
        (place === 'number' || (column === 0 && row.marks.size === 0))
      // A block of that name would be a shot's if the line had a time or a number.
      const isBlockLabel =
        word.strength === 'strong' &&
        (word.extent === 'all' || tellingMarks.length > 0) &&
        isBlock &&
        !tellingMarks.some((mark) => row.marks.has(mark))
      // Such words stand for no time and no number: "7 Iron Max" in the column of dates.
      if (isStrong || isWeak || isBlockLabel || isMisplaced) found[i] = { reason: text.trim(), isSure: true }
    })
  })
  function isLikeOthers(row: SummaryCandidate) {
    return usualMarks.length > 0 && usualMarks.every((mark) => row.marks.has(mark))
  }

  const isShot = (i: number) => !found[i]?.isSure && rows[i]!.numbers.size > 0
  // Clubs that come in turns make no groups.
  const changes = rows.filter((r, i) => i > 0 && r.club !== rows[i - 1]!.club).length
  const clubsComeInRuns = changes * 4 <= rows.length
  const oddsOf = (i: number): number => {
    const row = rows[i]!
    const isLast = rows.slice(i + 1, i + 12).every((_, k) => !isShot(i + 1 + k)) && i + 12 >= rows.length
    const lacking = usualMarks.filter((mark) => !row.marks.has(mark)).length
    const saysWord = row.texts.some(({ text, place, column }, k) => {
      const isFirst = k === 0 && column === 0
      return (
        (place !== 'free' || isFirst || (lacking > 0 && summaryWord(text)?.extent === 'all')) &&
        summaryWord(text) !== null &&
        // Each club may have its own.
        isSeldom(textCounts.get(`${column} ${text}`)!, rows.length)
      )
    })
    if (saysWord) return priorOdds.word
    if (row.hasOddName) return priorOdds.oddName
    if (row.isAboveFirstClub) return priorOdds.aboveFirstClub
    if (tellingMarks.length > 1 && tellingMarks.every((mark) => !row.marks.has(mark))) {
      return priorOdds.noMarks
    }
    if (lacking > 0) return lacking === usualMarks.length ? priorOdds.noMarks : priorOdds.fewMarks
    if (usualMarks.length === 0 && hasMoreDigits(i)) return priorOdds.moreDigits
    if (tellingMarks.length > 0) return isLast || row.isApart ? priorOdds.plain : 0
    // An average without a label stands beside its spread.
    if ([i - 1, i + 1].some((k) => byNumbers.has(k) && found[k]?.isSure)) return priorOdds.beside
    if (row.isApart && isLast) return priorOdds.lastApart
    const isEdge =
      i === 0 ||
      isLast ||
      row.startsGroup ||
      row.isApart ||
      rows[i + 1]!.startsGroup ||
      rows[i + 1]!.isApart ||
      [i + 1, i - 1].some((k) => found[k] != null || rows[k]!.numbers.size === 0) ||
      (clubsComeInRuns && rows[i + 1]!.club !== row.club)
    return isEdge ? priorOdds.edge : 0
  }
  const look = (i: number): void => {
    if (!isShot(i)) return
    const odds = oddsOf(i)
    if (odds === 0) return
    const row = rows[i]!
    let best: { name: StatisticName; p: number } = { name: 'mean', p: noneAgrees }
    for (const group of groupsAround(rows, i, isShot)) {
      if (group.length < 2) continue
      const columns = columnsOf(group)
      const isSameKind = row.club === null || group.every((r) => r.club === row.club)
      const bySize = isSameKind ? spreadBySize(row, columns) : 1
      if (bySize < 1 && bySize < best.p) best = { name: 'sd', p: bySize }
      for (const name of statisticNames) {
        const p = chance(name, row, columns)
        const isShotAgain =
          name === 'smallest' || name === 'largest' ? isOneRow(row, group) : isDouble(row, group)
        if (p < best.p && !isShotAgain) {
          best = { name, p }
        }
      }
    }
    const posterior = odds / best.p
    if (posterior > sureOdds) {
      byNumbers.add(i)
      found[i] = { reason: ofTheLines(best.name), isSure: true }
    } else if (posterior > unsureOdds) {
      found[i] = {
        reason: best.p < noneAgrees ? ofTheLines(best.name) : said('sum.any'),
        isSure: false,
      }
    } else if (!isOfRun.has(i)) found[i] = null
  }
  const isOfRun = new Set<number>()
  const byNumbers = new Set(
    rows.flatMap((r, i) => (r.isInPercent && found[i]?.reason === inPercent ? [i] : [])),
  )
  for (const { lines, odds } of runsOfSummaries(rows, isShot, tellingMarks, clubsComeInRuns)) {
    if (odds < unsureRunOdds) continue
    for (const { i, name } of lines) {
      if (found[i]?.isSure) continue
      isOfRun.add(i)
      byNumbers.add(i)
      found[i] = { reason: ofTheLines(name), isSure: odds > sureOdds }
    }
  }
  // A line of spreads may follow one of averages: what was found makes the line before it an edge.
  for (let pass = 0, before = -1; pass < 6; pass++) {
    rows.forEach((_, i) => look(i))
    const count = found.filter((f) => f !== null).length
    if (count === before) break
    before = count
  }
  return found
}

/** The longest run of lines that sum up: average, median, spread, smallest, largest. */
const longestRun = 5

/**
 * Runs of two to five lines at the edge of a table or of one club's part, each of which agrees with another statistic of
 * the rest: the average alone might be a shot, the average followed by the spread, the smallest and the largest is none.
 */
function* runsOfSummaries(
  rows: readonly SummaryCandidate[],
  isShot: (i: number) => boolean,
  tellingMarks: readonly string[],
  clubsComeInRuns: boolean,
): Generator<{ lines: { i: number; name: StatisticName }[]; odds: number }> {
  const shots = rows.flatMap((_, i) => (isShot(i) ? [i] : []))
  const isCut = (i: number, before: number) =>
    rows.slice(before + 1, i + 1).some((r) => r.startsGroup || r.isApart) ||
    (clubsComeInRuns && rows[i]!.club !== rows[before]!.club)
  const parts: number[][] = []
  shots.forEach((i, k) => {
    if (k > 0 && !isCut(i, shots[k - 1]!)) parts.at(-1)!.push(i)
    else parts.push([i])
  })
  const edges = [...parts, ...(parts.length > 1 && shots.length <= longestGroup ? [shots] : [])]
  for (const part of edges) {
    // A part may be nothing but the run: it then sums up what stands before or behind it.
    for (let k = Math.min(longestRun, part.length); k >= 2; k--) {
      for (const run of [part.slice(-k), part.slice(0, k)]) {
        if (run.some((i) => tellingMarks.length > 0 && tellingMarks.every((m) => rows[i]!.marks.has(m)))) {
          continue
        }
        const own = part.filter((i) => !run.includes(i))
        const others = shots.length > longestGroup ? own : shots.filter((i) => !run.includes(i))
        const club = rows[run[0]!]!.club
        const groups = [own, others, others.filter((i) => rows[i]!.club === club)].filter(
          (g) => g.length >= 2,
        )
        let best: { lines: { i: number; name: StatisticName }[]; p: number } | null = null
        for (const group of groups) {
          const found = asRun(
            run,
            group.map((i) => rows[i]!),
            rows,
          )
          if (found && found.p < (best?.p ?? 1)) best = found
        }
        if (!best) continue
        const first = Math.min(...run)
        const isApart = rows[first]!.isApart && run.length < shots.length
        yield { lines: best.lines, odds: (isApart ? priorOdds.runApart : priorOdds.run) / best.p }
      }
    }
  }
}

const asRun = (
  run: readonly number[],
  group: readonly SummaryCandidate[],
  rows: readonly SummaryCandidate[],
) => {
  const columns = columnsOf(group)
  const lines: { i: number; name: StatisticName }[] = []
  let p = 1
  let isNew = false
  for (const i of run) {
    const row = rows[i]!
    const kindOf = (name: StatisticName) => (name === 'population sd' ? 'sd' : name)
    let best: { name: StatisticName; p: number } | null = null
    for (const name of statisticNames) {
      if (lines.some((l) => kindOf(l.name) === kindOf(name))) continue
      const one = chance(name, row, columns, Math.min(2, row.numbers.size))
      if (one < (best?.p ?? 0.5)) best = { name, p: one }
    }
    if (!best) return null
    lines.push({ i, name: best.name })
    p *= best.p
    isNew ||= row.numbers.size < 2 || !isOneRow(row, group)
  }
  return isNew ? { lines, p } : null
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
  const below: SummaryCandidate[] = []
  let from = i + 1
  while (from < rows.length && !isShot(from) && !rows[from]!.startsGroup) from++
  for (
    let m = from;
    m < rows.length && isShot(m) && !rows[m]!.startsGroup && below.length < longestGroup;
    m++
  ) {
    below.push(rows[m]!)
  }
  const isLong = rows.length > longestGroup
  const others = isLong ? [] : rows.filter((_, m) => m !== i && isShot(m))
  const before = isLong ? [] : rows.filter((_, m) => m < i && isShot(m))
  const otherClub = above.findIndex((r) => row.club !== null && r.club !== null && r.club !== row.club)
  // Its own club may be the heading's of the row above the summary.
  const lastRun = above.findIndex((r) => r.club !== above[0]!.club)
  const nextRun = below.findIndex((r) => r.club !== below[0]!.club)
  const apart = above.findIndex((_, at) => at > 0 && above[at - 1]!.isApart)
  const groups = [
    above,
    above.slice(1),
    above.slice(2),
    above.slice(3),
    otherClub > 0 ? above.slice(0, otherClub) : [],
    lastRun > 0 ? above.slice(0, lastRun) : [],
    apart > 0 ? above.slice(0, apart) : [],
    below,
    nextRun > 0 ? below.slice(0, nextRun) : [],
    // The last of them may sum up the next club, whose name comes behind.
    nextRun > 0 ? below.slice(0, nextRun - 1) : below.slice(0, -1),
    others,
    before.length > above.length ? before : [],
    others.filter((r) => r.club === row.club),
    below.slice(1),
  ]
  // A table that lists every shot twice sums up each once.
  const once = groups.map((group) =>
    group.filter(
      (r, at) =>
        at === 0 || [...r.numbers].some(([c, n]) => group[at - 1]!.numbers.get(c)?.value !== n.value),
    ),
  )
  return [...groups, ...once.filter((g, at) => g.length * 2 <= groups[at]!.length)]
}
