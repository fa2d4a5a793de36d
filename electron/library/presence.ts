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
 * jobs is only for the one that opens a library nobody else is using.
 */
export const enterLibrary = (folder: string): { isAlone: boolean; leave: () => void } => {
  const inUse = path.join(folder, 'in-use')
  fs.mkdirSync(inUse, { recursive: true })
  let others = 0
  for (const name of fs.readdirSync(inUse)) {
    const pid = Number(name.split('-')[0])
    if (pid !== process.pid && isAlive(pid)) others += 1
    else if (pid !== process.pid) fs.rmSync(path.join(inUse, name), { force: true })
    else others += 1
  }
  const mine = path.join(inUse, `${process.pid}-${process.hrtime.bigint()}`)
  fs.writeFileSync(mine, '')
  return { isAlone: others === 0, leave: () => fs.rmSync(mine, { force: true }) }
}
