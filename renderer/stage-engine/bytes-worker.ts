import type { BytesAnswer, BytesRequest } from './bytes-request.ts'

// Fetches in a thread of its own: a clip's bytes arrive in hundreds of small turns, which would hold up the window.
const underWay = new Map<number, AbortController>()

const answer = (message: BytesAnswer, transfer: Transferable[] = []) => postMessage(message, { transfer })

const fetchBytes = async (request: Extract<BytesRequest, { type: 'read' }>) => {
  const control = new AbortController()
  underWay.set(request.id, control)
  try {
    const { url, start, end } = request
    const response = await fetch(url, {
      headers: { Range: `bytes=${start}-${end - 1}` },
      signal: control.signal,
    })
    if (response.status !== 206) throw new Error(`its file can't be read (${response.status})`)
    const fileBytes = Number(response.headers.get('Content-Range')?.split('/')[1])
    const bytes = await response.arrayBuffer()
    answer({ id: request.id, bytes, fileBytes }, [bytes])
  } catch (error) {
    answer({ id: request.id, problem: (error as Error).message })
  } finally {
    underWay.delete(request.id)
  }
}

addEventListener('message', ({ data }: MessageEvent<BytesRequest>) => {
  if (data.type === 'read') void fetchBytes(data)
  else underWay.get(data.id)?.abort()
})
