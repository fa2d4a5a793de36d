import { describe, expect, it } from 'vitest'
import { countReport, sumCounts, summaryLine } from '../../scripts/test-summary.mjs'

const test = (status: string, fullName = 'a rule') => ({ status, fullName })

describe('the closing line', () => {
  it('sums passed, failed and skipped tests over all runs', () => {
    const first = countReport(
      {
        testResults: [
          { status: 'passed', assertionResults: [test('passed'), test('skipped', 'needs a part')] },
        ],
      },
      0,
    )
    const second = countReport({ testResults: [{ status: 'failed', assertionResults: [test('failed')] }] }, 1)
    expect(first.skippedNames).toEqual(['needs a part'])
    expect(summaryLine(sumCounts([first, second]))).toBe('1 passed, 1 failed, 1 skipped')
  })

  it('counts a file that cannot be loaded as a failure', () => {
    const unloadable = { status: 'failed', assertionResults: [] }
    expect(countReport({ testResults: [unloadable, unloadable] }, 1).failed).toBe(2)
  })

  it('never says 0 failed for a run that failed without saying why, or that left no report', () => {
    expect(
      countReport({ testResults: [{ status: 'passed', assertionResults: [test('passed')] }] }, 1).failed,
    ).toBe(1)
    expect(countReport(undefined, 137).failed).toBe(1)
  })
})
