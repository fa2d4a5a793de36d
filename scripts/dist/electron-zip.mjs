import { createWriteStream, readdirSync, readlinkSync, statSync } from 'node:fs'
import path from 'node:path'
import { pipeline } from 'node:stream/promises'
import yazl from 'yazl'

/** What the stand-in build carries beyond Electron: the launcher for development, and its stamp. */
const notElectron = /^(resources\/(app|default_app)(\/|\.|$)|leadside-runtime\.json$)/

/** Electron's folder as the zip that the packager takes it from; stored, not squeezed, because it is unpacked at once. */
export async function zipElectron(dist, file) {
  const zip = new yazl.ZipFile()
  for (const entry of readdirSync(dist, { recursive: true, withFileTypes: true })) {
    const full = path.join(entry.parentPath, entry.name)
    const name = path.relative(dist, full).replaceAll('\\', '/')
    if (notElectron.test(name)) continue
    // A bundle of macOS holds links; a zip has them as small files that say so by their mode.
    if (entry.isSymbolicLink()) {
      zip.addBuffer(Buffer.from(readlinkSync(full)), name, { compress: false, mode: 0o120755 })
    } else if (entry.isFile()) zip.addFile(full, name, { compress: false, mode: statSync(full).mode })
  }
  zip.end()
  await pipeline(zip.outputStream, createWriteStream(file))
}
