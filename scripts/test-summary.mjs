/**
 * Counts over several vitest JSON reports. A test file that could not even be loaded counts as one failure, and so
 * does a whole step that failed without any test saying so.
 * @typedef {{passed: number, failed: number, skipped: number}} Counts
 */

/**
 * @param {any} report what vitest's json reporter wrote; undefined when it wrote nothing
 * @param {number} exitCode of that vitest
 * @returns {Counts & {skippedNames: string[]}}
 */
export function countReport(report, exitCode) {
  const counts = { passed: 0, failed: 0, skipped: 0, skippedNames: [] }
  for (const file of report?.testResults ?? []) {
    let failedHere = 0
    for (const test of file.assertionResults ?? []) {
      if (test.status === 'passed') counts.passed += 1
      else if (test.status === 'failed') failedHere += 1
      else {
        counts.skipped += 1
        counts.skippedNames.push(test.fullName)
      }
    }
    counts.failed += file.status === 'failed' ? Math.max(1, failedHere) : failedHere
  }
  if (exitCode !== 0 && counts.failed === 0) counts.failed = 1
  return counts
}

/** @param {Counts[]} parts */
export function sumCounts(parts) {
  const sum = { passed: 0, failed: 0, skipped: 0 }
  for (const part of parts) {
    sum.passed += part.passed
    sum.failed += part.failed
    sum.skipped += part.skipped
  }
  return sum
}

/** The one plain line at the end. @param {Counts} counts */
export function summaryLine({ passed, failed, skipped }) {
  return `${passed} passed, ${failed} failed, ${skipped} skipped`
}
