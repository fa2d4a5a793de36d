// Stands in for the default app of an Electron build that came with another one: the first argument that is no
// switch names the program, a folder or a file, as in `electron .`. Uses nothing but Electron and Node.
import { readFileSync, statSync } from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import { app } from 'electron'

const require = createRequire(import.meta.url)
const preload = []
let target

const args = process.argv.slice(1)
for (let index = 0; index < args.length; index += 1) {
  const arg = args[index]
  if (arg === '--version' || arg === '-v') {
    console.log(`v${process.versions.electron}`)
    process.exit(0)
  } else if (arg === '-r' || arg === '--require') {
    index += 1
    preload.push(args[index])
  } else if (arg.startsWith('--app=')) {
    target = arg.slice('--app='.length)
    break
  } else if (!arg.startsWith('-')) {
    target = arg
    break
  }
}

if (!target) {
  console.error('usage: electron [switches] FOLDER|FILE [arguments]')
  process.exit(1)
}

Object.defineProperty(process, 'defaultApp', { configurable: false, enumerable: true, value: true })
for (const file of preload) require(path.resolve(file))

const full = path.resolve(target)
let main = full
try {
  if (statSync(full).isDirectory()) {
    const about = JSON.parse(readFileSync(path.join(full, 'package.json'), 'utf8'))
    if (about.version) app.setVersion(about.version)
    if (about.productName ?? about.name) app.setName(about.productName ?? about.name)
    app.setAppPath(full)
    main = require.resolve(path.resolve(full, about.main ?? 'index.js'))
  } else {
    app.setAppPath(path.dirname(full))
  }
} catch (error) {
  console.error(`electron: ${target} cannot be started: ${error.message}`)
  process.exit(1)
}

// Awaited here, so that the program can still register its schemes: Electron becomes ready only afterwards.
await import(pathToFileURL(main).href)
