import fs from 'node:fs'
import path from 'node:path'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openWithLesson } from './support/temporary-library.ts'

/** Ball speeds in whole mph, so that shots that are equal in all their numbers come up, as they do with simple devices. */
const speeds = fc.array(fc.integer({ min: 95, max: 104 }), { minLength: 3, maxLength: 14 })

const timed = {
  'a date only': (_: number) => '2026-05-14',
  'times to the minute': (k: number) => `2026-05-14 10:${String(Math.floor(k / 2)).padStart(2, '0')}`,
  'no times': null,
} as const

describe.each(Object.entries(timed))('two exports of one day with %s', (_, timeOf) => {
  const tableOf = (list: readonly number[]) =>
    [
      [...(timeOf ? ['Date'] : []), 'Club', 'Ball Speed (mph)'].join(','),
      ...list.map((speed, k) => [...(timeOf ? [timeOf(k)] : []), 'Driver', speed].join(',')),
    ].join('\n')

  it('lose nothing and double nothing: the longer one adds just what is new, the same again adds nothing', async () => {
    await fc.assert(
      fc.asyncProperty(speeds, fc.nat(13), async (all, cut) => {
        const first = all.slice(0, 1 + (cut % all.length))
        // A file that lists all its rows twice is asked about; that is another test's.
        const isTwice = (list: readonly number[]) =>
          list.length >= 4 &&
          new Set(list).size >= 2 &&
          [...new Set(list)].every((v) => list.filter((w) => w === v).length % 2 === 0)
        fc.pre(!isTwice(first) && !isTwice(all))
        const { library, folder, lessonId } = await openWithLesson()
        const add = async (list: readonly number[], name: string) => {
          const file = path.join(folder, name)
          fs.writeFileSync(file, tableOf(list))
          const done = await library.ask('shots.add', { lessonId, file })
          const { shots } = await library.ask('lesson.open', { lessonId })
          const now = shots.map((s) => Math.round(s.ballSpeedMps! / 0.44704))
          return { added: done.added, now: now.sort((a, b) => a - b) }
        }
        const sorted = (list: readonly number[]) => [...list].sort((a, b) => a - b)
        try {
          expect(await add(first, 'a.csv')).toEqual({ added: first.length, now: sorted(first) })
          expect(await add(all, 'b.csv')).toEqual({ added: all.length - first.length, now: sorted(all) })
          expect(await add(all, 'c.csv')).toEqual({ added: 0, now: sorted(all) })
          expect(await add(first, 'd.csv')).toEqual({ added: 0, now: sorted(all) })
        } finally {
          await library.close()
          fs.rmSync(folder, { recursive: true, force: true })
        }
      }),
      { numRuns: 6, seed: 90_010 },
    )
  })
})
