import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { z } from 'zod'
import { writeWhole } from './custody/write-whole.ts'

/** Where the coach has put the library on this machine: kept beside the window's own data, for the command line, too. */
const placeSchema = z.object({ folder: z.string().min(1) })

/** The folder of the window's own data; the same that Electron uses for an application of this name. */
export const userDataFolder = (): string => {
  if (process.env.LEADSIDE_USER_DATA) return process.env.LEADSIDE_USER_DATA
  const home = os.homedir()
  if (process.platform === 'darwin') return path.join(home, 'Library', 'Application Support', 'Leadside')
  if (process.platform === 'win32') return path.join(process.env.APPDATA ?? home, 'Leadside')
  return path.join(process.env.XDG_CONFIG_HOME ?? path.join(home, '.config'), 'Leadside')
}

const placeFile = (userData: string) => path.join(userData, 'library-place.json')

/** The folder chosen on this machine; null if the usual one is used. */
export const chosenPlace = (userData = userDataFolder()): string | null => {
  try {
    return placeSchema.parse(JSON.parse(fs.readFileSync(placeFile(userData), 'utf8'))).folder
  } catch {
    return null
  }
}

export const choosePlace = (folder: string, userData = userDataFolder()): void => {
  fs.mkdirSync(userData, { recursive: true })
  writeWhole(placeFile(userData), JSON.stringify({ folder }))
}
