import { readFileSync } from 'node:fs'
import path from 'node:path'
import { afterEach, describe, expect, it } from 'vitest'
import { sumTally, tally, tallied, tallyLine } from '../../scripts/tally.mjs'
import { temporaryFolder } from './temporary-folder.ts'

const kept = process.env.LEADSIDE_TALLY
afterEach(() => {
  if (kept === undefined) delete process.env.LEADSIDE_TALLY
  else process.env.LEADSIDE_TALLY = kept
})

describe('what the tests of custody count', () => {
  it('is summed up by name, and what was not run is not a nought', () => {
    const file = path.join(temporaryFolder({}), 'tally')
    process.env.LEADSIDE_TALLY = file
    tally('kills survived', 5)
    tally('kills survived', 9)
    tally('connections seen', 0)
    expect(readFileSync(file, 'utf8').trim().split('\n')).toHaveLength(3)
    const line = tallyLine(sumTally(file))
    expect(line).toContain('kills survived: 14,')
    expect(line).toContain('connections seen: 0')
    expect(line).toContain('calls: not run')
    expect(line.split(', ')).toHaveLength(tallied.length)
  })

  it('has no names but those that are printed', () => {
    expect(() => tally('kills', 1)).toThrow(/kills/)
  })
})
