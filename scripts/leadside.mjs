#!/usr/bin/env node
// The `leadside` command: hands everything to the command line's own program, on a Node that can run it.
// Says nothing on stdout itself; that belongs to the command.
import { existsSync } from 'node:fs'
import path from 'node:path'
import { node24Path, root } from './paths.mjs'
import { runInstead } from './run-node24.mjs'

const [major, minor] = process.versions.node.split('.').map(Number)
const thisNodeWillDo = major > 22 || (major === 22 && minor >= 18)
const node = existsSync(node24Path()) ? node24Path() : thisNodeWillDo ? process.execPath : undefined

if (!node || !existsSync(path.join(root, 'node_modules'))) {
  process.stderr.write(
    'leadside: the packages are not installed yet. In its folder run: npm ci   (or npm run demo, which does it)\n',
  )
  process.exitCode = 1
} else {
  process.exitCode = await runInstead(node, [
    path.join(root, 'electron', 'cli', 'index.ts'),
    ...process.argv.slice(2),
  ])
}
