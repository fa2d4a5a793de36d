import fs from 'node:fs'
import path from 'node:path'
import { Problem } from '../../../shared-core/problem.ts'

/** The folder with the demo lesson, looked for upwards from this file (source and build lie at different depths). */
export const demoFolder = (): string => {
  for (let folder = import.meta.dirname; ; folder = path.dirname(folder)) {
    const candidate = path.join(folder, 'demo-media')
    if (fs.existsSync(path.join(candidate, 'lesson.json'))) return candidate
    if (path.dirname(folder) === folder) {
      throw new Problem('no-demo')
    }
  }
}

/** One of the demo's JSON files, as it is. */
export const readDemoJson = (name: string): unknown =>
  JSON.parse(fs.readFileSync(path.join(demoFolder(), name), 'utf8'))
