import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { benchTable } from '../../scripts/bench-table.mjs'
import { spreadOf } from '../../scripts/bench/support/measurement.ts'
import { plainCentre, plainShift, plainSlope } from '../../scripts/bench/support/plain-numbers.ts'
import { hodgesLehmann } from '../../shared-core/statistics/hodges-lehmann.ts'
import { trend } from '../../shared-core/statistics/trend.ts'

const folder = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../scripts/bench')
const readings = fc.array(fc.integer({ min: 300, max: 900 }), { minLength: 5, maxLength: 25 })

describe('the table of measurements', () => {
  test('has a line for every row, three digits, and never cuts a whole number', () => {
    const lines = benchTable([
      { name: 'short', value: 1.23456, unit: 'ms', aim: '≤ 2' },
      { name: 'a longer name', value: 123456.7, unit: '1/s', note: 'busy' },
    ]).split('\n')
    expect(lines).toHaveLength(4)
    expect(lines[2]).toMatch(/^short +1\.23 +ms +≤ 2$/)
    expect(lines[3]).toMatch(/^a longer name +123457 +1\/s +busy$/)
  })

  test('every file of scripts/bench exports bench', () => {
    const files = readdirSync(folder).filter((name) => name.endsWith('.ts'))
    expect(files).toContain('season.ts')
    for (const name of files) {
      expect(readFileSync(path.join(folder, name), 'utf8'), name).toMatch(/export async function bench\(\)/)
    }
  })
})

describe('what the measurements rest on', () => {
  test('median and 95th percentile of 1 … 101 are 51 and 96', () => {
    expect(spreadOf(Array.from({ length: 101 }, (_, i) => 101 - i))).toEqual({ median: 51, p95: 96, n: 101 })
    expect(() => spreadOf([])).toThrow('nothing was measured')
  })

  test('the plain loops give the very numbers that the report gives', () => {
    fc.assert(
      fc.property(readings, (values) => {
        expect(plainCentre(values)).toBeCloseTo(hodgesLehmann(values), 9)
        const days = values.map((_, i) => 7 * i)
        expect(plainSlope(days, values)).toBeCloseTo(trend(values, { x: days }).slope!, 9)
        expect(
          plainShift(
            values,
            values.map((value) => value + 3),
          ),
        ).toBeCloseTo(3, 9)
      }),
      { numRuns: 40 },
    )
  })
})
