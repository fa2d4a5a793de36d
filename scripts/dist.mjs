// npm run dist: the shipped program in out/dist, an unpacked folder and, on Linux, a .deb and an AppImage where the tools
// are there. Made for the system it runs on: native modules are those of this install. See scripts/dist/make.mjs.
import path from 'node:path'
import { ensureInstalled } from './install.mjs'
import { root } from './paths.mjs'
import { runInstead } from './run-node24.mjs'
import { runMain } from './set-up-problem.mjs'

await runMain(async () => {
  const { node } = await ensureInstalled()
  const make = path.join(root, 'scripts', 'dist', 'make.mjs')
  return runInstead(node, [make, ...process.argv.slice(2)], { cwd: root })
})
