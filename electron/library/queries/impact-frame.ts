import type { LibraryContext } from '../context.ts'

/** The frame of the first impact in a film; null where none is marked. */
export const impactFrame = ({ sqlite }: Pick<LibraryContext, 'sqlite'>, hash: string): number | null => {
  const row = sqlite
    .prepare(
      `SELECT m.frame FROM moment m JOIN view v ON v.id = m.view_id JOIN clip c ON c.id = v.clip_id
       WHERE c.media_hash = ? AND m.name = 'impact' ORDER BY v.from_frame LIMIT 1`,
    )
    .get(hash) as { frame: number } | undefined
  return row?.frame ?? null
}
