import fs from 'node:fs'
import path from 'node:path'

const isAlive = (pid: number) => {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}

/**
 * Says that this process has the library open, and whether another one has. Tidying and recovering of
 * jobs is only for the one that has a library nobody else is using.
 */
export const enterLibrary = (folder: string): { isAlone: () => boolean; leave: () => void } => {
  const inUse = path.join(folder, 'in-use')
  fs.mkdirSync(inUse, { recursive: true })
  const mine = path.join(inUse, `${process.pid}-${process.hrtime.bigint()}`)
  fs.writeFileSync(mine, '')
  const isAlone = () => {
    let others = 0
    for (const name of fs.readdirSync(inUse)) {
      const file = path.join(inUse, name)
      if (file === mine) continue
      const pid = Number(name.split('-')[0])
      if (pid === process.pid || isAlive(pid)) others += 1
      else fs.rmSync(file, { force: true })
    }
    return others === 0
  }
  return { isAlone, leave: () => fs.rmSync(mine, { force: true }) }
}
