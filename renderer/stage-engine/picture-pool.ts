import { frameMemoryBytes } from './memory-budget.ts'

/**
 * Memory of pictures that were let go, kept for the next ones: memory that is new to the program costs several times
 * what decoding into it does. Lent and free together stay within the budget for decoded pictures.
 */
const free = new Map<number, Uint8Array<ArrayBuffer>[]>()
let freeBytes = 0
let lentBytes = 0

/** Bytes for a picture; what was in them before is still there. */
export const lendBytes = (length: number): Uint8Array<ArrayBuffer> => {
  lentBytes += length
  const again = free.get(length)?.pop()
  if (again) {
    freeBytes -= length
    return again
  }
  makeRoom()
  return new Uint8Array(length)
}

/** Takes bytes back; nobody may look at them any more. */
export const takeBackBytes = (bytes: Uint8Array<ArrayBuffer>) => {
  lentBytes -= bytes.length
  const sameLength = free.get(bytes.length) ?? []
  free.set(bytes.length, sameLength)
  sameLength.push(bytes)
  freeBytes += bytes.length
  makeRoom()
}

/** Memory that the pool holds, lent or free, in bytes. */
export const pooledBytes = (): number => lentBytes + freeBytes

/** Lets go what is over the budget, the sizes that were given back longest ago first. */
const makeRoom = () => {
  for (const [length, list] of free) {
    while (pooledBytes() > frameMemoryBytes() && list.pop()) freeBytes -= length
    if (list.length === 0) free.delete(length)
  }
}
