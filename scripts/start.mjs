// npm start: sets up what is missing, builds if needed, opens the window.
import { hasDisplay } from './display.mjs'
import { displayArgs, electronEnv, ensureElectron, sandboxArgs } from './electron-runtime.mjs'
import { ensureBuilt } from './build.mjs'
import { ensureInstalled } from './install.mjs'
import { root } from './paths.mjs'
import { runInstead } from './run-node24.mjs'
import { SetUpProblem, runMain, say } from './set-up-problem.mjs'
import { windowNeeds } from './system-package-names.mjs'
import { ensureSystemPackages } from './system-packages.mjs'

await runMain(async () => {
  if (!hasDisplay()) {
    throw new SetUpProblem(
      'There is no display here to open the window on (DISPLAY and WAYLAND_DISPLAY are not set).\n' +
        'The same job without a window: npm run demo',
    )
  }
  const { node } = await ensureInstalled()
  await ensureSystemPackages(windowNeeds.filter((need) => !need.names.includes('xvfb')))
  const runtime = await ensureElectron()
  await ensureBuilt()
  const sandbox = sandboxArgs()
  if (sandbox.length > 0) {
    say("Chromium's sandbox can't work here (root, or name spaces are switched off): without it")
  }
  return runInstead(runtime.executable, [...sandbox, ...displayArgs(), root, ...process.argv.slice(2)], {
    cwd: root,
    env: { ...electronEnv(runtime), LEADSIDE_NODE: node, ELECTRON_RUN_AS_NODE: undefined },
  })
})
