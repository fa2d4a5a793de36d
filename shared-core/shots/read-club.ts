import { bare } from './unit.ts'

const woodWords = [
  'wood',
  'woods',
  'legno',
  'madeira',
  'w',
  'fw',
  'fairway',
  'fairwaywood',
  'holz',
  'madera',
  'bois',
  'trä',
  'tra',
  'ウッド',
  'フェアウェイウッド',
  'hout',
].map(bare)
const hybridWords = [
  'hybrid',
  'h',
  'hy',
  'hyb',
  'hybride',
  'hibrido',
  'utility',
  'u',
  'rescue',
  'ibrido',
  'hybrides',
  'ユーティリティ',
  'ut',
  'ハイブリッド',
].map(bare)
const ironWords = [
  'iron',
  'i',
  'ir',
  'eisen',
  'e',
  'hierro',
  'fer',
  'irons',
  'ferro',
  'ijzer',
  'jarn',
  'jern',
  'rauta',
  'アイアン',
  '아이언',
  '铁',
  '号铁',
].map(bare)

const named: Readonly<Record<string, string>> = {
  driver: 'driver',
  d: 'driver',
  dr: 'driver',
  drv: 'driver',
  drive: 'driver',
  dri: 'driver',
  p: 'pitching-wedge',
  pw: 'pitching-wedge',
  pitching: 'pitching-wedge',
  pitchingwedge: 'pitching-wedge',
  pitch: 'pitching-wedge',
  wedgep: 'pitching-wedge',
  wp: 'pitching-wedge',
  g: 'gap-wedge',
  gw: 'gap-wedge',
  gap: 'gap-wedge',
  gapwedge: 'gap-wedge',
  a: 'gap-wedge',
  aw: 'gap-wedge',
  approachwedge: 'gap-wedge',
  attackwedge: 'gap-wedge',
  uw: 'gap-wedge',
  s: 'sand-wedge',
  sw: 'sand-wedge',
  sand: 'sand-wedge',
  sandwedge: 'sand-wedge',
  sandwedges: 'sand-wedge',
  ws: 'sand-wedge',
  l: 'lob-wedge',
  lw: 'lob-wedge',
  lob: 'lob-wedge',
  lobwedge: 'lob-wedge',
  putter: 'putter',
  pt: 'putter',
  putt: 'putter',
  [bare('ドライバー')]: 'driver',
  [bare('드라이버')]: 'driver',
  [bare('一号木')]: 'driver',
  [bare('ピッチングウェッジ')]: 'pitching-wedge',
  [bare('サンドウェッジ')]: 'sand-wedge',
  [bare('パター')]: 'putter',
  ptr: 'putter',
}

/** A wedge told only by its loft; the bands are common practice, no source. */
const wedgeByLoft = (loftDeg: number): string | null =>
  loftDeg >= 43 && loftDeg < 49
    ? 'pitching-wedge'
    : loftDeg >= 49 && loftDeg < 54
      ? 'gap-wedge'
      : loftDeg >= 54 && loftDeg < 58
        ? 'sand-wedge'
        : loftDeg >= 58 && loftDeg <= 64
          ? 'lob-wedge'
          : null

const alternatives = (words: readonly string[]) =>
  `(?:${[...words].sort((a, b) => b.length - a.length).join('|')})`
const numberedKinds: readonly (readonly [RegExp, string])[] = (
  [
    [woodWords, 'wood'],
    [hybridWords, 'hybrid'],
    [ironWords, 'iron'],
  ] as const
).map(([words, kind]) => [
  new RegExp(`^(?:(\\d{1,2})${alternatives(words)}|${alternatives(words)}(\\d{1,2}))$`),
  kind,
])

/**
 * The club code (model/club.ts) for a club as files and coaches write it: `W1`, `3W`, `I7`, `7i`, `7-Iron`,
 * `Eisen 7`, `PW`, `SW 56°`, `52 deg`. Words it does not know come back as they are; an empty cell is null.
 */
export const readClub = (text: string): string | null => {
  const trimmed = text.trim().replace(/\s+/g, ' ')
  if (trimmed.length > 120) return trimmed
  if (trimmed === '' || /^[-–—]+$|^n\/?a$/i.test(trimmed)) return null
  const spelled = bare(trimmed).replace(/[-–—/()]/g, '')
  const byName = codeOf(spelled) ?? codeOf(spelled.replace(/番/, ''))
  if (byName) return byName

  const loft =
    /^(.*?)[\s-]*(\d{1,2}(?:[.,]\d+)?)\s*(?:°|º|deg\w*|grad)[\s-]*(.*)$/i.exec(trimmed) ??
    /^(\D*?)[\s-]*(\d{2})[\s-]*(\D*)$/.exec(trimmed)
  if (loft) {
    // "SW 56°": the name wins; "56°", "56 wedge": the loft decides.
    const words = bare(`${loft[1]}${loft[3]}`).replace(/[-–—/()]/g, '')
    const stated =
      words === '' || words === 'wedge' ? wedgeByLoft(Number(loft[2]!.replace(',', '.'))) : codeOf(words)
    if (stated) return stated
  }
  // "Driver 2", "Driver 10.5": the number is which one of them, or its loft.
  const numbered = /^(\p{L}[\p{L} ]*?)\s*#?\d{1,2}(?:[.,]\d+)?$/u.exec(trimmed)
  if (numbered && codeOf(bare(numbered[1]!)) === 'driver') return 'driver'
  return trimmed
}

/** True for the code of a club of any number: 4-wood, 7-iron, driver, lob-wedge. */
export const isKnownClub = (club: string): boolean =>
  /^\d{1,2}-(?:wood|hybrid|iron)$/.test(club) || Object.values(named).includes(club)

/**
 * A bare number as a club ("7"): an iron, as players say it. From 6 on no other club of that number is usual; below,
 * only beside clubs of the same file that say what kind they are ("3W", "4H").
 */
export const clubOfBareNumber = (text: string, others: readonly (string | null)[]): string | null => {
  const number = /^#?([1-9])$/.exec(text.trim())?.[1]
  if (number === undefined) return null
  const saysKinds = others.some((club) => club !== null && /-(?:wood|hybrid)$/.test(club))
  return Number(number) >= 6 || (saysKinds && Number(number) >= 3) ? `${number}-iron` : null
}

const codeOf = (spelled: string): string | null => {
  if (Object.hasOwn(named, spelled)) return named[spelled]!
  const wedge = /^([pgasl])wedge$/.exec(spelled)?.[1]
  if (wedge !== undefined) return named[wedge]!
  for (const [pattern, kind] of numberedKinds) {
    const match = pattern.exec(spelled)
    const number = match ? Number(match[1] ?? match[2]) : null
    if (number === null) continue
    if (kind === 'wood' && number === 1) return 'driver'
    if (number >= 1 && number <= (kind === 'wood' ? 15 : kind === 'hybrid' ? 9 : 9)) {
      return `${number}-${kind}`
    }
  }
  return null
}
