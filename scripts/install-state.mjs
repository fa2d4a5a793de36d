import { existsSync, readFileSync } from 'node:fs'
import path from 'node:path'

/**
 * Is node_modules what package-lock.json asks for?
 * npm writes node_modules/.package-lock.json as the last step of an install, so its absence means "never finished".
 * It is compared with the lock package by package, and with what really lies on the disk: times are not looked at
 * (a fresh checkout has new times), and a folder deleted or replaced by hand is noticed.
 * Optional packages may be absent (another platform, or a download that was refused).
 * @param {string} root
 * @returns {{fresh: boolean, why: string}}
 */
export function installState(root) {
  const stale = (why) => ({ fresh: false, why })
  const lock = readJson(path.join(root, 'package-lock.json'))
  if (!lock?.packages) return stale('package-lock.json cannot be read')
  if (!existsSync(path.join(root, 'node_modules'))) return stale('nothing is installed yet')
  const installed = readJson(path.join(root, 'node_modules', '.package-lock.json'))?.packages
  if (!installed) return stale('the last install did not finish')

  for (const [place, wanted] of Object.entries(lock.packages)) {
    if (place === '') continue
    const found = installed[place]
    if (!found) {
      if (wanted.optional) continue
      return stale(`${place} is missing`)
    }
    if (found.version !== wanted.version || differs(found.integrity, wanted.integrity)) {
      return stale(`${place} is not the version in package-lock.json`)
    }
    const onDisk = readJson(path.join(root, place, 'package.json'))
    if (!onDisk && !wanted.link) return stale(`${place} is incomplete`)
    if (onDisk?.version && wanted.version && onDisk.version !== wanted.version) {
      return stale(`${place} has version ${onDisk.version} on the disk`)
    }
  }
  return { fresh: true, why: 'up to date' }
}

function differs(a, b) {
  return a !== undefined && b !== undefined && a !== b
}

function readJson(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'))
  } catch {
    return undefined
  }
}
