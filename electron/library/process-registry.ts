import { randomUUID } from 'node:crypto'
import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { z } from 'zod'

const registrationSchema = z.object({
  host: z.string(),
  pid: z.number().int(),
  /** When the process began, as the system tells it: a number that is given out again later is another process. */
  startedAt: z.string(),
})
type Who = z.infer<typeof registrationSchema>

/** A process says this often that it is still there; one of another machine is believed for as long as `silentMs`. */
const beatMs = 20_000
const silentMs = 3 * 60_000

/**
 * When a process began, in whatever words the system has for it; null if there is none with this number. Where the
 * system can't be asked, the empty text: then the number alone must do.
 */
const startOf = (pid: number): string | null => {
  if (process.platform === 'linux') {
    try {
      const stat = fs.readFileSync(`/proc/${pid}/stat`, 'utf8')
      // proc(5): the name in brackets may hold anything; the start is field 22, the state field 3.
      const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
      if (fields[0] === 'Z' || fields[0] === 'X') return null
      return `${fields[19]} ${fs.readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim()}`
    } catch {
      return null
    }
  }
  try {
    process.kill(pid, 0)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return null
  }
  if (process.platform === 'win32') return ''
  try {
    return execFileSync('ps', ['-o', 'lstart=', '-p', String(pid)], { encoding: 'utf8' }).trim()
  } catch {
    return ''
  }
}

const folderOf = (library: string) => path.join(library, 'in-use')

const isAlive = (file: string): boolean => {
  let who: Who
  let silentSince: number
  try {
    silentSince = fs.statSync(file).mtimeMs
    who = registrationSchema.parse(JSON.parse(fs.readFileSync(file, 'utf8')))
  } catch {
    return false
  }
  if (who.host !== os.hostname()) return Math.abs(Date.now() - silentSince) < silentMs
  return startOf(who.pid) === who.startedAt
}

/** True while the process that entered under this name has the library open. */
export const isRegistered = (library: string, id: string): boolean =>
  isAlive(path.join(folderOf(library), id))

/** Has anybody this library open? */
export const isInUse = (library: string): boolean => {
  const inUse = folderOf(library)
  return fs.existsSync(inUse) && fs.readdirSync(inUse).some((name) => isAlive(path.join(inUse, name)))
}

export interface Registration {
  /** The name under which this process has the library open; owners of jobs and claims are named so. */
  readonly id: string
  /** Nobody else has it open, on this machine or another. */
  isAlone(): boolean
  unregister(): void
}

/** Says that this process has the library open, by machine, process and the time at which the process began. */
export const registerProcess = (library: string): Registration => {
  const inUse = folderOf(library)
  fs.mkdirSync(inUse, { recursive: true })
  const id = randomUUID()
  const mine = path.join(inUse, id)
  const who: Who = { host: os.hostname(), pid: process.pid, startedAt: startOf(process.pid) ?? '' }
  fs.writeFileSync(`${mine}.new`, JSON.stringify(who))
  fs.renameSync(`${mine}.new`, mine)
  const beat = setInterval(() => {
    try {
      const now = new Date()
      fs.utimesSync(mine, now, now)
    } catch {
      // The folder is not there just now; the library itself notices that.
    }
  }, beatMs)
  beat.unref()
  const isAlone = () => {
    let others = 0
    for (const name of fs.readdirSync(inUse)) {
      const file = path.join(inUse, name)
      if (file === mine || name.endsWith('.new')) continue
      if (isAlive(file)) others += 1
      else fs.rmSync(file, { force: true })
    }
    return others === 0
  }
  return {
    id,
    isAlone,
    unregister: () => {
      clearInterval(beat)
      fs.rmSync(mine, { force: true })
    },
  }
}
