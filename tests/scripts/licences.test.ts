import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { fits, licencesOf } from '../../scripts/licences.mjs'

const root = path.resolve(import.meta.dirname, '../..')

describe('what Leadside runs with', () => {
  it('has the text of its licence in the list, each a licence that fits', () => {
    const { text, problems, count } = licencesOf(root)
    expect(problems).toEqual([])
    expect(count).toBeGreaterThan(30)
    for (const name of ['react', 'better-sqlite3', 'mediabunny', 'konva', 'zod']) {
      expect(text).toMatch(new RegExp(`^${name} \\d`, 'm'))
    }
    // The weights and the font that are shipped, by name and with their own words.
    expect(text).toMatch(/^MoveNet SinglePose Thunder 4.*Apache-2\.0/m)
    expect(text).toMatch(/Source.*SIL OPEN FONT LICENSE/s)
    // ffmpeg is named with its source, as a program beside Leadside.
    expect(text).toContain('https://ffmpeg.org/download.html')
  })

  it('would be refused under a licence that asks more than can be kept', () => {
    expect(['GPL-3.0', 'AGPL-3.0-only', 'SSPL-1.0', '', 'MIT AND GPL-2.0'].filter(fits)).toEqual([])
    expect(['MIT', '(MIT OR GPL-3.0)', 'Apache-2.0 AND MIT'].every(fits)).toBe(true)
  })
})
