// npm run demo: sets up what is missing, then runs the whole job on the demo lesson, without a window.
import path from 'node:path'
import { ensureInstalled } from './install.mjs'
import { root } from './paths.mjs'
import { runInstead } from './run-node24.mjs'
import { runMain } from './set-up-problem.mjs'

await runMain(async () => {
  const { node } = await ensureInstalled()
  return runInstead(node, [path.join(root, 'electron', 'cli', 'index.ts'), 'demo', ...process.argv.slice(2)])
})
