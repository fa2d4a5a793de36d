// npm run demo: sets up what is missing, then runs the whole job on the demo lesson, without a window to be seen.
import path from 'node:path'
import { ensureDisplay, hasDisplay } from './display.mjs'
import { electronEnv, electronHere } from './electron-runtime.mjs'
import { ensureInstalled } from './install.mjs'
import { root } from './paths.mjs'
import { runInstead } from './run-node24.mjs'
import { runMain } from './set-up-problem.mjs'
import { hasCommand } from './system-packages.mjs'

/** What the phone page is measured with, if it is here: the demo fetches no Electron and no display for it. */
async function measuringEnv() {
  const runtime = await electronHere()
  if (!runtime || !(hasDisplay() || hasCommand('Xvfb'))) return { env: {}, stop: () => {} }
  const display = await ensureDisplay()
  return { env: { ...electronEnv(runtime), ...display.env }, stop: display.stop }
}

await runMain(async () => {
  const { node } = await ensureInstalled()
  const { env, stop } = await measuringEnv()
  try {
    return await runInstead(
      node,
      [path.join(root, 'electron', 'cli', 'index.ts'), 'demo', ...process.argv.slice(2)],
      { env },
    )
  } finally {
    stop()
  }
})
