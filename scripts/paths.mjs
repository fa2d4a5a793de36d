// Where things are, from the scripts' point of view. No dependencies: this runs before the install.
import os from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'

/** The repository's root folder. */
export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..')

/** The Node 24 that the npm package `node` puts into the install (the machine's own may be 20). */
export function node24Path(base = root) {
  return path.join(base, 'node_modules', 'node', 'bin', process.platform === 'win32' ? 'node.exe' : 'node')
}

/** The folder for things that are dear to fetch and safe to delete. */
export function cacheFolder(env = process.env) {
  const base = env.XDG_CACHE_HOME || path.join(os.homedir(), '.cache')
  return path.join(base, 'leadside')
}

/**
 * PATH without any node_modules/.bin. npm started from an npm script would otherwise run on the very
 * Node 24 that `npm ci` is about to delete.
 */
export function pathWithoutNodeModules(env = process.env) {
  return (env.PATH ?? '')
    .split(path.delimiter)
    .filter((folder) => !/[\\/]node_modules[\\/]\.bin[\\/]?$|node-gyp-bin/.test(folder))
    .join(path.delimiter)
}

/** The environment in which the project's tools run: Node 24 and the installed programs come first. */
export function toolEnv(extra = {}, base = root) {
  const bin = path.join(base, 'node_modules', '.bin')
  return {
    ...process.env,
    PATH: [path.dirname(node24Path(base)), bin, pathWithoutNodeModules()].join(path.delimiter),
    ...extra,
  }
}
