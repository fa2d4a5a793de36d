// npm test: sets up what is missing, then lint, types, build, and every test, the window's too.
//   npm test                        all of it
//   npm test -- tests/published     only vitest, on these files (any vitest arguments)
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { ensureBuilt } from './build.mjs'
import { ensureDisplay } from './display.mjs'
import { electronEnv, ensureElectron } from './electron-runtime.mjs'
import { ensureInstalled } from './install.mjs'
import { node24Path, root, toolEnv } from './paths.mjs'
import { npmCommand, runCommand } from './run-command.mjs'
import { SetUpProblem, runMain, say } from './set-up-problem.mjs'
import { testNeeds, windowNeeds } from './system-package-names.mjs'
import { commandPath, ensureSystemPackages, isCi } from './system-packages.mjs'
import { sumTally, tallyLine } from './tally.mjs'
import { countReport, sumCounts, summaryLine } from './test-summary.mjs'

/** A session of the window as long as a lesson (`npm run faults -- connections`) takes longer than the rest. */
const vitestMinutes = 45 + Number(process.env.LEADSIDE_SESSION_MINUTES ?? 0)

/** Runs one of the installed tools on Node 24. */
function tool(file, args, options = {}) {
  return runCommand(node24Path(), [path.join(root, 'node_modules', file), ...args], {
    cwd: root,
    env: toolEnv(options.env),
    timeoutSeconds: options.timeoutSeconds ?? 900,
  })
}

/** One of package.json's own scripts, so that they are written down once. */
function npmScript(name) {
  return runCommand(npmCommand, ['run', '--silent', name], { cwd: root, env: toolEnv(), timeoutSeconds: 900 })
}

/** One vitest run; the counts come from its JSON report, what is seen from its usual one. */
async function vitest(args, env) {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'leadside-tests-'))
  const file = path.join(folder, 'report.json')
  const all = ['run', ...args, '--reporter=default', '--reporter=json', `--outputFile.json=${file}`]
  const { code, timedOut } = await tool('vitest/vitest.mjs', all, { env, timeoutSeconds: vitestMinutes * 60 })
  if (timedOut) console.log(`vitest was ended after ${vitestMinutes} minutes`)
  const report = existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined
  rmSync(folder, { recursive: true, force: true })
  return countReport(report, code)
}

/** What the tests of custody count on the way (tally.mjs); `npm run faults` sums up over several runs. */
const countsFolder = mkdtempSync(path.join(os.tmpdir(), 'leadside-tally-'))
const countsFile = process.env.LEADSIDE_TALLY ?? path.join(countsFolder, 'tally')

/** Variables for the tests: where this machine's parts are. */
function partsEnv() {
  const browser = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable']
    .map((name) => commandPath(name))
    .find(Boolean)
  return {
    LEADSIDE_NODE: node24Path(),
    // An answer that the contract does not allow fails here; for a coach it is only written to the log.
    LEADSIDE_STRICT_ANSWERS: '1',
    LEADSIDE_TALLY: countsFile,
    ...(browser && { LEADSIDE_CHROMIUM: browser }),
  }
}

/** Everything that the real window needs; undefined, with the reason said, where it can't be had. */
async function windowEnv(missing) {
  const needed = new Set(windowNeeds.flatMap((need) => need.names))
  const lacking = missing.filter((name) => needed.has(name))
  if (lacking.length > 0) {
    say(`the window's tests are skipped: missing ${lacking.join(', ')}`)
    return undefined
  }
  try {
    // On a display of their own: the tests' windows must not mix with the developer's.
    const display = await ensureDisplay({ always: true })
    const runtime = await ensureElectron({ env: display.env })
    return { ...display.env, ...electronEnv(runtime) }
  } catch (error) {
    if (isCi() || !(error instanceof SetUpProblem)) throw error
    say(`the window's tests are skipped: ${error.message}`)
    return undefined
  }
}

/** A step that is not a test: counts as one failure when it fails, as nothing when it passes. */
async function check(name, run) {
  const from = Date.now()
  console.log(`\n— ${name}`)
  let code = 1
  try {
    code = (await run())?.code ?? 0
  } catch (error) {
    console.log(error instanceof SetUpProblem ? error.message : error)
  }
  console.log(`  ${name}: ${code === 0 ? 'passed' : 'FAILED'} (${((Date.now() - from) / 1000).toFixed(1)} s)`)
  return { name, passed: 0, failed: code === 0 ? 0 : 1, skipped: 0 }
}

function finish(parts) {
  const skippedNames = parts.flatMap((part) => part.skippedNames ?? [])
  if (skippedNames.length > 0) {
    console.log(`\nSkipped:\n${skippedNames.map((name) => `  ${name}`).join('\n')}`)
  }
  const failedChecks = parts.filter((part) => part.name && part.failed > 0).map((part) => part.name)
  if (failedChecks.length > 0) console.log(`\nFailed besides the tests: ${failedChecks.join(', ')}`)
  const sums = sumTally(countsFile)
  rmSync(countsFolder, { recursive: true, force: true })
  if (sums.size > 0) console.log(`\n${tallyLine(sums)}`)
  const counts = sumCounts(parts)
  console.log(`\n${summaryLine(counts)}`)
  return counts.failed === 0 ? 0 : 1
}

/** `npm test -- …`: vitest alone. The window is set up only when the arguments can reach its tests. */
async function onlyVitest(args) {
  const files = args.filter((arg) => /(^|[\\/])tests?[\\/]|\.test\./.test(arg))
  const project = /--project[= ](\S+)/.exec(args.join(' '))?.[1]
  const window = project
    ? project === 'desktop'
    : files.length === 0 || files.some((file) => file.includes('desktop'))
  let env = partsEnv()
  const { missing } = await ensureSystemPackages(window ? testNeeds : [])
  const extra = window ? await windowEnv(missing) : undefined
  if (extra) {
    await ensureBuilt()
    env = { ...env, ...extra }
  }
  const projects = project || extra ? [] : ['--project', 'core']
  return finish([await vitest([...projects, ...args], env)])
}

async function everything() {
  const { missing } = await ensureSystemPackages(testNeeds)
  const env = partsEnv()
  const parts = [
    await check('lint', () => npmScript('lint')),
    await check('types', () => npmScript('typecheck')),
  ]
  console.log('\n— tests')
  parts.push(await vitest(['--project', 'core'], env))

  const built = await check('build', ensureBuilt)
  parts.push(built)
  if (built.failed > 0) return finish(parts)

  let extra
  const prepared = await check("the window's set-up", async () => {
    extra = await windowEnv(missing)
  })
  parts.push(prepared)
  if (extra) {
    console.log("\n— the window's tests")
    parts.push(await vitest(['--project', 'desktop', '--passWithNoTests'], { ...env, ...extra }))
  } else if (prepared.failed === 0) {
    parts.push({ passed: 0, failed: 0, skipped: 1, skippedNames: ["all of the window's tests (see above)"] })
  }
  return finish(parts)
}

await runMain(async () => {
  await ensureInstalled()
  const args = process.argv.slice(2)
  const code = await (args.length > 0 ? onlyVitest(args) : everything())
  // Xvfb and its pipes are ours to end; nothing else is left to wait for.
  process.exit(code)
})
