import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'

// A worker is opened only when a coach asks for what it does: what the bundler made of it must at least be read by Node.
test('every part that the window’s program was built of can be read, those of its threads too', () => {
  const folder = path.resolve('out/main')
  const parts = fs.readdirSync(folder).filter((file) => file.endsWith('.js'))
  expect(parts).toEqual(expect.arrayContaining(['body-worker.js', 'follow-worker.js', 'report-worker.js']))
  for (const part of parts) execFileSync(process.execPath, ['--check', path.join(folder, part)])
})

// The window's first process opens no library: what it needs is bundled, and native parts stay with the library's own process.
test('the first process loads nothing of the library’s database and media', () => {
  const folder = path.resolve('out/main')
  const loaded = new Set<string>()
  const packages = new Set<string>()
  const load = (part: string) => {
    if (loaded.has(part)) return
    loaded.add(part)
    const text = fs.readFileSync(path.join(folder, part), 'utf8')
    for (const [, from] of text.matchAll(/^(?:import|export)\b[^'"\n]*['"]([^'"\n]+)['"];?$/gm)) {
      if (from!.startsWith('./')) load(from!.slice(2))
      else if (!from!.startsWith('node:')) packages.add(from!)
    }
  }
  load('index.js')
  expect(loaded.size).toBeGreaterThan(0)
  expect([...packages].filter((name) => name !== 'electron')).toEqual([])
})
