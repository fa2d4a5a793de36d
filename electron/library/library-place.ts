import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { z } from 'zod'
import { finishMove, hasArrived } from './custody/finish-move.ts'
import { markBeside } from './custody/mark.ts'
import { writeWhole } from './custody/write-whole.ts'

/**
 * Where the coach has put the library on this machine: kept beside the window's own data, for the command line, too.
 * `movingTo` while it is being moved, with the mark by which it is known there.
 */
const placeSchema = z.object({
  folder: z.string().min(1),
  movingTo: z.string().min(1).optional(),
  movingId: z.string().optional(),
})

/** The folder of the window's own data; the same that Electron uses for an application of this name. */
export const userDataFolder = (): string => {
  if (process.env.LEADSIDE_USER_DATA) return process.env.LEADSIDE_USER_DATA
  const home = os.homedir()
  if (process.platform === 'darwin') return path.join(home, 'Library', 'Application Support', 'Leadside')
  if (process.platform === 'win32') return path.join(process.env.APPDATA ?? home, 'Leadside')
  return path.join(process.env.XDG_CONFIG_HOME ?? path.join(home, '.config'), 'Leadside')
}

const placeFile = (userData: string) => path.join(userData, 'library-place.json')

const readPlace = (userData: string) => {
  try {
    return placeSchema.parse(JSON.parse(fs.readFileSync(placeFile(userData), 'utf8')))
  } catch {
    return null
  }
}

/** The folder chosen on this machine; null if the usual one is used. A library arrives at a new place in one step. */
export const chosenPlace = (userData = userDataFolder()): string | null => {
  const place = readPlace(userData)
  if (place?.movingTo && hasArrived(place.movingTo, place.movingId)) return place.movingTo
  return place?.folder ?? null
}

/** @param movingTo the folder it is about to be moved to: should that be cut off, the library is found nevertheless */
export const choosePlace = (folder: string, userData = userDataFolder(), movingTo?: string): void => {
  fs.mkdirSync(userData, { recursive: true })
  const moving = movingTo && { movingTo, movingId: markBeside(folder)?.id }
  writeWhole(placeFile(userData), JSON.stringify({ folder, ...moving }))
}

/** Takes away what a move that was cut off has left, at the place where the library is not. */
export const tidyPlace = (userData: string): void => {
  const place = readPlace(userData)
  if (!place?.movingTo) return
  finishMove(place.folder, place.movingTo, place.movingId)
  choosePlace(chosenPlace(userData)!, userData)
}
