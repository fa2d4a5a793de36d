import { createHash } from 'node:crypto'
import { cpSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { modelFolder } from './body-model.mjs'
import { node24Path, root, toolEnv } from './paths.mjs'
import { runCommand } from './run-command.mjs'
import { SetUpProblem, runMain, say } from './set-up-problem.mjs'

const sourceFolders = ['electron', 'renderer', 'shared-core']
const sourceFiles = [
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'electron.vite.config.ts',
  'scripts/not-bundled.mjs',
]
const stamp = (base) => path.join(base, 'out', '.built-from')

/**
 * One hash over everything that the build is made from: names and contents, not times, which a checkout changes.
 * @param {string} base the repository's root
 */
export function sourceHash(base) {
  const hash = createHash('sha256')
  const add = (relative) => {
    hash.update(`${relative}\0`)
    hash.update(readFileSync(path.join(base, relative)))
    hash.update('\0')
  }
  for (const file of sourceFiles) if (existsSync(path.join(base, file))) add(file)
  for (const folder of sourceFolders) for (const file of filesBelow(base, folder)) add(file)
  return hash.digest('hex')
}

function filesBelow(base, folder) {
  const full = path.join(base, folder)
  if (!existsSync(full)) return []
  return readdirSync(full, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const relative = `${folder}/${entry.name}`
      if (entry.isDirectory()) return filesBelow(base, relative)
      return entry.isFile() ? [relative] : []
    })
}

/**
 * Was out/ built completely, from just these sources?
 * @param {string} base the repository's root
 */
export function isBuilt(base) {
  try {
    return (
      readFileSync(stamp(base), 'utf8') === sourceHash(base) &&
      existsSync(path.join(base, 'out/main/index.js'))
    )
  } catch {
    return false
  }
}

/** Builds the window's programs into out/ when they are older than their sources. */
export async function ensureBuilt() {
  if (isBuilt(root)) return
  say('building the window')
  // Taken away first: a build that is killed leaves no stamp, and is made again.
  rmSync(stamp(root), { force: true })
  const hash = sourceHash(root)
  const vite = path.join(root, 'node_modules', 'electron-vite', 'bin', 'electron-vite.js')
  // Only a folder is meant here, not a binary: the build needs none, and must not try to download one.
  const env = toolEnv({ NODE_ENV: 'production', ELECTRON_EXEC_PATH: process.execPath })
  const { code } = await runCommand(node24Path(), [vite, 'build'], { cwd: root, env, toStderr: true })
  if (code !== 0) throw new SetUpProblem(`The build failed (exit code ${code}); its reason is above.`)
  if (!existsSync(path.join(root, 'out/main/index.js'))) {
    throw new SetUpProblem('The build made no out/main/index.js.')
  }
  cpSync(modelFolder, path.join(root, 'out', 'models'), { recursive: true })
  writeFileSync(stamp(root), hash)
}

if (process.argv[1] && path.resolve(process.argv[1]) === path.join(root, 'scripts', 'build.mjs')) {
  const { ensureInstalled } = await import('./install.mjs')
  await runMain(async () => {
    await ensureInstalled()
    await ensureBuilt()
    say('out/ is up to date')
  })
}
