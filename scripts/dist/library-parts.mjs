import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import path from 'node:path'

/** Packages that the built library asks for by name; all else is bundled into it (electron.vite.config.ts). */
const asked = [
  'better-sqlite3',
  '@napi-rs/canvas',
  'fluent-ffmpeg',
  '@tensorflow/tfjs-core',
  '@tensorflow/tfjs-converter',
  '@tensorflow/tfjs-backend-wasm',
  '@techstark/opencv-js',
  '@expo-google-fonts/source-sans-3',
]

/** Named by packages for their compilers and types; nothing of them runs. */
const notRun = /^(@types\/|@webgpu\/types$|node-addon-api$)/

const licenceOrAbout = /^(package\.json|licen[cs]e.*|copying.*|notice.*)$/i

/**
 * Which files of a package run here; everything for packages that are not named. Left out: builds for other machines and
 * browsers, sources to compile, sheets of the font that nothing shows.
 */
const kept = {
  'better-sqlite3': (file) =>
    file.startsWith('lib/') || file === `prebuilds/${process.platform}-${process.arch}.node`,
  'fluent-ffmpeg': (file) => file === 'index.js' || file.startsWith('lib/'),
  '@tensorflow/tfjs-core': (file) => /^dist\/[^/]+\.node\.js$/.test(file),
  '@tensorflow/tfjs-converter': (file) => /^dist\/[^/]+\.node\.js$/.test(file),
  '@tensorflow/tfjs-backend-cpu': (file) => /^dist\/[^/]+\.node\.js$/.test(file),
  '@tensorflow/tfjs-backend-wasm': (file) => /^dist\/[^/]+\.(node\.js|wasm)$/.test(file),
  '@techstark/opencv-js': (file) => file === 'dist/opencv.js',
  '@expo-google-fonts/source-sans-3': (file) => file === '600SemiBold/SourceSans3_600SemiBold.ttf',
}

/** Where Node would find `name` when `from` asks for it; undefined if it is not installed. */
function placeOf(base, from, name) {
  for (let at = from; ; at = path.dirname(at)) {
    const candidate = path.join(at, 'node_modules', name)
    if (existsSync(path.join(base, candidate, 'package.json'))) return candidate
    if (at === '.' || at === '') return undefined
  }
}

/**
 * The packages that the library needs while it runs, found as Node finds them.
 * @param {string} base the repository
 * @returns {string[]} their folders, below `base`
 */
export function libraryPackages(base) {
  const found = new Set()
  const add = (from, name, isOptional) => {
    if (notRun.test(name)) return
    const place = placeOf(base, from, name)
    if (place === undefined) {
      if (isOptional) return
      throw new Error(`${name}, which ${from} needs, is not installed`)
    }
    if (found.has(place)) return
    found.add(place)
    const about = JSON.parse(readFileSync(path.join(base, place, 'package.json'), 'utf8'))
    for (const needed of Object.keys(about.dependencies ?? {})) add(place, needed, false)
    for (const needed of Object.keys(about.optionalDependencies ?? {})) add(place, needed, true)
  }
  for (const name of asked) add('', name, false)
  return [...found].sort()
}

/** Copies those packages below `target`, without what never runs. */
export function copyLibraryPackages(base, target) {
  for (const place of libraryPackages(base)) {
    const name = place.slice(place.lastIndexOf('node_modules/') + 'node_modules/'.length)
    const isKept = kept[name] ?? (() => true)
    const from = path.join(base, place)
    for (const entry of readdirSync(from, { recursive: true, withFileTypes: true })) {
      if (!entry.isFile()) continue
      const full = path.join(entry.parentPath, entry.name)
      const file = path.relative(from, full).replaceAll('\\', '/')
      if (file.startsWith('node_modules/') || /\.(map|d\.ts)$/.test(file)) continue
      if (!licenceOrAbout.test(file) && !isKept(file)) continue
      const to = path.join(target, place, file)
      mkdirSync(path.dirname(to), { recursive: true })
      cpSync(full, to)
    }
  }
}

/** What of demo-media the program itself reads; the scripts that made it stay behind. */
const ofDemo = (name) => /\.(mp4|mov|csv|json)$/.test(name) && name !== 'captured-swing.json'

/**
 * The library's side of the program: in a folder of its own beside the archive, because it loads native modules and is read
 * by worker threads and, in a test build, by a Node that knows no archives.
 * @param {string} target the folder to fill
 */
export function stageLibrary(base, target) {
  mkdirSync(path.join(target, 'out', 'main'), { recursive: true })
  writeFileSync(path.join(target, 'package.json'), JSON.stringify({ private: true, type: 'module' }))
  for (const name of readdirSync(path.join(base, 'out', 'main'))) {
    if (name === 'index.js') continue
    cpSync(path.join(base, 'out', 'main', name), path.join(target, 'out', 'main', name))
  }
  cpSync(path.join(base, 'out', 'models'), path.join(target, 'out', 'models'), { recursive: true })
  copyLibraryPackages(base, target)
  const demo = path.join(base, 'demo-media')
  cpSync(demo, path.join(target, 'demo-media'), {
    recursive: true,
    filter: (file) => statSync(file).isDirectory() || ofDemo(path.basename(file)),
  })
}

/** The window's side, which goes into the archive: main without the library, preload, page. */
export function stageWindow(base, target) {
  const from = path.join(base, 'out', 'main')
  const wanted = new Set(['index.js'])
  // A set grows while it is gone through: what an added file imports is added, too.
  for (const name of wanted) {
    for (const [, imported] of readFileSync(path.join(from, name), 'utf8').matchAll(
      /["']\.\/([\w.-]+\.js)["']/g,
    )) {
      if (existsSync(path.join(from, imported)) && imported !== 'library.js') wanted.add(imported)
    }
  }
  mkdirSync(path.join(target, 'out', 'main'), { recursive: true })
  for (const name of wanted) cpSync(path.join(from, name), path.join(target, 'out', 'main', name))
  for (const part of ['preload', 'renderer']) {
    cpSync(path.join(base, 'out', part), path.join(target, 'out', part), { recursive: true })
  }
}
