import fs from 'node:fs'
import path from 'node:path'
import { afterAll, afterEach, expect, test, vi } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { findMediaPrograms, isOld } from '../../electron/library/media/ffmpeg-path.ts'
import { temporaryFolder } from './support/temporary-library.ts'

const folder = temporaryFolder()
afterEach(() => vi.unstubAllEnvs())
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

/** A program that says what an ffmpeg of that year says of itself. */
const programOf = (year: number, version: string) => {
  const at = path.join(folder, `${year}`)
  fs.mkdirSync(at, { recursive: true })
  for (const name of ['ffmpeg', 'ffprobe']) {
    const text = `${name} version ${version} Copyright (c) 2000-${year} the FFmpeg developers`
    fs.writeFileSync(path.join(at, name), `#!/bin/sh\necho '${text}'\n`, { mode: 0o755 })
  }
  return at
}
const onlyOnPath = (...folders: string[]) => {
  vi.stubEnv('PATH', [...folders, '/usr/bin', '/bin'].join(path.delimiter))
  for (const name of ['FFMPEG_PATH', 'FFPROBE_PATH']) vi.stubEnv(name, undefined)
}

test.skipIf(process.platform === 'win32')(
  'an ffmpeg from before 2021 is used only where there is none newer, and `check` names the one in use',
  async () => {
    // From 2017: older than the one of 2018 that comes along in a package.
    onlyOnPath(programOf(2017, '3.4'))
    const among = await findMediaPrograms(null)
    expect(among.ffmpeg.from).not.toBe('PATH')
    onlyOnPath(programOf(2023, '6.1'))
    const newer = await findMediaPrograms(null)
    expect(isOld(newer.ffmpeg)).toBe(false)
    // What the coach chose is used, old or not; and said.
    const chosen = await findMediaPrograms(path.join(programOf(2017, '3.4'), 'ffmpeg'))
    expect(chosen.ffmpeg).toMatchObject({ from: 'setting', version: '3.4' })
    expect(isOld(chosen.ffmpeg)).toBe(true)
    vi.stubEnv('FFMPEG_PATH', path.join(programOf(2017, '3.4'), 'ffmpeg'))
    const library = new Library({ folder: path.join(folder, 'library'), printPdf: null })
    const { lines } = await library.ask('library.check', {})
    const line = lines.find(({ text }) => text.includes('ffmpeg'))
    expect(line?.text).toMatch(/3\.4/)
    expect(line?.text).toMatch(/old|newer/)
    await library.close()
  },
)
