import fs from 'node:fs'
import path from 'node:path'
import ts from 'typescript'
import { describe, expect, it } from 'vitest'

const root = path.resolve(import.meta.dirname, '../..')

/** Every file and the files of the repository that it names, types included. */
const readGraph = (folders: readonly string[]): Map<string, string[]> => {
  const graph = new Map<string, string[]>()
  for (const folder of folders) {
    for (const entry of fs.readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })) {
      const file = path.join(entry.parentPath, entry.name)
      if (!entry.isFile() || !/\.tsx?$/.test(file)) continue
      const { importedFiles } = ts.preProcessFile(fs.readFileSync(file, 'utf8'), true, true)
      const near = importedFiles.filter((i) => i.fileName.startsWith('.'))
      graph.set(
        file,
        near.map((i) => path.resolve(path.dirname(file), i.fileName)),
      )
    }
  }
  return graph
}

/** A way round through the graph, or null where there is none. */
const circleIn = (graph: ReadonlyMap<string, readonly string[]>): string[] | null => {
  const done = new Set<string>()
  const follow = (file: string, way: readonly string[]): string[] | null => {
    const from = way.indexOf(file)
    if (from >= 0) return [...way.slice(from), file]
    if (done.has(file)) return null
    for (const next of graph.get(file) ?? []) {
      const circle = follow(next, [...way, file])
      if (circle) return circle
    }
    done.add(file)
    return null
  }
  for (const file of graph.keys()) {
    const circle = follow(file, [])
    if (circle) return circle
  }
  return null
}

describe('files that know each other', () => {
  // The lint rule import-x/no-cycle leaves out types; here they count.
  it('never stand in a circle, not by their types either', () => {
    const graph = readGraph(['shared-core', 'electron', 'renderer'])
    expect(graph.size).toBeGreaterThan(300)
    expect(circleIn(graph)?.map((file) => path.relative(root, file)) ?? []).toEqual([])
  })

  it('in a circle are found', () => {
    const graph = new Map([
      ['a', ['b', 'c']],
      ['b', []],
      ['c', ['d']],
      ['d', ['a']],
    ])
    expect(circleIn(graph)).toEqual(['a', 'c', 'd', 'a'])
  })
})
