// node scripts/bench-run.mjs FILE RESULT: one measurement in a process of its own (Node 24: it reads TypeScript).
import { writeFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'

const [file, result] = process.argv.slice(2)
const { bench } = await import(pathToFileURL(file).href)
const rows = await bench()
writeFileSync(result, JSON.stringify(rows))
process.exit(0)
