import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import vm from 'node:vm'
import { build } from 'vite'
import { describe, expect, it } from 'vitest'

const root = path.resolve(import.meta.dirname, '../..')
const modules = fs
  .readdirSync(path.join(root, 'shared-core'), { recursive: true })
  .map(String)
  .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
  .toSorted()

describe('shared-core', () => {
  it('loads, every module of it, where there is no Node, no DOM, no clock and no chance', async () => {
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-'))
    const entry = path.join(folder, 'every-core-module.ts')
    fs.writeFileSync(
      entry,
      modules
        .map((name, i) => `import * as m${i} from '${path.join(root, 'shared-core', name)}'`)
        .join('\n') +
        `\nexport const names = [${modules.map((_, i) => `Object.keys(m${i}).length`).join(', ')}]`,
    )
    const result = await build({
      root,
      configFile: false,
      logLevel: 'silent',
      // React's elements, which the student's page is made of, ask for this name; whoever bundles for a browser puts the value there.
      define: { 'process.env.NODE_ENV': '"production"' },
      build: { write: false, minify: false, lib: { entry, formats: ['iife'], name: 'core' } },
    })
    fs.rmSync(folder, { recursive: true })
    const output = (Array.isArray(result) ? result[0]! : result) as {
      output: { type: string; code?: string }[]
    }
    const code = output.output.find((o) => o.type === 'chunk')!.code!
    const bare = vm.createContext(
      Object.assign(Object.create(null) as object, {
        Date: class extends Date {
          constructor(...args: [] | [number]) {
            if (args.length === 0) throw new Error('the core asked for the time')
            super(...args)
          }
          static override now(): number {
            throw new Error('the core asked for the time')
          }
        },
      }),
    )
    vm.runInContext('Math.random = () => { throw new Error("the core asked for chance") }', bare)
    expect(
      vm.runInContext(
        'typeof process + typeof window + typeof document + typeof require + typeof Buffer',
        bare,
      ),
    ).toBe('undefined'.repeat(5))
    vm.runInContext(`${code}\nglobalThis.loaded = core.names.length`, bare)
    expect(vm.runInContext('loaded', bare)).toBe(modules.length)
  })
})
