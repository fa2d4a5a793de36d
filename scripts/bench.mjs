// npm run bench [-- NAME…]: runs scripts/bench/*.ts and prints one table.
// Each file exports `async function bench(): Promise<{name, value, unit, aim?, note?}[]>`.
// A file whose name starts with `window-` gets the Electron path and a display.
import { mkdtempSync, existsSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { ensureBuilt } from './build.mjs'
import { ensureDisplay } from './display.mjs'
import { electronEnv, ensureElectron } from './electron-runtime.mjs'
import { ensureInstalled } from './install.mjs'
import { root, toolEnv } from './paths.mjs'
import { runCommand } from './run-command.mjs'
import { SetUpProblem, runMain } from './set-up-problem.mjs'
import { windowNeeds } from './system-package-names.mjs'
import { ensureSystemPackages } from './system-packages.mjs'
import { benchTable } from './bench-table.mjs'

const folder = path.join(root, 'scripts', 'bench')

async function windowEnv() {
  const { missing } = await ensureSystemPackages(windowNeeds)
  if (missing.length > 0) throw new SetUpProblem('The window can be measured only with these packages.')
  const display = await ensureDisplay()
  const runtime = await ensureElectron({ env: display.env })
  await ensureBuilt()
  return { ...display.env, ...electronEnv(runtime) }
}

async function measure(node, file, env) {
  const work = mkdtempSync(path.join(os.tmpdir(), 'leadside-bench-'))
  const result = path.join(work, 'result.json')
  const { code } = await runCommand(
    node,
    [path.join(root, 'scripts', 'bench-run.mjs'), path.join(folder, file), result],
    { cwd: root, env: toolEnv(env), timeoutSeconds: 1800, toStderr: true },
  )
  const rows = code === 0 && existsSync(result) ? JSON.parse(readFileSync(result, 'utf8')) : undefined
  rmSync(work, { recursive: true, force: true })
  return rows
}

await runMain(async () => {
  const { node } = await ensureInstalled()
  const wanted = process.argv.slice(2)
  const files = (existsSync(folder) ? readdirSync(folder) : [])
    .filter((file) => file.endsWith('.ts') && !file.endsWith('.d.ts'))
    .filter((file) => wanted.length === 0 || wanted.some((name) => file.includes(name)))
    .sort()
  if (files.length === 0) throw new SetUpProblem('There is nothing to measure in scripts/bench.')

  const env = { LEADSIDE_NODE: node }
  const forWindow = files.some((file) => file.startsWith('window-')) ? await windowEnv() : {}
  const rows = []
  const failed = []
  for (const file of files) {
    process.stderr.write(`measuring ${file}\n`)
    const found = await measure(node, file, file.startsWith('window-') ? { ...env, ...forWindow } : env)
    if (found) rows.push(...found)
    else failed.push(file)
  }
  const cpu = os.cpus()[0]?.model.trim() ?? 'unknown processor'
  console.log(`${os.availableParallelism()} cores, ${cpu}, ${os.platform()} ${os.arch()}\n`)
  console.log(benchTable(rows))
  if (failed.length > 0) console.log(`\nFailed: ${failed.join(', ')}`)
  process.exit(failed.length > 0 ? 1 : 0)
})
