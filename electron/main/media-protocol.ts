import fs from 'node:fs'
import { open, stat } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { protocol } from 'electron'
import type { CallResult } from '../../shared-core/contract/envelope.ts'
import { idAndKind, rangeOf } from './media-request.ts'

const headers = { 'Access-Control-Allow-Origin': '*', 'Cache-Control': 'no-cache', 'Accept-Ranges': 'bytes' }
const plain = (status: number, extra: Record<string, string> = {}) =>
  new Response(null, { status, headers: { ...headers, ...extra } })

/** Ranges up to here are read at once; a stream goes through the main process in many small turns. */
const maxAtOnce = 2 * 1024 * 1024

const bytesOf = async (file: string, start: number, length: number): Promise<Uint8Array<ArrayBuffer>> => {
  const handle = await open(file)
  try {
    const bytes = new Uint8Array(length)
    const { bytesRead } = await handle.read(bytes, 0, length, start)
    return bytes.subarray(0, bytesRead)
  } finally {
    await handle.close()
  }
}

/** Serves clips to the window, with byte ranges. Bytes go from disk to the window, never through messages. */
export const serveMedia = (ask: (name: string, input: unknown) => Promise<CallResult<unknown>>) => {
  // A clip is read in many small ranges; the library, which may be computing, is asked for its file once.
  const found = new Map<string, { file: string; type: string }>()
  protocol.handle('media', async (request) => {
    const wanted = idAndKind(request.url)
    if (!wanted) return plain(400)
    const key = `${wanted.clipId}/${wanted.kind}`
    let known = request.headers.has('range') ? found.get(key) : undefined
    if (!known || !fs.existsSync(known.file)) {
      const result = await ask('media.resolve', wanted)
      if (!result.ok) return plain(404)
      known = result.output as { file: string; type: string }
      if (found.size > 200) found.clear()
      found.set(key, known)
    }
    const { file, type } = known
    const size = await stat(file).then(
      (s) => s.size,
      () => null,
    )
    if (size === null) return plain(404)
    const range = rangeOf(request.headers.get('range'), size)
    if (!range) return plain(416, { 'Content-Range': `bytes */${size}` })
    const length = range.end - range.start + 1
    const body =
      length <= maxAtOnce
        ? await bytesOf(file, range.start, length)
        : (Readable.toWeb(fs.createReadStream(file, range)) as ReadableStream)
    return new Response(body, {
      status: range.isPart ? 206 : 200,
      headers: {
        ...headers,
        'Content-Type': type,
        'Content-Length': String(length),
        ...(range.isPart ? { 'Content-Range': `bytes ${range.start}-${range.end}/${size}` } : {}),
      },
    })
  })
}
