import { open, type FileHandle } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { protocol } from 'electron'
import type { CallResult } from '../../shared-core/contract/envelope.ts'
import { idAndKind, rangeOf } from './media-request.ts'

const headers = { 'Access-Control-Allow-Origin': '*', 'Cache-Control': 'no-cache', 'Accept-Ranges': 'bytes' }
const plain = (status: number, extra: Record<string, string> = {}) =>
  new Response(null, { status, headers: { ...headers, ...extra } })

/** Ranges up to here are read at once; a stream goes through the main process in many small turns. */
const maxAtOnce = 2 * 1024 * 1024

const bytesOf = async (
  handle: FileHandle,
  start: number,
  length: number,
): Promise<Uint8Array<ArrayBuffer>> => {
  try {
    const bytes = new Uint8Array(length)
    const { bytesRead } = await handle.read(bytes, 0, length, start)
    return bytes.subarray(0, bytesRead)
  } finally {
    await handle.close()
  }
}

const openQuietly = (file: string): Promise<FileHandle | null> => open(file).catch(() => null)

/** Serves clips to the window, with byte ranges. Bytes go from disk to the window, never through messages. */
export const serveMedia = (ask: (name: string, input: unknown) => Promise<CallResult<unknown>>) => {
  // A clip is read in many small ranges; the library, which may be computing, is asked for its file once.
  const found = new Map<string, { file: string; type: string }>()
  protocol.handle('media', async (request) => {
    const wanted = idAndKind(request.url)
    if (!wanted) return plain(400)
    const key = `${wanted.clipId}/${wanted.kind}`
    const resolve = async () => {
      const result = await ask('media.resolve', wanted)
      if (!result.ok) return null
      if (found.size > 200) found.clear()
      found.set(key, result.output as { file: string; type: string })
      return found.get(key)!
    }
    const before = request.headers.has('range') ? found.get(key) : undefined
    let known = before ?? (await resolve())
    let handle = known && (await openQuietly(known.file))
    // A film that is looked at while it is taken in moves into its place meanwhile.
    if (known && !handle) {
      known = await resolve()
      handle = known && (await openQuietly(known.file))
    }
    if (!known || !handle) return plain(404)
    const { size } = await handle.stat()
    const range = rangeOf(request.headers.get('range'), size)
    if (!range) {
      await handle.close()
      return plain(416, { 'Content-Range': `bytes */${size}` })
    }
    const length = range.end - range.start + 1
    const body =
      length <= maxAtOnce
        ? await bytesOf(handle, range.start, length)
        : (Readable.toWeb(handle.createReadStream(range)) as ReadableStream)
    return new Response(body, {
      status: range.isPart ? 206 : 200,
      headers: {
        ...headers,
        'Content-Type': known.type,
        'Content-Length': String(length),
        ...(range.isPart ? { 'Content-Range': `bytes ${range.start}-${range.end}/${size}` } : {}),
      },
    })
  })
}
