/** What the window asks of the worker that fetches bytes; `end` is the first byte that is not wanted. */
export type BytesRequest =
  { type: 'read'; id: number; url: string; start: number; end: number } | { type: 'stop'; id: number }

export type BytesAnswer =
  { id: number; bytes: ArrayBuffer; fileBytes: number } | { id: number; problem: string }
