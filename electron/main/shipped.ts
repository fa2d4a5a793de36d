import fs from 'node:fs'
import path from 'node:path'
import { app } from 'electron'
import { z } from 'zod'

/** A build for trying out only: on another Electron than the pinned one, or made to be driven by a test. */
export const isTestBuild = (): boolean => {
  if (!app.isPackaged) return false
  const about: unknown = JSON.parse(fs.readFileSync(path.join(app.getAppPath(), 'package.json'), 'utf8'))
  return z.looseObject({ isTestBuild: z.boolean() }).parse(about).isTestBuild
}

/** The library's program: beside the archive in a shipped build, as plain files (scripts/dist/library-parts.mjs). */
export const libraryFolder = (): string =>
  app.isPackaged
    ? path.join(process.resourcesPath, 'app.asar.unpacked', 'library', 'out', 'main')
    : import.meta.dirname

/** The licence text of every part, as `npm run licences` writes it; null where there is none. */
export const licencesFile = (): string | null => {
  const file = app.isPackaged
    ? path.join(process.resourcesPath, 'LICENCES.txt')
    : path.join(app.getAppPath(), 'out', 'LICENCES.txt')
  return fs.existsSync(file) ? file : null
}

/** Switches by which another program could look into the window and steer it. */
const steering = ['remote-debugging-port', 'remote-debugging-pipe']

/** A shipped build is steered by nobody; a test build by its test. */
export const isSteered = (): boolean =>
  app.isPackaged && !isTestBuild() && steering.some((name) => app.commandLine.hasSwitch(name))
