import fs from 'node:fs'
import path from 'node:path'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import { expect, it } from 'vitest'
import { z } from 'zod'
import { hostCalls } from '../../shared-core/contract/custody.ts'
import { contract, type CallName } from '../../shared-core/contract/index.ts'
import { Problem } from '../../shared-core/problem.ts'
import { tally } from '../../scripts/tally.mjs'
import { makeClip } from '../library/support/make-clip.ts'
import { openWithLesson, takeIn } from '../library/support/temporary-library.ts'

/** In the tests some hundred; `npm run faults` makes 6,000 on other seeds. */
const calls = Number(process.env.LEADSIDE_CALLS ?? 900)
const seed = Number(process.env.LEADSIDE_SEED ?? 7)

interface Shape {
  type?: string
  properties?: Record<string, Shape>
  items?: Shape
  prefixItems?: Shape[]
  enum?: unknown[]
  const?: unknown
  anyOf?: Shape[]
  oneOf?: Shape[]
  allOf?: Shape[]
  additionalProperties?: Shape | boolean
  minimum?: number
  maximum?: number
  minItems?: number
  $ref?: string
}

const oddNumbers = [0, -1, 1, 2, 0.5, 1e-9, 1e9, Number.MAX_SAFE_INTEGER, -1e300, Infinity, NaN]
const oddWords = [
  '',
  ' ',
  'x',
  "'; DROP TABLE student; --",
  '\u0000',
  '😀'.repeat(50),
  'a'.repeat(20_000),
  '__proto__',
]

it(`${calls} random calls (seed ${seed}) are answered as the contract says or refused in words; the library stays sound`, async () => {
  const { library, folder, lessonId, studentId } = await openWithLesson()
  const clip = path.join(folder, 'a-clip.mp4')
  makeClip(clip, { seconds: 0.3, sound: false })
  await takeIn(library, lessonId, [clip])
  const shots = path.join(folder, 'some-shots.csv')
  fs.writeFileSync(shots, 'Club,Club Speed (mph),Ball Speed (mph)\nDriver,95,140\nDriver,96,141\n')
  const random = xoroshiro128plus(seed)
  const below = (n: number) => (random.next() >>> 0) % n
  const oneOf = <T>(values: readonly T[]): T => values[below(values.length)]!
  const ids = new Set<string>([lessonId, studentId])
  const rememberIds = (value: unknown): void => {
    if (typeof value === 'string') {
      if (/^[0-9a-f]{8}-[0-9a-f-]{27}$/.test(value)) ids.add(value)
    } else if (value && typeof value === 'object') Object.values(value).forEach(rememberIds)
  }
  // Nothing is written outside the test's own folder.
  const paths = [clip, shots, path.join(folder, 'out'), path.join(folder, 'nowhere', 'x'), '/dev/null/x']
  const word = (name: string): string => {
    if (/file|folder|path|picture$/i.test(name)) return oneOf(paths)
    if (/date|until|At$/.test(name)) return oneOf(['2026-05-01', '2026-13-41', '', '2026-05-01T10:00:00Z'])
    return below(4) > 0 && /id/i.test(name) ? oneOf([...ids]) : oneOf([...oddWords, 'driver', ...ids])
  }
  const value = (shape: Shape, name: string, all: Record<string, Shape>): unknown => {
    if (below(60) === 0) return oneOf([null, undefined, [], {}, 'odd', -7, true])
    if (shape.$ref) return value(all[shape.$ref.split('/').at(-1)!] ?? {}, name, all)
    if ('const' in shape) return shape.const
    if (shape.enum) return oneOf(shape.enum)
    const some = shape.anyOf ?? shape.oneOf
    if (some) return value(oneOf(some), name, all)
    if (shape.allOf) return Object.assign({}, ...shape.allOf.map((s) => value(s, name, all))) as unknown
    if (shape.prefixItems) return shape.prefixItems.map((s) => value(s, name, all))
    switch (shape.type) {
      case 'object': {
        const entries = Object.entries(shape.properties ?? {})
          .filter(() => below(12) > 0)
          .map(([key, inner]) => [key, value(inner, key, all)])
        return Object.fromEntries(entries) as unknown
      }
      case 'array':
        return Array.from({ length: (shape.minItems ?? 0) + below(3) }, () =>
          value(shape.items ?? {}, name, all),
        )
      case 'string':
        return word(name)
      case 'number':
        return below(3) > 0 ? below(400) / 4 : oneOf(oddNumbers)
      case 'integer':
        return below(3) > 0 ? below(60) : oneOf(oddNumbers)
      case 'boolean':
        return below(2) === 0
      case 'null':
        return null
      default:
        return oneOf(['x', 1, null, {}])
    }
  }
  // Those about the library's own place are answered around it; the demo lesson takes its time and has tests of its own.
  const names = (Object.keys(contract) as CallName[]).filter(
    (name) => !Object.hasOwn(hostCalls, name) && name !== 'demo.load',
  )
  const shapes = new Map(
    names.map((name) => [
      name,
      z.toJSONSchema(contract[name].input, { unrepresentable: 'any', io: 'input' }) as Shape & {
        $defs?: Record<string, Shape>
      },
    ]),
  )
  const wrong: string[] = []
  let answered = 0
  for (let n = 0; n < calls; n += 1) {
    const name = names[n % names.length]!
    const shape = shapes.get(name)!
    const input = value(shape, '', shape.$defs ?? {})
    try {
      const output = await library.ask(name, input as never)
      answered += 1
      rememberIds(output)
      const parsed = contract[name].output.safeParse(output)
      if (!parsed.success) {
        wrong.push(`${name}: an answer that is not the contract's: ${parsed.error.issues[0]?.path.join('.')}`)
      }
    } catch (error) {
      if (!(error instanceof Problem)) {
        wrong.push(
          `${name} ${JSON.stringify(input)?.slice(0, 300)}: ${(error as Error).stack?.slice(0, 400)}`,
        )
      }
    }
  }
  for (const { id } of library.context.jobs.list()) {
    const job = await library.context.jobs.ended(id)
    if (job.problem?.what.startsWith('unexpected')) wrong.push(`job ${job.label}: ${job.problem.what}`)
  }
  expect([...new Set(wrong)]).toEqual([])
  expect(answered).toBeGreaterThan(calls / 10)
  const { lines } = await library.ask('library.check', {})
  expect(lines.filter((line) => !line.ok)).toEqual([])
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
  tally('calls', calls)
  console.log(
    `calls: ${calls} random ones (seed ${seed}), ${answered} answered, ${calls - answered} refused in words`,
  )
})
