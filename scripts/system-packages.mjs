import { accessSync, constants, existsSync } from 'node:fs'
import path from 'node:path'
import { runCommand } from './run-command.mjs'
import { SetUpProblem, say } from './set-up-problem.mjs'
import { installedNames, missingNeeds, offeredName, offeredNames } from './system-package-names.mjs'

/** `CI=true` (or 1): a missing part fails the run instead of being skipped. */
export function isCi(env = process.env) {
  return env.CI === 'true' || env.CI === '1'
}

/** Is a program of this name on the PATH? */
export function hasCommand(name, env = process.env) {
  return commandPath(name, env) !== undefined
}

/** The full path of a program on the PATH. */
export function commandPath(name, env = process.env) {
  for (const folder of (env.PATH ?? '').split(path.delimiter)) {
    const file = path.join(folder, name)
    try {
      accessSync(file, constants.X_OK)
      return file
    } catch {
      // not in this folder
    }
  }
  return undefined
}

/**
 * Makes sure that the Debian packages behind `needs` are there: as root they are installed, otherwise the command
 * to run is printed. With CI=true whatever is still missing fails the run.
 * Elsewhere than on Linux there is nothing to do: windows, fonts and sound come with the system.
 * @param {import('./system-package-names.mjs').Need[]} needs
 * @returns {Promise<{missing: string[]}>} names of what is still missing
 */
export async function ensureSystemPackages(needs) {
  if (process.platform !== 'linux') return { missing: [] }
  const isDebian = existsSync('/usr/bin/dpkg-query') && hasCommand('apt-get')
  if (!isDebian) return withoutDebian(needs)

  const find = async () => missingNeeds(needs, await installedTest(), hasCommand)
  let missing = await find()
  if (missing.length === 0) return { missing: [] }

  const isRoot = process.getuid?.() === 0
  if (isRoot) {
    const reasons = [...new Set(missing.map((need) => need.for))].join(', ')
    say(`Debian packages are missing (for ${reasons}); asking apt-get`)
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
    await apt(['update', '-qq'], env)
    const names = await namesHere(missing)
    say(`apt-get install ${names.join(' ')}`)
    const all = await apt(['install', '-y', '-qq', '--no-install-recommends', ...names], env)
    // One package that can't be had must not keep out the others.
    if (all.code !== 0 && names.length > 1) {
      for (const name of names) await apt(['install', '-y', '-qq', '--no-install-recommends', name], env)
    }
    missing = await find()
    if (missing.length === 0) return { missing: [] }
  }

  const names = await namesHere(missing)
  const command = `apt-get update && apt-get install -y --no-install-recommends ${names.join(' ')}`
  const text =
    `These Debian packages are missing${isRoot ? ' and apt-get could not install them' : ''}: ${names.join(' ')}\n` +
    `  Run as root: ${command}`
  if (isCi()) throw new SetUpProblem(text)
  say(text)
  return { missing: names }
}

/** apt-get, with patience for another apt-get at work and its output kept unless it fails. */
async function apt(args, env) {
  const result = await runCommand('apt-get', ['-o', 'DPkg::Lock::Timeout=120', ...args], {
    env,
    quiet: true,
    timeoutSeconds: 900,
  })
  if (result.code !== 0) {
    say(`apt-get ${args[0]} failed:\n${result.output.trim().split('\n').slice(-8).join('\n')}`)
  }
  return result
}

async function installedTest() {
  const { output } = await runCommand('dpkg-query', ['-W', '-f', '${db:Status-Abbrev} ${Package}\n'], {
    quiet: true,
  })
  const names = installedNames(output)
  return (name) => names.has(name)
}

async function namesHere(needs) {
  const { output } = await runCommand('apt-cache', ['policy', ...needs.flatMap((need) => need.names)], {
    quiet: true,
  })
  const offered = offeredNames(output)
  return needs.map((need) => offeredName(need, (name) => offered.has(name)))
}

/** Other Linux systems: only programs can be looked for; libraries show when the window is first opened. */
function withoutDebian(needs) {
  const missing = needs.filter((need) => need.commands && !need.commands.some((name) => hasCommand(name)))
  if (missing.length === 0) return { missing: [] }
  const text = missing.map((need) => `  ${need.commands[0]}: for ${need.for}`).join('\n')
  const message = `These programs are missing; install them with this system's package manager:\n${text}`
  if (isCi()) throw new SetUpProblem(message)
  say(message)
  return { missing: missing.map((need) => need.commands[0]) }
}
