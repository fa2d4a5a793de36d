import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { onTestFinished } from 'vitest'

/** A folder that is gone after the test, with these files in it (relative name → content). */
export function temporaryFolder(files: Record<string, string> = {}): string {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'leadside-scripts-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  for (const [name, content] of Object.entries(files)) {
    const file = path.join(folder, name)
    mkdirSync(path.dirname(file), { recursive: true })
    writeFileSync(file, content)
  }
  return folder
}
