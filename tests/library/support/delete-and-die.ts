// node delete-and-die.ts LIBRARY STUDENT-ID NAME STEP: deletes a student and is killed at the STEP-th thing it deletes.
import fs from 'node:fs'
import Database from 'better-sqlite3'
import { Library } from '../../../electron/library/library.ts'

const [folder, id, typedName, step] = process.argv.slice(2) as [string, string, string, string]
const library = new Library({ folder, printPdf: null })

let done = 0
const maybeDie = () => {
  done += 1
  if (done === Number(step)) process.kill(process.pid, 'SIGKILL')
}
// Files that go, copies that are written anew, and the log that is emptied: all that comes after the transaction.
const { rmSync } = fs
fs.rmSync = (...args) => {
  maybeDie()
  rmSync(...args)
}
const { exec, pragma } = Database.prototype
Database.prototype.exec = function (sql) {
  maybeDie()
  return exec.call(this, sql)
}
Database.prototype.pragma = function (source, options) {
  maybeDie()
  return pragma.call(this, source, options)
}
await library.ask('student.deleteForGood', { id, typedName, withPackages: true })
process.send?.({ steps: done })
process.disconnect?.()
process.exit(0)
