import fs from 'node:fs'
import path from 'node:path'
import { createRequire } from 'node:module'
import { electronTexts } from '../../shared-core/wording/command-line/electron-in-use.ts'

const programName = (): string => {
  if (process.platform === 'win32') return 'electron.exe'
  return process.platform === 'darwin' ? 'Electron.app/Contents/MacOS/Electron' : 'electron'
}

/** Folder of the electron package's own binary; null if the package is not installed. */
const ownDist = (): string | null => {
  try {
    return path.join(path.dirname(createRequire(import.meta.url).resolve('electron/package.json')), 'dist')
  } catch {
    return null
  }
}

/** An Electron that can print here: it needs a display on Linux, even if no window is seen. Null if there is none. */
export const findElectron = (environment: NodeJS.ProcessEnv = process.env): string | null => {
  if (process.platform === 'linux' && !environment.DISPLAY && !environment.WAYLAND_DISPLAY) return null
  const override = environment.ELECTRON_OVERRIDE_DIST_PATH
  const own = ownDist()
  const programs = [
    environment.LEADSIDE_ELECTRON,
    override && path.join(override, programName()),
    own && path.join(own, programName()),
  ]
  return programs.find((file) => file && fs.existsSync(file)) ?? null
}

/** Which Electron the window would run in: an override, or the package's own binary. */
export const electronInUse = (): { ok: boolean; text: string } => {
  const override = process.env.ELECTRON_OVERRIDE_DIST_PATH
  const versionIn = (folder: string) => {
    const file = path.join(folder, 'version')
    return fs.existsSync(file) ? fs.readFileSync(file, 'utf8').trim() : electronTexts('unknownVersion')
  }
  if (override) {
    return {
      ok: true,
      text: electronTexts('override', { version: versionIn(override), folder: override }),
    }
  }
  const dist = ownDist()
  if (dist === null) {
    return { ok: true, text: electronTexts('notInstalled') }
  }
  return fs.existsSync(dist)
    ? { ok: true, text: electronTexts('package', { version: versionIn(dist) }) }
    : {
        ok: true,
        text: electronTexts('noBinary'),
      }
}
