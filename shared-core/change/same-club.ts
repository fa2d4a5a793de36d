import type { ChangeBlock, ChangeShot } from './change-shot.ts'

/** Shots that a report did not look at, and why. */
export interface LeftOut {
  block: string
  /** Null for shots whose club is not known. */
  club: string | null
  shots: number
  why: 'other-club' | 'left-out-by-coach'
}

/** The blocks with one club's shots only, and what that left out. */
export interface SameClub {
  /** The club the report is about; null if the records name none. */
  club: string | null
  /** False if no club was hit in every block; the blocks are then empty. */
  isShared: boolean
  blocks: ChangeBlock[]
  leftOut: LeftOut[]
}

/** No club code is empty (model/club.ts), so this fits no shot. */
const noClub = ''

const clubOf = (shot: ChangeShot): string | null => shot.club ?? null

/** Named clubs first, in alphabetical order: the choice must not hang on the order of the shots. */
const byName = (a: string | null, b: string | null): number =>
  a === b ? 0 : a === null ? 1 : b === null ? -1 : a < b ? -1 : 1

/** Clubs hit in every one of the blocks, those with the most shots in the smallest block first. */
export function clubsInEvery(blocks: readonly ChangeBlock[]): (string | null)[] {
  const counts = new Map<string | null, number[]>()
  blocks.forEach((block, i) => {
    for (const shot of block.shots) {
      if (shot.isLeftOut) continue
      const perBlock = counts.get(clubOf(shot)) ?? blocks.map(() => 0)
      perBlock[i]!++
      counts.set(clubOf(shot), perBlock)
    }
  })
  return [...counts]
    .map(([club, perBlock]) => ({
      club,
      least: Math.min(...perBlock),
      all: perBlock.reduce((a, b) => a + b, 0),
    }))
    .filter(({ least }) => least > 0)
    .sort((a, b) => b.least - a.least || b.all - a.all || byName(a.club, b.club))
    .map(({ club }) => club)
}

/** The club hit most often over all blocks, whether or not every block has it; undefined without any shot. */
export function mostHitClub(blocks: readonly ChangeBlock[]): string | null | undefined {
  const counts = new Map<string | null, number>()
  for (const block of blocks) {
    for (const shot of block.shots) {
      if (!shot.isLeftOut) counts.set(clubOf(shot), (counts.get(clubOf(shot)) ?? 0) + 1)
    }
  }
  return [...counts].sort((a, b) => b[1] - a[1] || byName(a[0], b[0]))[0]?.[0]
}

/** The blocks with only the shots of one club; what was not taken is listed. */
export function onlyClub(
  blocks: readonly ChangeBlock[],
  club: string | null,
): { blocks: ChangeBlock[]; leftOut: LeftOut[] } {
  const leftOut: LeftOut[] = []
  const note = (block: string, shots: readonly ChangeShot[], why: LeftOut['why']): void => {
    for (const each of new Set(shots.map(clubOf))) {
      leftOut.push({ block, club: each, shots: shots.filter((shot) => clubOf(shot) === each).length, why })
    }
  }
  const kept = blocks.map((block) => {
    note(
      block.label,
      block.shots.filter((shot) => shot.isLeftOut),
      'left-out-by-coach',
    )
    note(
      block.label,
      block.shots.filter((shot) => !shot.isLeftOut && clubOf(shot) !== club),
      'other-club',
    )
    return { ...block, shots: block.shots.filter((shot) => !shot.isLeftOut && clubOf(shot) === club) }
  })
  return { blocks: kept, leftOut }
}

/**
 * The shots that may be compared: of one club, hit in every block. Without a wish it is the club with the most
 * shots in the smallest block.
 */
export function sameClub(blocks: readonly ChangeBlock[], wanted?: string | null): SameClub {
  const shared = clubsInEvery(blocks)
  const club = wanted === undefined ? shared[0] : shared.find((each) => each === wanted)
  const isShared = club !== undefined
  if (isShared) return { club, isShared, ...onlyClub(blocks, club) }
  const { leftOut } = onlyClub(blocks, noClub)
  return { club: wanted ?? null, isShared, blocks: blocks.map((block) => ({ ...block, shots: [] })), leftOut }
}
