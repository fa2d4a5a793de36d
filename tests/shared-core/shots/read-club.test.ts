import { describe, expect, test } from 'vitest'
import { readClub } from '../../../shared-core/shots/read-club.ts'

// Spellings: common practice, no source.
const spellings: Record<string, string[]> = {
  driver: ['driver', 'Driver', 'D', 'DR', 'W1', '1W', '1-Wood', 'Driver 10.5°', 'Holz 1'],
  '3-wood': ['3W', 'W3', '3-Wood', '3 wood', 'Wood 3', 'Holz 3', '3 Holz', 'FW3', 'Bois 3', '3 fairway'],
  '5-wood': ['5w', 'W5'],
  '4-hybrid': ['4H', 'H4', '4 Hybrid', 'Hybrid 4', '4hy', '4 hyb'],
  '7-iron': [
    'I7',
    '7i',
    '7I',
    '7-Iron',
    '7 iron',
    'Iron 7',
    'Eisen 7',
    '7er Eisen'.replace('er', ''),
    'E7',
    'Fer 7',
    'Hierro 7',
    '7 Iron',
  ],
  '9-iron': ['i9', '9 IRON'],
  'pitching-wedge': ['PW', 'P', 'Pitching Wedge', 'pw 46°', '46°'],
  'gap-wedge': ['GW', 'AW', 'Gap wedge', '52°', '50 deg', '52 wedge', 'UW'],
  'sand-wedge': ['SW', 'Sand Wedge', 'SW 56°', '56° SW', '56°', '56', 'Wedge 56', 'SW (56°)'],
  'lob-wedge': ['LW', 'Lob Wedge', '60°', 'L', '60 degree', '58°'],
  putter: ['Putter', 'PT'],
}

describe('readClub', () => {
  for (const [club, list] of Object.entries(spellings)) {
    test(`${club} is recognised in ${list.length} spellings`, () => {
      for (const text of list) expect([text, readClub(text)]).toEqual([text, club])
    })
  }

  test('the name of a wedge goes before its loft', () => {
    expect(readClub('LW 56°')).toBe('lob-wedge')
  })

  test('words it does not know stay as they are; nothing stays null', () => {
    for (const text of ['Swish stick', 'My club', 'Alignment rod 2', '99', '0i']) {
      expect(readClub(text)).toBe(text)
    }
    for (const text of ['', '  ', '-', '—', 'n/a']) expect(readClub(text)).toBeNull()
  })
})
