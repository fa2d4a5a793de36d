// What the tests of custody counted while they ran: each adds to a file that the run gave it, the run prints the sums.
import { appendFileSync, existsSync, readFileSync } from 'node:fs'

/** In the order they are printed. */
export const tallied = [
  'kills survived',
  'faults injected',
  'hostile files',
  'calls',
  'bytes searched after deletion',
  'connections seen',
]

/**
 * Adds to one of the sums; does nothing in a run that keeps none.
 * @param {string} name one of `tallied`
 * @param {number} count
 */
export function tally(name, count) {
  if (!tallied.includes(name)) throw new Error(`nothing of the name "${name}" is tallied`)
  const file = process.env.LEADSIDE_TALLY
  // One short line a call: whole even when several processes write.
  if (file) appendFileSync(file, `${JSON.stringify([name, count])}\n`)
}

/** @param {string} file @returns {Map<string, number>} */
export function sumTally(file) {
  const sums = new Map()
  const lines = existsSync(file) ? readFileSync(file, 'utf8').split('\n').filter(Boolean) : []
  for (const line of lines) {
    const [name, count] = JSON.parse(line)
    sums.set(name, (sums.get(name) ?? 0) + count)
  }
  return sums
}

/** What was not run is said as such, and is not a nought. @param {Map<string, number>} sums */
export function tallyLine(sums) {
  return tallied
    .map((name) => `${name}: ${sums.has(name) ? sums.get(name).toLocaleString('en') : 'not run'}`)
    .join(', ')
}
