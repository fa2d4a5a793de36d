import fs from 'node:fs'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Library } from '../../electron/library/library.ts'
import { ballOutOfSight, struckFrame as struck } from './support/ball-out-of-sight.ts'
import { openWithLesson, takeIn } from './support/temporary-library.ts'

describe('impact of a clip without sound and ball, once its body is read', { timeout: 600_000 }, () => {
  let library: Library
  let folder = ''
  let lessonId = ''

  beforeAll(async () => {
    ;({ library, folder, lessonId } = await openWithLesson())
    await takeIn(library, lessonId, [ballOutOfSight(folder)])
  })
  afterAll(async () => {
    await library.close()
    fs.rmSync(folder, { recursive: true, force: true })
  })

  const view = async () => (await library.ask('lesson.open', { lessonId })).swings[0]!.views[0]!
  const momentsNow = async () => (await view()).moments.toSorted((a, b) => a.frame - b.frame)
  const impactNow = async () => (await momentsNow()).find((m) => m.name === 'impact')!
  const read = async () => {
    const [id] = (await library.ask('body.read', { lessonId })).jobIds
    expect(await library.context.jobs.ended(id!)).toMatchObject({ state: 'done', problem: null })
  }

  test('moves from the motion’s guess to where the hands came back, in one step that is taken back', async () => {
    const before = await momentsNow()
    const guess = before.find((m) => m.name === 'impact')!
    expect(guess).toMatchObject({ how: 'motion', isConfirmed: false })
    expect(guess.confidence).toBeLessThan(0.5)
    expect(Math.abs(guess.frame - struck)).toBeGreaterThan(1)

    await read()
    const found = await impactNow()
    expect(found).toMatchObject({ how: 'body', isConfirmed: false })
    expect(Math.abs(found.frame - struck)).toBeLessThanOrEqual(1)
    expect(found.confidence).toBeGreaterThan(0.6)
    expect(found.confidence).toBeLessThanOrEqual(0.85)
    // The others stand in the order of a swing (without feet the body tells none of them, and the motion no finish).
    const names = (await momentsNow()).map((m) => m.name)
    expect(names).toEqual(['setup', 'takeaway', 'top', 'impact'])
    // One witness, weighed once.
    await read()
    expect(await impactNow()).toMatchObject({ frame: found.frame, confidence: found.confidence })

    // The second reading told nothing new of the impact; whatever it added is its own step.
    for (let i = 0; i < 3 && (await impactNow()).how === 'body'; i++) {
      await library.ask('edits.undo', { lessonId })
    }
    expect(await momentsNow()).toEqual(before)
  })

  test('stays where a coach has marked it', async () => {
    const { id, frame } = await impactNow()
    await library.ask('moment.move', { id, frame: frame - 1 })
    await read()
    expect(await impactNow()).toMatchObject({ frame: frame - 1, how: 'coach' })
  })

  test('does not come back where a coach has taken it away, until that is undone', async () => {
    await library.ask('edits.undo', { lessonId })
    const { id } = await impactNow()
    await library.ask('moment.remove', { id })
    await read()
    expect(await impactNow()).toBeUndefined()
    await library.ask('edits.undo', { lessonId })
    await read()
    expect(Math.abs((await impactNow()).frame - struck)).toBeLessThanOrEqual(1)
  })
})
