import { mkdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { isBuilt, sourceHash } from '../../scripts/build.mjs'
import { temporaryFolder } from './temporary-folder.ts'

const built = () => {
  const base = temporaryFolder({
    'package.json': '{}',
    'electron/main/index.ts': 'export {}',
    'renderer/index.html': '<html></html>',
    'shared-core/model/shot.ts': 'export {}',
    'out/main/index.js': 'built',
  })
  writeFileSync(path.join(base, 'out/.built-from'), sourceHash(base))
  return base
}

describe('the build', () => {
  it('is kept while no source changed, whatever the times of the files', () => {
    const base = built()
    utimesSync(path.join(base, 'renderer/index.html'), new Date(), new Date(Date.now() + 3600_000))
    expect(isBuilt(base)).toBe(true)
  })

  it.each(['electron/main/index.ts', 'renderer/index.html', 'shared-core/model/shot.ts', 'package.json'])(
    'is made again when %s changed',
    (file) => {
      const base = built()
      writeFileSync(path.join(base, file), 'changed')
      expect(isBuilt(base)).toBe(false)
    },
  )

  it('is made again when a source came, went or was renamed', () => {
    const came = built()
    mkdirSync(path.join(came, 'renderer/desk'))
    writeFileSync(path.join(came, 'renderer/desk/strip.tsx'), '')
    expect(isBuilt(came)).toBe(false)
    const went = built()
    rmSync(path.join(went, 'renderer/index.html'))
    expect(isBuilt(went)).toBe(false)
  })

  it('is made again when it was interrupted, and when its main file is gone', () => {
    const interrupted = built()
    rmSync(path.join(interrupted, 'out/.built-from'))
    expect(isBuilt(interrupted)).toBe(false)
    const gone = built()
    rmSync(path.join(gone, 'out/main/index.js'))
    expect(isBuilt(gone)).toBe(false)
  })

  it('is not made again for a test', () => {
    const base = built()
    mkdirSync(path.join(base, 'tests'))
    writeFileSync(path.join(base, 'tests/x.test.ts'), '')
    expect(isBuilt(base)).toBe(true)
  })
})
