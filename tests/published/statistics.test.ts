import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { methods } from './statistics-methods.ts'

/**
 * Every statistical method against values computed with R (the file names the R and package versions, and each
 * case its data's source). STATISTICS_FIXTURES names another file of the same form to run instead.
 */
const path =
  process.env.STATISTICS_FIXTURES || new URL('./fixtures/statistics-fixtures.json', import.meta.url)

interface Case {
  name: string
  method: string
  source: string
  data: unknown
  options: unknown
  expected: Record<string, unknown>
  tolerance: number
  toleranceByKey?: Record<string, number>
}

const { cases } = JSON.parse(readFileSync(path, 'utf8')) as { cases: Case[] }

/** Differences between a result and the expected value, by the rule under `reading` in the file of cases. */
export function differences(got: unknown, expected: unknown, key: string, fixture: Case): string[] {
  if (typeof expected === 'number') {
    const topKey = key.replace(/\[.*$/, '')
    const allowed =
      fixture.toleranceByKey?.[topKey] ?? fixture.tolerance * Math.max(Math.abs(expected), 0.001)
    const passes = typeof got === 'number' && Math.abs(got - expected) <= allowed
    return passes ? [] : [`${key}: got ${String(got)}, expected ${expected} within ${allowed}`]
  }
  if (Array.isArray(expected)) {
    if (!Array.isArray(got) || got.length !== expected.length) {
      return [`${key}: got ${JSON.stringify(got)}, expected ${expected.length} values`]
    }
    return expected.flatMap((value, i) => differences(got[i], value, `${key}[${i}]`, fixture))
  }
  return Object.is(got, expected) ? [] : [`${key}: got ${String(got)}, expected ${String(expected)}`]
}

describe('published statistics', () => {
  it('reads a file with cases in it', () => {
    expect(cases.length).toBeGreaterThan(0)
  })

  it.each(
    cases.map((fixture) => [`${fixture.method}: ${fixture.name} (${fixture.source})`, fixture] as const),
  )('%s', (_, fixture) => {
    const method = methods[fixture.method]
    expect(method, `no function of shared-core for the method "${fixture.method}"`).toBeTypeOf('function')
    const got = method!(fixture.data, fixture.options) as Record<string, unknown>
    const wrong = Object.entries(fixture.expected).flatMap(([key, value]) =>
      differences(got[key], value, key, fixture),
    )
    expect(wrong).toEqual([])
  })

  it('every method of the table is run by some case', (context) => {
    if (process.env.STATISTICS_FIXTURES) {
      context.skip('another file of cases is named, which need not have all')
    }
    const run = new Set(cases.map((fixture) => fixture.method))
    expect(Object.keys(methods).filter((method) => !run.has(method))).toEqual([])
  })
})
