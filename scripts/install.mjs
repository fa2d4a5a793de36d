import { existsSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { ensureBodyModel } from './body-model.mjs'
import { installState } from './install-state.mjs'
import { node24Path, pathWithoutNodeModules, root, toolEnv } from './paths.mjs'
import { npmCommand, runCommand } from './run-command.mjs'
import { SetUpProblem, say } from './set-up-problem.mjs'

/**
 * Installs what package-lock.json asks for when it is not there, then makes sure that what everything else
 * stands on really works: Node 24, SQLite, ffmpeg, and puts the weights for body points in place.
 * @returns {Promise<{node: string, nodeVersion: string, ffmpeg: string}>}
 */
export async function ensureInstalled() {
  const state = installState(root)
  if (!state.fresh) await install(state.why)

  const nodeVersion = await ensureNode24()
  await checkSqlite()
  const ffmpeg = await findFfmpeg()
  await ensureBodyModel()
  say(`Node ${nodeVersion}, SQLite ready, ffmpeg: ${ffmpeg}`)
  return { node: node24Path(), nodeVersion, ffmpeg }
}

async function install(why) {
  say(`installing the packages (${why}); this takes a minute or two`)
  // Without install scripts: npm would start a compiler for better-sqlite3, which brings its builds along, and a
  // refused download of ffmpeg-static would be waited for. The scripts that are needed run one by one below.
  const { code } = await npm(['ci', '--include=dev', '--include=optional', '--ignore-scripts', ...quietly])
  if (code !== 0) {
    throw new SetUpProblem(
      `npm ci failed (exit code ${code}); its reason is above.\n` +
        'It needs the npm registry, and package.json and package-lock.json must agree.\n' +
        'To see all of it, run: npm ci',
    )
  }
  const after = installState(root)
  if (!after.fresh) throw new SetUpProblem(`npm ci ended well, yet ${after.why}. Run: npm ci`)
  await runInstallScripts()
  await downloadFfmpegStatic()
}

const quietly = ['--no-audit', '--no-fund', '--loglevel=error']

/** The small scripts of installed packages (they make packed programs executable). */
async function runInstallScripts() {
  const { packages } = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8'))
  const names = Object.keys(packages)
    .filter((place) => packages[place].hasInstallScript && existsSync(path.join(root, place)))
    .map((place) => place.replace(/^.*node_modules\//, ''))
    .filter((name) => name !== 'node' && name !== 'ffmpeg-static')
  if (names.length > 0) {
    await npm(['rebuild', ...names, '--ignore-scripts=false', ...quietly], { quiet: true })
  }
}

/** A newer ffmpeg than the packed one, where the network has it; the others serve where it has not. */
async function downloadFfmpegStatic() {
  if (!existsSync(path.join(root, 'node_modules', 'ffmpeg-static'))) return
  const { code } = await npm(['rebuild', 'ffmpeg-static', '--ignore-scripts=false', ...quietly], {
    quiet: true,
    timeoutSeconds: 180,
  })
  if (code !== 0) say("ffmpeg-static's download can't be reached; another ffmpeg is used")
}

/** npm on the machine's own Node, never on the one inside node_modules that it may be replacing. */
function npm(args, options = {}) {
  const env = { ...process.env, PATH: pathWithoutNodeModules() }
  // What an outer `npm run` hands down is about that run, not about this one.
  for (const name of ['npm_execpath', 'npm_node_execpath', 'NODE', 'INIT_CWD']) delete env[name]
  return runCommand(npmCommand, args, { cwd: root, env, toStderr: true, ...options })
}

async function ensureNode24() {
  const first = await nodeVersionOf(node24Path())
  if (first) return first
  // Its install script fetches the build for this platform; it is skipped where scripts are switched off.
  say('putting Node 24 in place')
  const { code, output } = await npm(['rebuild', 'node', '--ignore-scripts=false', ...quietly], {
    quiet: true,
  })
  if (code !== 0) process.stderr.write(output)
  const second = await nodeVersionOf(node24Path())
  if (second) return second
  throw new SetUpProblem(
    'Node 24 (the npm package "node") is not in node_modules. Install scripts may be switched off, or there is no\n' +
      'build for this platform. Run: npm rebuild node --ignore-scripts=false',
  )
}

async function nodeVersionOf(program) {
  if (!existsSync(program)) return undefined
  const { code, output } = await runCommand(program, ['-p', 'process.versions.node'], {
    quiet: true,
    timeoutSeconds: 30,
  })
  const version = output.trim()
  return code === 0 && Number(version.split('.')[0]) >= 22 ? version : undefined
}

async function checkSqlite() {
  const script =
    "const D=require('better-sqlite3');console.log(new D(':memory:').prepare('select 6*7').pluck().get())"
  const { code, output } = await runCommand(node24Path(), ['-e', script], {
    cwd: root,
    quiet: true,
    timeoutSeconds: 60,
  })
  if (code !== 0 || output.trim() !== '42') {
    throw new SetUpProblem(
      `SQLite (better-sqlite3) does not load under Node 24:\n${output.trim()}\nRun: npm ci`,
    )
  }
}

async function findFfmpeg() {
  const first = await workingFfmpeg()
  if (first) return first
  await runInstallScripts()
  const second = await workingFfmpeg()
  if (second) return second
  throw new SetUpProblem(
    'No ffmpeg was found. Install one (Debian: apt-get install ffmpeg) or set FFMPEG_PATH to its program.',
  )
}

/** The same order of places in which the program itself looks. */
async function workingFfmpeg() {
  const ask = async (name) => {
    const script = `try{const p=require('${name}');console.log(p.path??p)}catch{}`
    const options = { cwd: root, quiet: true, timeoutSeconds: 30 }
    return (await runCommand(node24Path(), ['-e', script], options)).output.trim()
  }
  const places = [
    ['FFMPEG_PATH', async () => process.env.FFMPEG_PATH],
    ['ffmpeg-static', () => ask('ffmpeg-static')],
    ['on the PATH', async () => 'ffmpeg'],
    ['@ffmpeg-installer', () => ask('@ffmpeg-installer/ffmpeg')],
  ]
  for (const [where, place] of places) {
    const program = await place()
    if (!program) continue
    const options = { env: toolEnv(), quiet: true, timeoutSeconds: 30 }
    const { code, output } = await runCommand(program, ['-hide_banner', '-version'], options)
    if (code === 0) return `${/version (\S+)/.exec(output)?.[1] ?? 'unknown version'} (${where})`
  }
  return undefined
}

if (process.argv[1] && path.resolve(process.argv[1]) === path.join(root, 'scripts', 'install.mjs')) {
  const { runMain } = await import('./set-up-problem.mjs')
  await runMain(async () => void (await ensureInstalled()))
}
