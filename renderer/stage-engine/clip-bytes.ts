import { CustomSource } from 'mediabunny'
import type { BytesAnswer, BytesRequest } from './bytes-request.ts'

/** Bytes fetched at a time: a turn through the program's main process costs as much as this many bytes. */
const blockBytes = 512 * 1024
/** Blocks that are kept; what was read of them is kept elsewhere. */
const maxBlocks = 8

interface Piece {
  bytes: Uint8Array
  fileBytes: number
}

const waiting = new Map<number, { resolve: (piece: Piece) => void; reject: (reason: Error) => void }>()
let requests = 0
let worker: Worker | null = null

/** One worker for all clips, made with the first one. */
const theWorker = (): Worker => {
  if (worker) return worker
  worker = new Worker(new URL('./bytes-worker.ts', import.meta.url), { type: 'module' })
  worker.addEventListener('message', ({ data }: MessageEvent<BytesAnswer>) => {
    const done = waiting.get(data.id)
    waiting.delete(data.id)
    if ('problem' in data) done?.reject(new Error(data.problem))
    else done?.resolve({ bytes: new Uint8Array(data.bytes), fileBytes: data.fileBytes })
  })
  return worker
}
const tell = (request: BytesRequest) => theWorker().postMessage(request)

/** A clip's file for the demuxer, read in blocks by byte ranges. */
export const clipBytes = (url: string): CustomSource => {
  const underWay = new Set<number>()
  const blocks = new Map<number, Promise<Piece>>()

  const fetchBlock = (index: number): Promise<Piece> =>
    new Promise<Piece>((resolve, reject) => {
      const id = ++requests
      underWay.add(id)
      waiting.set(id, {
        resolve: (piece) => {
          underWay.delete(id)
          resolve(piece)
        },
        reject: (reason) => {
          underWay.delete(id)
          blocks.delete(index)
          reject(reason)
        },
      })
      tell({ type: 'read', id, url, start: index * blockBytes, end: (index + 1) * blockBytes })
    })

  const blockAt = (index: number): Promise<Piece> => {
    const known = blocks.get(index)
    if (known) return known
    const block = fetchBlock(index)
    blocks.set(index, block)
    const [oldest] = blocks.keys()
    if (blocks.size > maxBlocks) blocks.delete(oldest!)
    return block
  }

  return new CustomSource({
    getSize: async () => (await blockAt(0)).fileBytes,
    read: async (start, end) => {
      const from = Math.floor(start / blockBytes)
      const to = Math.floor((end - 1) / blockBytes)
      const indices = Array.from({ length: to - from + 1 }, (_, i) => from + i)
      const parts = await Promise.all(indices.map(blockAt))
      if (parts.length === 1) {
        return parts[0]!.bytes.subarray(start - from * blockBytes, end - from * blockBytes)
      }
      const whole = new Uint8Array(end - start)
      parts.forEach(({ bytes }, i) => {
        const at = (from + i) * blockBytes
        whole.set(bytes.subarray(Math.max(0, start - at), end - at), Math.max(0, at - start))
      })
      return whole
    },
    dispose: () => {
      for (const id of underWay) tell({ type: 'stop', id })
      blocks.clear()
    },
    // The packets keep their bytes; a second copy is of no use.
    maxCacheSize: blockBytes,
    prefetchProfile: 'none',
    // A clip that was closed while it was read.
    handleUnhandledError: () => {},
  })
}
