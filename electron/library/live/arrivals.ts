import path from 'node:path'

/** A file as a folder lists it. */
export interface Listed {
  file: string
  size: number
  mtimeMs: number
}

/** One state of a file: the same name with other content is another arrival. */
export const keyOf = ({ file, size, mtimeMs }: Listed): string => `${file}|${size}|${Math.round(mtimeMs)}`

/** Names under which cameras, browsers and sync programs write what is not finished, and what systems leave behind. */
const unfinished = /^[._~]|\.(part|partial|crdownload|download|tmp|temp|filepart|!ut|opdownload)$|~$/i

export const isUnfinishedName = (file: string): boolean => unfinished.test(path.basename(file))

/**
 * Tells when files have stopped growing, from one listing of their folder after another. A file whose size or time changed
 * starts anew; one that is no longer listed is forgotten.
 */
export class Arrivals {
  #seen = new Map<string, { key: string; sinceMs: number }>()

  /** Takes a listing; how long each file has been as it is now, ms. */
  see(listing: readonly Listed[], nowMs: number): { listed: Listed; stillMs: number }[] {
    const next = new Map<string, { key: string; sinceMs: number }>()
    const result = listing.map((listed) => {
      const key = keyOf(listed)
      const before = this.#seen.get(listed.file)
      const sinceMs = before?.key === key ? before.sinceMs : nowMs
      next.set(listed.file, { key, sinceMs })
      return { listed, stillMs: nowMs - sinceMs }
    })
    this.#seen = next
    return result
  }
}
