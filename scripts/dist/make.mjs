// Run by `npm run dist` on Node 24: makes the shipped program in out/dist.
//   --test-build     marks it as a test build, which may be driven from outside; always so with the stand-in Electron
//   --unpacked-only  no .deb and no AppImage
import { createHash } from 'node:crypto'
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import path from 'node:path'
import { parseArgs } from 'node:util'
import { packager } from '@electron/packager'
import { ensureBuilt, sourceHash } from '../build.mjs'
import { ensureDisplay } from '../display.mjs'
import { ensureElectron } from '../electron-runtime.mjs'
import { licencesOf } from '../licences.mjs'
import { node24Path, root } from '../paths.mjs'
import { SetUpProblem, runMain, say } from '../set-up-problem.mjs'
import { zipElectron } from './electron-zip.mjs'
import { readFuses, setFuses } from './fuses.mjs'
import { iconIcns, iconIco, iconPng } from './icon.mjs'
import { stageLibrary, stageWindow } from './library-parts.mjs'
import { makeAppImage, makeDeb } from './linux-packages.mjs'
import { programNames } from './names.mjs'
import { packagerOptions } from './packager-options.mjs'

const outFolder = path.join(root, 'out', 'dist')
const work = path.join(outFolder, '.work')
const { version } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8'))

/** Where the program file is in the packager's working folder, before it has its name. */
const unnamedProgram = (buildPath) => {
  if (process.platform === 'darwin') return path.resolve(buildPath, '../../MacOS/Electron')
  return path.resolve(buildPath, '../..', process.platform === 'win32' ? 'electron.exe' : 'electron')
}

/** The program file of the finished folder. */
const programIn = (folder, isTestBuild) => {
  const { plain, product } = programNames(isTestBuild)
  if (process.platform === 'darwin') return path.join(folder, `${product}.app`, 'Contents', 'MacOS', product)
  return path.join(folder, process.platform === 'win32' ? `${plain}.exe` : plain)
}

/** One hash over what goes in: sources, these scripts, the licences, the Electron and the marks. */
function madeFrom(runtime, isTestBuild) {
  const hash = createHash('sha256').update(sourceHash(root))
  for (const name of readdirSync(import.meta.dirname).sort()) {
    hash.update(readFileSync(path.join(import.meta.dirname, name)))
  }
  hash.update(readFileSync(path.join(root, 'scripts', 'licences.mjs')))
  return hash.update(`${runtime.version} ${runtime.dist} ${isTestBuild}`).digest('hex')
}

async function writeIcon() {
  const kinds = { darwin: ['icon.icns', iconIcns], win32: ['icon.ico', iconIco] }
  const [name, draw] = kinds[process.platform] ?? ['icon.png', () => iconPng(512)]
  writeFileSync(path.join(work, name), await draw())
  return path.join(work, name)
}

/** Node-API 10, which better-sqlite3 needs, came to Electron with 35 (Node 22.14). */
const runsLibrary = (electronVersion) => Number.parseInt(electronVersion, 10) >= 35

/** The library's process needs a newer Node than an old Electron has; the shipped one runs it itself. */
function addNode(library) {
  mkdirSync(path.join(library, 'node'))
  cpSync(node24Path(), path.join(library, 'node', path.basename(node24Path())))
}

async function makeUnpacked(runtime, isTestBuild) {
  rmSync(work, { recursive: true, force: true })
  const app = path.join(work, 'app')
  mkdirSync(app, { recursive: true })
  stageWindow(root, app)
  stageLibrary(root, path.join(app, 'library'))
  if (!runsLibrary(runtime.version)) addNode(path.join(app, 'library'))
  const { product } = programNames(isTestBuild)
  const about = {
    name: 'leadside',
    productName: product,
    version,
    license: 'MIT',
    type: 'module',
    main: 'out/main/index.js',
    isTestBuild,
  }
  writeFileSync(path.join(app, 'package.json'), JSON.stringify(about, undefined, 2))

  const { text, problems } = licencesOf(root)
  if (problems.length > 0) throw new SetUpProblem(`Licences: ${problems.join('; ')}`)
  writeFileSync(path.join(work, 'LICENCES.txt'), text)
  writeFileSync(path.join(work, 'icon.png'), await iconPng(256))

  const zips = path.join(work, 'zips')
  mkdirSync(zips)
  const zipName = `electron-v${runtime.version}-${process.platform}-${process.arch}.zip`
  await zipElectron(runtime.dist, path.join(zips, zipName))
  const [made] = await packager({
    ...packagerOptions({ platform: process.platform, version, isTestBuild, icon: await writeIcon() }),
    dir: app,
    out: path.join(work, 'made'),
    platform: process.platform,
    arch: process.arch,
    electronVersion: runtime.version,
    electronZipDir: zips,
    tmpdir: path.join(work, 'tmp'),
    extraResource: ['LICENCES.txt', 'icon.png'].map((name) => path.join(work, name)),
    // Before anything is signed.
    afterCopy: [async ({ buildPath }) => void (await setFuses(unnamedProgram(buildPath)))],
  })
  return made
}

await runMain(async () => {
  const { values } = parseArgs({
    options: {
      'test-build': { type: 'boolean', default: false },
      'unpacked-only': { type: 'boolean', default: false },
    },
  })
  await ensureBuilt()
  const display = await ensureDisplay()
  const runtime = await ensureElectron({ env: display.env })
  const isTestBuild = values['test-build'] || runtime.source !== 'electron'
  if (isTestBuild) say(`this is a test build, on Electron ${runtime.version}: not to be given to anybody`)

  const { plain } = programNames(isTestBuild)
  const unpacked = path.join(outFolder, `${plain}-${process.platform}-${process.arch}`)
  const stamp = path.join(outFolder, `.${path.basename(unpacked)}.made-from`)
  const hash = madeFrom(runtime, isTestBuild)
  const isThere = existsSync(unpacked) && existsSync(stamp) && readFileSync(stamp, 'utf8') === hash
  if (!isThere) {
    rmSync(stamp, { force: true })
    rmSync(unpacked, { recursive: true, force: true })
    const made = await makeUnpacked(runtime, isTestBuild)
    renameSync(made, unpacked)
    rmSync(work, { recursive: true, force: true })
    writeFileSync(stamp, hash)
  }
  const fuses = await readFuses(programIn(unpacked, isTestBuild))
  for (const [name, on] of Object.entries(fuses)) say(`fuse ${name}: ${on ? 'on' : 'off'}`)
  console.log(path.relative(root, unpacked))
  if (process.platform !== 'linux' || values['unpacked-only']) process.exit(0)
  mkdirSync(work, { recursive: true })
  for (const make of [makeDeb, makeAppImage]) {
    const file = await make({ unpacked, outFolder, work, version, isTestBuild, arch: process.arch })
    if (file) console.log(path.relative(root, file))
  }
  rmSync(work, { recursive: true, force: true })
  process.exit(0)
})
