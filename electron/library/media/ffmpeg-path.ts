import { execFile } from 'node:child_process'
import fs from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import { promisify } from 'node:util'
import { Problem } from '../../../shared-core/problem.ts'

const run = promisify(execFile)
// Named so because the bundle has a `require` of its own.
const requireHere = createRequire(import.meta.url)

/** Where a media program comes from; shown by `leadside check`. */
export interface MediaProgram {
  file: string
  from: 'setting' | 'environment' | 'ffmpeg-static' | 'PATH' | 'installer package'
  version: string
  /** All that `-version` printed. */
  versionText: string
}

export interface MediaPrograms {
  ffmpeg: MediaProgram
  ffprobe: MediaProgram
  /** ffmpeg 5.1 brought `-fps_mode` for `-vsync`, which later versions drop. */
  hasFpsMode: boolean
}

const fromPackage = (name: string, pick: (exported: unknown) => unknown): string | null => {
  try {
    const file = pick(requireHere(name))
    return typeof file === 'string' && fs.existsSync(file) ? file : null
  } catch {
    return null
  }
}

/** Where package managers put it on a Mac; a program started from the Dock is not told of these. */
const usualFolders =
  process.platform === 'darwin' ? ['/opt/homebrew/bin', '/usr/local/bin', '/opt/local/bin'] : []

const onPath = (name: string): string | null => {
  const executable = process.platform === 'win32' ? `${name}.exe` : name
  for (const folder of [...(process.env.PATH ?? '').split(path.delimiter), ...usualFolders]) {
    const file = path.join(folder, executable)
    // A package manager's shim folder may hold a script of that name; only a real file counts.
    if (folder && fs.existsSync(file)) return file
  }
  return null
}

const pathOf = (exported: unknown) => (exported as { path?: unknown }).path

const candidates = (
  name: 'ffmpeg' | 'ffprobe',
  setting: string | null,
): { file: string; from: MediaProgram['from'] }[] => {
  const list: { file: string | null; from: MediaProgram['from'] }[] = []
  const beside = (ffmpeg: string) =>
    path.join(path.dirname(ffmpeg), path.basename(ffmpeg).replace('ffmpeg', name))
  if (setting) list.push({ file: name === 'ffmpeg' ? setting : beside(setting), from: 'setting' })
  const environment = process.env.FFMPEG_PATH
  if (name === 'ffprobe' && process.env.FFPROBE_PATH) {
    list.push({ file: process.env.FFPROBE_PATH, from: 'environment' })
  }
  if (environment) {
    list.push({ file: name === 'ffmpeg' ? environment : beside(environment), from: 'environment' })
  }
  if (name === 'ffmpeg') list.push({ file: fromPackage('ffmpeg-static', (e) => e), from: 'ffmpeg-static' })
  list.push({ file: onPath(name), from: 'PATH' })
  list.push({ file: fromPackage(`@${name}-installer/${name}`, pathOf), from: 'installer package' })
  return list.filter((c): c is { file: string; from: MediaProgram['from'] } => c.file !== null)
}

/** The year in what `-version` printed: releases and builds between them alike; 0 if it names none. */
const yearOf = ({ versionText }: MediaProgram): number =>
  Number(/\(c\) \d{4}-(\d{4})/.exec(versionText)?.[1] ?? 0)

/**
 * An ffmpeg of before 2021 crashes on damaged files that a newer one refuses (measured with the installer package's of
 * 2018: 23 of 200), and gets no fixes.
 */
export const isOld = (program: MediaProgram): boolean => yearOf(program) < 2021

const tried = async (file: string, from: MediaProgram['from']): Promise<MediaProgram | null> => {
  try {
    const { stdout } = await run(file, ['-hide_banner', '-version'], { timeout: 20_000 })
    return { file, from, version: /version (\S+)/.exec(stdout)?.[1] ?? 'unknown', versionText: stdout }
  } catch {
    return null
  }
}

/** What the coach set comes first, then the first that is not old, then whatever works. */
const firstWorking = async (name: 'ffmpeg' | 'ffprobe', setting: string | null): Promise<MediaProgram> => {
  let old: MediaProgram | null = null
  for (const { file, from } of candidates(name, setting)) {
    const program = await tried(file, from)
    if (!program) continue
    if (from === 'setting' || from === 'environment' || !isOld(program)) return program
    if (!old || yearOf(program) > yearOf(old)) old = program
  }
  if (old) return old
  throw new Problem('no-ffmpeg.found', { program: name })
}

/**
 * Whether an ffmpeg knows `-fps_mode`, by what `-version` prints. 5.1 of July 2022 brought it, `-vsync` works up to 7;
 * a development build says only its year.
 */
export const hasFpsMode = (versionText: string): boolean => {
  const major = /version n?(\d+)\./.exec(versionText)?.[1]
  if (major !== undefined) return Number(major) >= 6
  return Number(/\(c\) \d{4}-(\d{4})/.exec(versionText)?.[1] ?? 0) >= 2023
}

/**
 * The ffmpeg and ffprobe in use: setting, FFMPEG_PATH, ffmpeg-static, PATH, installer packages, in this order; an old
 * one only where there is none newer.
 * @throws Problem `no-ffmpeg`
 */
export const findMediaPrograms = async (setting: string | null): Promise<MediaPrograms> => {
  const [ffmpeg, ffprobe] = await Promise.all([
    firstWorking('ffmpeg', setting),
    firstWorking('ffprobe', setting),
  ])
  return { ffmpeg, ffprobe, hasFpsMode: hasFpsMode(ffmpeg.versionText) }
}
