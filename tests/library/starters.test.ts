import fs from 'node:fs'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import * as t from '../../electron/library/database/schema.ts'
import { Library } from '../../electron/library/library.ts'
import { starterCueKinds } from '../../shared-core/model/cue-kinds.ts'
import { starterDrillKeys } from '../../shared-core/model/starter-drills.ts'
import { cueKindIn, sayIn } from '../../shared-core/wording/say.ts'
import { starterDrillText } from '../../shared-core/wording/starter-texts.ts'
import { temporaryFolder } from './support/temporary-library.ts'

let folder: string
let library: Library

beforeEach(() => {
  folder = temporaryFolder()
  library = new Library({ folder, printPdf: null })
})
afterEach(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const keptDrills = () => library.context.db.select().from(t.drill).all()
const ladder = async () => {
  const { name } = starterDrillText('centre-strike-ladder')
  return (await library.ask('drill.list', {})).find((d) => d.name === name)!
}

describe('what a new library starts with', () => {
  it('is kept by keys, and read by the coach in words', async () => {
    expect(
      keptDrills()
        .map((d) => d.starterKey)
        .toSorted(),
    ).toEqual([...starterDrillKeys].toSorted())
    for (const { name, purpose, how, dose, watchFor, caution } of keptDrills()) {
      expect([name, purpose, how, dose, watchFor, caution].join('')).toBe('')
    }
    const names = (await library.ask('drill.list', {})).map((d) => d.name)
    expect(names).toEqual(starterDrillKeys.map((key) => starterDrillText(key).name).toSorted())
    const kinds = await library.ask('cueKind.list', {})
    expect(
      library.context.db
        .select()
        .from(t.cueKind)
        .all()
        .map((k) => k.label),
    ).toEqual(starterCueKinds.map(() => ''))
    for (const { key, label } of kinds) expect(label).toBe(cueKindIn(sayIn('en'), { key, label: '' }))
  })

  it('becomes the coach’s text once the coach changes it, and no sooner', async () => {
    const drill = await ladder()
    await library.ask('drill.save', { ...drill, cueKinds: ['strike'] })
    const kept = () => keptDrills().find((d) => d.id === drill.id)!
    expect(kept()).toMatchObject({ starterKey: 'centre-strike-ladder', name: '', cueKinds: ['strike'] })
    await library.ask('drill.save', { ...drill, dose: '10 balls' })
    expect(kept()).toMatchObject({ starterKey: null, name: drill.name, how: drill.how, dose: '10 balls' })
    expect((await ladder()).dose).toBe('10 balls')
  })

  it('has the coach’s names of cues as text, and its own again without', async () => {
    const kept = () =>
      library.context.db
        .select()
        .from(t.cueKind)
        .all()
        .find((k) => k.key === 'grip')!.label
    const listed = async () => (await library.ask('cueKind.list', {})).find((k) => k.key === 'grip')!.label
    await library.ask('cueKind.save', { key: 'grip', group: 'grip', label: 'Hold' })
    expect([kept(), await listed()]).toEqual(['Hold', 'Hold'])
    await library.ask('cueKind.save', { key: 'grip', group: 'grip', label: 'Grip' })
    expect([kept(), await listed()]).toEqual(['', 'Grip'])
  })
})
