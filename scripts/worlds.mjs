// npm run worlds [-- NAME… --small --seed N --piece K/N]: runs scripts/worlds/*.ts, worlds with known truth, and prints how often the
// tool was right, wrong and unsure. Each file exports `name` and `run({small, seed, print})`; print takes markdown.
// A world that takes long can be run in pieces (--piece 1/6 … 6/6), each a process of a few minutes; the last one prints for all.
// A full run on the usual seed keeps what was printed in tests/worlds/<name>.md, for the next change to be compared with.
import { existsSync, readdirSync, readFileSync, writeFileSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { parseArgs } from 'node:util'
import { ensureInstalled } from './install.mjs'
import { root, toolEnv } from './paths.mjs'
import { runCommand } from './run-command.mjs'
import { SetUpProblem, runMain } from './set-up-problem.mjs'

const folder = path.join(root, 'scripts', 'worlds')
const kept = path.join(root, 'tests', 'worlds')
/** Reported on this one; tune on any other. */
const usualSeed = 20_270_101

async function runWorld(node, file, { small, seed, piece }) {
  const work = mkdtempSync(path.join(os.tmpdir(), 'leadside-worlds-'))
  const result = path.join(work, 'result.json')
  const { code } = await runCommand(
    node,
    [
      path.join(root, 'scripts', 'worlds-run.mjs'),
      path.join(folder, file),
      result,
      String(seed),
      small ? 'small' : 'full',
      ...(piece ? [piece] : []),
    ],
    { cwd: root, env: toolEnv({ LEADSIDE_NODE: node }), timeoutSeconds: 3600, toStderr: true },
  )
  const found = code === 0 && existsSync(result) ? JSON.parse(readFileSync(result, 'utf8')) : undefined
  rmSync(work, { recursive: true, force: true })
  return found
}

await runMain(async () => {
  const { values, positionals } = parseArgs({
    args: process.argv.slice(2),
    options: {
      small: { type: 'boolean', default: false },
      seed: { type: 'string' },
      piece: { type: 'string' },
    },
    allowPositionals: true,
  })
  const seed = values.seed === undefined ? usualSeed : Number(values.seed)
  if (!Number.isSafeInteger(seed) || seed < 1) throw new SetUpProblem('--seed takes a whole number from 1')
  const [, index, count] = /^(\d+)\/(\d+)$/.exec(values.piece ?? '1/1') ?? []
  if (!index || Number(index) < 1 || Number(index) > Number(count)) {
    throw new SetUpProblem('--piece takes the number of a piece and how many there are, as 2/6')
  }
  const { node } = await ensureInstalled()
  const files = readdirSync(folder)
    .filter((file) => file.endsWith('.ts'))
    .filter((file) => positionals.length === 0 || positionals.includes(file.replace(/\.ts$/, '')))
    .sort()
  if (files.length === 0) throw new SetUpProblem('There is no such world in scripts/worlds.')

  const failed = []
  for (const file of files) {
    process.stderr.write(`world ${file}\n`)
    const found = await runWorld(node, file, { small: values.small, seed, piece: values.piece })
    if (!found) {
      failed.push(file)
      continue
    }
    if (found.printed.length === 0) {
      process.stderr.write(`piece ${values.piece} is kept; the others are to come\n`)
      continue
    }
    const text = `# ${found.name}\n\nSeed ${seed}${values.small ? ', small' : ''}.\n\n${found.printed.join('\n').trim()}\n`
    console.log(text)
    if (!values.small && seed === usualSeed) {
      writeFileSync(path.join(kept, file.replace(/\.ts$/, '.md')), text)
    }
  }
  if (failed.length > 0) console.log(`Failed: ${failed.join(', ')}`)
  process.exit(failed.length > 0 ? 1 : 0)
})
