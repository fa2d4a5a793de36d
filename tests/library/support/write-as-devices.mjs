// Writes a lesson as a camera and a device would, from another process: clips slowly and in pieces, every second one under a
// name of its own until it is whole; a line of a shot with each, sometimes in two pieces.
import {
  appendFileSync,
  readdirSync,
  readFileSync,
  renameSync,
  openSync,
  writeSync,
  closeSync,
} from 'node:fs'
import path from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'

const [, , source, clips, shots, rowsFile] = process.argv
const rows = JSON.parse(readFileSync(rowsFile, 'utf8'))
const names = readdirSync(source).sort()
for (const [i, name] of names.entries()) {
  const bytes = readFileSync(path.join(source, name))
  const target = path.join(clips, i % 2 ? `${name}.part` : name)
  const handle = openSync(target, 'w')
  const piece = Math.ceil(bytes.length / 4)
  for (let at = 0; at < bytes.length; at += piece) {
    writeSync(handle, bytes.subarray(at, at + piece))
    await wait(60)
  }
  closeSync(handle)
  if (i % 2) renameSync(target, path.join(clips, name))
  const row = `${rows[i]}\n`
  if (i % 3) appendFileSync(shots, row)
  else {
    appendFileSync(shots, row.slice(0, 12))
    await wait(80)
    appendFileSync(shots, row.slice(12))
  }
  await wait(150)
}
