const kinds = { clip: ['original', 'proxy', 'play', 'poster', 'strip'], coach: ['play', 'poster'] }

/** One range of a `Range` header against a file's size; null if it can't be satisfied. Whole file without a header. */
export const rangeOf = (
  header: string | null,
  size: number,
): { start: number; end: number; isPart: boolean } | null => {
  if (!header) return { start: 0, end: size - 1, isPart: false }
  const match = /^bytes=(\d*)-(\d*)$/.exec(header.trim())
  if (!match || (match[1] === '' && match[2] === '')) return null
  const [first, last] = [match[1]!, match[2]!]
  if (first === '' && Number(last) === 0) return null
  const start = first === '' ? Math.max(0, size - Number(last)) : Number(first)
  const end = first === '' || last === '' ? size - 1 : Math.min(size - 1, Number(last))
  return start > end || start >= size ? null : { start, end, isPart: true }
}

/**
 * `media://clip/<id>/<kind>` and `media://coach/<id>/<kind>` name an id, never a path, so there is no path to climb
 * out of.
 */
export const idAndKind = (url: string): { of: 'clip' | 'coach'; clipId: string; kind: string } | null => {
  const { host, pathname } = new URL(url)
  const match = /^\/([\w-]{1,64})\/([a-z]+)$/.exec(pathname)
  if ((host !== 'clip' && host !== 'coach') || !match) return null
  const [, clipId, kind] = match as unknown as [string, string, string]
  return kinds[host].includes(kind) ? { of: host, clipId, kind } : null
}
