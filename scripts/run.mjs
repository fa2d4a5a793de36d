// node scripts/run.mjs FILE [arguments]: sets up what is missing, then runs a TypeScript file on Node 24.
// npm run demo-media is this with demo-media's render script.
import path from 'node:path'
import { ensureInstalled } from './install.mjs'
import { root } from './paths.mjs'
import { runInstead } from './run-node24.mjs'
import { SetUpProblem, runMain } from './set-up-problem.mjs'

await runMain(async () => {
  const [file, ...args] = process.argv.slice(2)
  if (!file) throw new SetUpProblem('usage: node scripts/run.mjs FILE [arguments]')
  const { node } = await ensureInstalled()
  return runInstead(node, [path.resolve(root, file), ...args])
})
