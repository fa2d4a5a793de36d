// node scripts/worlds-run.mjs FILE RESULT SEED small|full [PIECE/PIECES]: one world in a process of its own (Node 24: it reads TypeScript).
import { writeFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'

const [file, result, seed, size, piece] = process.argv.slice(2)
const { name, run } = await import(pathToFileURL(file).href)
const printed = []
const [index, count] = (piece ?? '').split('/').map(Number)
await run({
  small: size === 'small',
  seed: Number(seed),
  print: (text) => printed.push(text),
  ...(piece ? { piece: { index, count } } : {}),
})
writeFileSync(result, JSON.stringify({ name, printed }))
process.exit(0)
