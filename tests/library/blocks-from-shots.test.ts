import fs from 'node:fs'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Library } from '../../electron/library/library.ts'
import { openWithLesson } from './support/temporary-library.ts'

let opened: { library: Library; folder: string; lessonId: string }
beforeEach(async () => {
  opened = await openWithLesson()
})
afterEach(async () => {
  await opened.library.close()
  fs.rmSync(opened.folder, { recursive: true, force: true })
})

const add = async (text: string) => {
  const file = path.join(opened.folder, 'shots.csv')
  fs.writeFileSync(file, text)
  await opened.library.ask('shots.add', { lessonId: opened.lessonId, file })
  const { blocks, swings } = await opened.library.ask('lesson.open', { lessonId: opened.lessonId })
  return blocks.map((b) => [b.name, swings.filter((s) => s.blockId === b.id).length, b.isBaseline])
}
const rows = (...names: string[]) =>
  `block,club,ball speed (m/s)\n${names.map((n, i) => `${n},Driver,${60 + i}`).join('\n')}\n`

describe('a file of shots that names its blocks', () => {
  it('cuts the lesson into them in order; the first is the baseline', async () => {
    expect(await add(rows('As you are', 'As you are', 'Firm', 'Firm', 'Firm'))).toEqual([
      ['As you are', 2, true],
      ['Firm', 3, false],
    ])
  })

  it('that names one block or none leaves the lesson whole', async () => {
    expect(await add(rows('', '', ''))).toEqual([['Baseline', 3, true]])
  })

  it('does not touch blocks that the coach has cut', async () => {
    await add('club,ball speed (m/s)\nDriver,60\nDriver,61\n')
    const { swings } = await opened.library.ask('lesson.open', { lessonId: opened.lessonId })
    await opened.library.ask('block.cut', {
      lessonId: opened.lessonId,
      beforeSwingId: swings[1]!.id,
      name: 'Mine',
    })
    const blocks = await add(rows('A', 'B'))
    expect(blocks.map(([name]) => name)).toEqual(['Baseline', 'Mine'])
  })

  it('is undone as one edit', async () => {
    await add(rows('A', 'B', 'B'))
    expect(await opened.library.ask('edits.undo', { lessonId: opened.lessonId })).toEqual({
      label: 'add shots.csv',
    })
    const { blocks, shots } = await opened.library.ask('lesson.open', { lessonId: opened.lessonId })
    expect(shots).toEqual([])
    expect(blocks.length).toBeLessThanOrEqual(1)
  })
})
