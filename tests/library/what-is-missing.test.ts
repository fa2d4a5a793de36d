import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { breaksOff } from '../../electron/library/media/breaks-off.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import type { MediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { probeClip } from '../../electron/library/media/probe.ts'
import { whatIsMissing } from '../../electron/library/media/what-is-missing.ts'
import { findMoments } from '../../electron/library/moments/find-moments.ts'
import { sayOrNull } from '../../shared-core/wording/phrase.ts'

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-missing-'))
let programs: MediaPrograms
beforeAll(async () => {
  programs = await findMediaPrograms(null)
})
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

const film = (name: string, args: string[] = []): string => {
  const file = path.join(folder, name)
  const source = ['-f', 'lavfi', '-i', 'testsrc2=size=320x240:rate=30:duration=4,noise=alls=20:allf=t']
  const coded = ['-c:v', 'libx264', '-preset', 'ultrafast', '-g', '30', '-pix_fmt', 'yuv420p']
  execFileSync(programs.ffmpeg.file, ['-nostdin', '-v', 'error', '-y', ...source, ...coded, ...args, file])
  return file
}

const said = async (file: string): Promise<string | null> => {
  const options = { programs, clipName: path.basename(file) }
  const { frames, damagedFrames } = await findMoments(file, {
    ffmpegPath: programs.ffmpeg.file,
    ffprobePath: programs.ffprobe.file,
  })
  const facts = await probeClip(file, options)
  return sayOrNull(
    whatIsMissing(
      frames === facts.frameCount ? facts : await probeClip(file, options, 'decoding'),
      damagedFrames,
      await breaksOff(file),
    ),
  )
}

describe('what can’t be read of a clip is said in the coach’s words', () => {
  test.each([
    ['whole.mp4', ['-movflags', '+faststart']],
    ['whole.mkv', []],
  ])('nothing of %s; cut off after six tenths, how much of it is readable', async (name, args) => {
    const whole = film(name, args)
    expect(await said(whole)).toBeNull()
    const cut = path.join(folder, `cut-${name}`)
    const bytes = fs.readFileSync(whole)
    fs.writeFileSync(cut, bytes.subarray(0, Math.round(bytes.length * 0.6)))
    expect(await said(cut)).toMatch(/^its end is missing: 2\.\d s of 4\.0 s can be read/)
  })

  test.each([
    ['whole.ts', []],
    ['recorder.mts', ['-f', 'mpegts', '-mpegts_m2ts_mode', '1']],
  ])(
    'a transport stream that is cut: %s breaks off, and nobody can tell how much is gone',
    async (name, args) => {
      const whole = film(name, args)
      expect(await said(whole)).toBeNull()
      const bytes = fs.readFileSync(whole)
      const packet = name === 'whole.ts' ? 188 : 192
      expect(bytes.length % packet).toBe(0)
      const cut = path.join(folder, `cut-${name}`)
      const at = packet * Math.round((0.6 * bytes.length) / packet)
      fs.writeFileSync(cut, bytes.subarray(0, at + 100))
      expect(await said(cut)).toMatch(/^its end is missing: it breaks off after 2\.\d s/)
    },
  )

  test('rotten bits: how many pictures are damaged', async () => {
    const file = film('rotten.mkv')
    const bytes = fs.readFileSync(file)
    for (let i = 0; i < 6; i++) {
      const at = Math.round(bytes.length * (0.3 + 0.1 * i))
      for (let k = 0; k < 60; k++) bytes[at + k] = (37 * k + 11 * i) % 256
    }
    fs.writeFileSync(file, bytes)
    expect(await said(file)).toMatch(/^\d+ of its 1\d\d pictures are damaged/)
  })

  test('an interlaced film', async () => {
    const file = film('fields.mp4', ['-flags', '+ilme+ildct', '-vf', 'setfield=tff', '-x264opts', 'tff=1'])
    expect(await said(file)).toContain('interlaced: each picture is two halves 17 ms apart')
  })
})
