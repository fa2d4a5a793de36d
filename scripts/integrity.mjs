import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { pipeline } from 'node:stream/promises'

/**
 * The integrity of a file as npm writes it (`sha512-…`, base64).
 * @param {string} file
 * @returns {Promise<string>}
 */
export async function fileIntegrity(file) {
  const hash = createHash('sha512')
  await pipeline(createReadStream(file), hash)
  return `sha512-${hash.digest('base64')}`
}

/**
 * Refuses a file that is not byte for byte the one that was pinned.
 * @param {string} file
 * @param {string} pinned
 */
export async function requireIntegrity(file, pinned) {
  const found = await fileIntegrity(file)
  if (found !== pinned) {
    throw new Error(
      `the fetched file is not the pinned one and was not used (expected ${pinned}, found ${found})`,
    )
  }
}
