import { describe, expect, it } from 'vitest'
import { readShots } from '../../../shared-core/shots/read-shots.ts'

/** What took half a minute or longer, or ran out of stack, takes a moment: the limit is far above that. */
const timeout = 8000

describe('an odd file of shots takes no longer than its size', () => {
  it('with twenty thousand columns of one name', { timeout }, () => {
    const names = Array.from({ length: 20_000 }, () => 'Note').join(',')
    const cells = Array.from({ length: 20_000 }, (_, i) => `${i}`).join(',')
    const { shots, columns } = readShots(`Ball Speed (mph),${names}\n100,${cells}\n`)
    expect(shots).toHaveLength(1)
    expect(new Set(columns.map((c) => c.header)).size).toBe(20_001)
    expect(columns[3]!.header).toBe('Note (3)')
  })

  it('with a header of brackets', { timeout }, () => {
    for (const odd of ['('.repeat(200_000), '[('.repeat(100_000), `${' '.repeat(200_000)})`]) {
      const { shots } = readShots(`Ball Speed (mph),Club Speed (mph),"x${odd}"\n100,70,1\n`)
      expect(shots).toHaveLength(1)
    }
  })

  it('with cells that are as long as books', { timeout }, () => {
    for (const odd of [
      ' '.repeat(200_000) + 'x',
      '1 '.repeat(100_000),
      'ab '.repeat(60_000),
      '-'.repeat(200_000),
    ]) {
      const text = `Club,Date,Ball Speed (mph),Club Speed (mph)\n"${odd}","${odd}","x${odd}",70\n7i,2026-05-01,100,70\n`
      const { shots } = readShots(text)
      expect(shots.at(-1)!.ballSpeedMps).toBeCloseTo(44.7, 1)
    }
  })
})
