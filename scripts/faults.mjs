// npm run faults [-- NAME… --minutes N]: the tests of custody at full size, on other seeds than `npm test`, and what they counted.
// Without names all of it: an hour on two processors, and an hour of a session in the window that asks for little.
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { parseArgs } from 'node:util'
import { ensureInstalled } from './install.mjs'
import { root, toolEnv } from './paths.mjs'
import { runCommand } from './run-command.mjs'
import { SetUpProblem, runMain } from './set-up-problem.mjs'
import { sumTally, tallyLine } from './tally.mjs'

/** The oldest ffmpeg that may be met: the one from the registry, of 2018. */
const oldFfmpeg = () => {
  const of = (name) =>
    path.join(root, 'node_modules', `@${name}-installer`, `${process.platform}-${process.arch}`, name)
  return existsSync(of('ffmpeg')) ? { FFMPEG_PATH: of('ffmpeg'), FFPROBE_PATH: of('ffprobe') } : {}
}

const seeds = (count) => Array.from({ length: count }, (_, n) => String(n + 1))

/** Files, and what makes them large; one run each. */
const pieces = (minutes) => ({
  kills: seeds(8).map((seed) => [
    ['tests/library/kills.test.ts'],
    { LEADSIDE_KILLS: '25', LEADSIDE_SEED: seed },
  ]),
  deletion: [[['tests/library/deletion.test.ts', 'tests/library/full-disk.test.ts'], {}]],
  edits: [[['tests/library/many-writers.test.ts'], { LEADSIDE_EDITS: '600' }]],
  calls: seeds(4).map((seed) => [
    ['tests/contract/random-calls.test.ts'],
    { LEADSIDE_CALLS: '1500', LEADSIDE_SEED: seed },
  ]),
  hostile: [[['tests/library/hostile-files.test.ts'], { LEADSIDE_MUTATIONS: '200', ...oldFfmpeg() }]],
  connections: [
    [
      ['tests/desktop/connections.test.ts', 'tests/desktop/shipped.test.ts'],
      { LEADSIDE_SESSION_MINUTES: minutes },
    ],
  ],
})

await runMain(async () => {
  const { node } = await ensureInstalled()
  const { values, positionals: names } = parseArgs({
    options: { minutes: { type: 'string', default: '60' } },
    allowPositionals: true,
  })
  const all = pieces(values.minutes)
  const unknown = names.find((name) => !Object.hasOwn(all, name))
  if (unknown) throw new SetUpProblem(`There is no "${unknown}"; there are: ${Object.keys(all).join(', ')}`)
  const folder = mkdtempSync(path.join(os.tmpdir(), 'leadside-faults-'))
  const counts = path.join(folder, 'tally')
  const failed = []
  for (const name of names.length > 0 ? names : Object.keys(all)) {
    for (const [files, env] of all[name]) {
      const words = Object.entries(env).map(([key, value]) => `${key}=${value}`)
      console.log(`\n— ${name}: ${[...words, ...files].join(' ')}`)
      const { code } = await runCommand(node, [path.join(root, 'scripts', 'test.mjs'), ...files], {
        cwd: root,
        env: toolEnv({ ...env, LEADSIDE_TALLY: counts }),
      })
      if (code !== 0) failed.push(`${name} ${words.join(' ')}`)
    }
  }
  console.log(`\n${tallyLine(sumTally(counts))}`)
  if (failed.length > 0) console.log(`Failed: ${failed.join('; ')}`)
  rmSync(folder, { recursive: true, force: true })
  return failed.length === 0 ? 0 : 1
})
