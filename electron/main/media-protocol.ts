import fs from 'node:fs'
import { stat } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { protocol } from 'electron'
import type { CallResult } from '../../shared-core/contract/envelope.ts'

const kinds = ['original', 'proxy', 'play', 'poster', 'strip']

/** One range of a `Range` header against a file's size; null if it can't be satisfied. Whole file without a header. */
export const rangeOf = (
  header: string | null,
  size: number,
): { start: number; end: number; isPart: boolean } | null => {
  if (!header) return { start: 0, end: size - 1, isPart: false }
  const match = /^bytes=(\d*)-(\d*)$/.exec(header.trim())
  if (!match || (match[1] === '' && match[2] === '')) return null
  const [first, last] = [match[1]!, match[2]!]
  const start = first === '' ? Math.max(0, size - Number(last)) : Number(first)
  const end = first === '' || last === '' ? size - 1 : Math.min(size - 1, Number(last))
  return start > end || start >= size ? null : { start, end, isPart: true }
}

/** `media://clip/<id>/<kind>` names an id, never a path, so there is no path to climb out of. */
export const idAndKind = (url: string): { clipId: string; kind: string } | null => {
  const { host, pathname } = new URL(url)
  const match = /^\/([\w-]{1,64})\/([a-z]+)$/.exec(pathname)
  if (host !== 'clip' || !match || !kinds.includes(match[2]!)) return null
  return { clipId: match[1]!, kind: match[2]! }
}

const headers = { 'Access-Control-Allow-Origin': '*', 'Cache-Control': 'no-cache', 'Accept-Ranges': 'bytes' }
const plain = (status: number, extra: Record<string, string> = {}) =>
  new Response(null, { status, headers: { ...headers, ...extra } })

/** Serves clips to the window, with byte ranges. Bytes go from disk to the window, never through messages. */
export const serveMedia = (ask: (name: string, input: unknown) => Promise<CallResult<unknown>>) => {
  protocol.handle('media', async (request) => {
    const wanted = idAndKind(request.url)
    if (!wanted) return plain(400)
    const result = await ask('media.resolve', wanted)
    if (!result.ok) return plain(404)
    const { file, type } = result.output as { file: string; type: string }
    const size = await stat(file).then(
      (s) => s.size,
      () => null,
    )
    if (size === null) return plain(404)
    const range = rangeOf(request.headers.get('range'), size)
    if (!range) return plain(416, { 'Content-Range': `bytes */${size}` })
    const stream = fs.createReadStream(file, { start: range.start, end: range.end })
    return new Response(Readable.toWeb(stream) as ReadableStream, {
      status: range.isPart ? 206 : 200,
      headers: {
        ...headers,
        'Content-Type': type,
        'Content-Length': String(range.end - range.start + 1),
        ...(range.isPart ? { 'Content-Range': `bytes ${range.start}-${range.end}/${size}` } : {}),
      },
    })
  })
}
