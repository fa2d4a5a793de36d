import fs from 'node:fs'
import path from 'node:path'
import { createRequire } from 'node:module'

/** Which Electron the window would run in: an override, or the package's own binary. */
export const electronInUse = (): { ok: boolean; text: string } => {
  const override = process.env.ELECTRON_OVERRIDE_DIST_PATH
  const versionIn = (folder: string) => {
    const file = path.join(folder, 'version')
    return fs.existsSync(file) ? fs.readFileSync(file, 'utf8').trim() : 'unknown version'
  }
  if (override) {
    return {
      ok: true,
      text: `Electron ${versionIn(override)}, from ELECTRON_OVERRIDE_DIST_PATH: ${override}`,
    }
  }
  try {
    const packageFolder = path.dirname(createRequire(import.meta.url).resolve('electron/package.json'))
    const dist = path.join(packageFolder, 'dist')
    if (fs.existsSync(dist)) {
      return { ok: true, text: `Electron ${versionIn(dist)}, from the electron package` }
    }
    return {
      ok: true,
      text: 'Electron: no binary in the electron package yet; npm start fetches one or says what it uses instead',
    }
  } catch {
    return { ok: true, text: 'Electron is not installed here; the command line does not need it' }
  }
}
