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
