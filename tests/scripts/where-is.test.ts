import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { contract } from '../../shared-core/contract/index.ts'
import { hostCalls } from '../../shared-core/contract/custody.ts'

const guide = fs.readFileSync('DEVELOPERS.md', 'utf8')
const listed = guide.slice(guide.indexOf('### Where is'), guide.indexOf('## How a change is made'))
const rows = [...listed.matchAll(/^\| ([^|]+) \| ([^|]+) \|$/gm)]
  .map(([, what, files]) => ({
    what: what!,
    files: [...files!.matchAll(/`([\w./-]+\.tsx?)`/g)].map(([, f]) => f!),
  }))
  .filter(({ what }) => what !== 'looked for' && !what.startsWith('---'))

describe('the list of where things are', () => {
  it('has what the last reader looked for in vain', () => {
    const whats = rows.map(({ what }) => what).join('\n')
    for (const word of [
      'undo',
      'burned in',
      'strike map',
      'templates',
      'settings',
      'photos',
      'lesson.open',
    ]) {
      expect(whats).toContain(word)
    }
  })

  it.each(rows)('$what: every file of it is there', ({ files }) => {
    expect(files.length).toBeGreaterThan(0)
    for (const file of files) expect(fs.existsSync(file), file).toBe(true)
  })

  it('can do without the handlers: each stands in the file named after its call’s prefix', () => {
    const folder = 'electron/library/handlers'
    const files = new Map(
      fs
        .readdirSync(folder)
        .map((name) => [name.replace('.ts', ''), fs.readFileSync(`${folder}/${name}`, 'utf8')]),
    )
    for (const call of Object.keys(contract)) {
      if (call in hostCalls) continue
      const prefix = call.split('.')[0]!.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)
      const found = files.get(prefix) ?? files.get(`${prefix}s`) ?? files.get(prefix.replace(/s$/, ''))
      expect(found?.includes(`'${call}'`), call).toBe(true)
    }
  })
})
