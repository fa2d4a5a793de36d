import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findMediaPrograms, type MediaPrograms } from '../../../electron/library/media/ffmpeg-path.ts'
import { probeClip, type ClipFacts } from '../../../electron/library/media/probe.ts'
import { keepEveryTimestamp } from '../../../electron/library/media/run-ffmpeg.ts'
import { coverFilter } from '../../../electron/library/scene/cover-filter.ts'
import { framePicture } from '../../../electron/library/scene/frame-picture.ts'
import { stillOf } from '../../../electron/library/scene/still.ts'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import { tones } from '../../../shared-core/drawing/tones.ts'
import { drawingOf, everyShape } from './every-shape.ts'

const size = { width: 128, height: 96 }
const frames = 90
const bits = 8

/** Frames that carry their index as eight light or dark columns, lowest bit left. */
const indexed = (): Buffer => {
  const all = Buffer.alloc(frames * size.width * size.height)
  for (let n = 0; n < frames; n++) {
    for (let y = 0; y < size.height; y++) {
      for (let x = 0; x < size.width; x++) {
        all[(n * size.height + y) * size.width + x] =
          (n >> Math.floor((x * bits) / size.width)) & 1 ? 230 : 25
      }
    }
  }
  return all
}

/** The index that a picture's columns spell, read along its middle row; turned pictures along their middle column. */
const indexOf = (picture: { width: number; height: number; rgba: Uint8Array }, isTurned = false): number => {
  let index = 0
  for (let bit = 0; bit < bits; bit++) {
    const along = (bit + 0.5) / bits
    const [x, y] = isTurned
      ? [picture.width >> 1, Math.floor(along * picture.height)]
      : [Math.floor(along * picture.width), picture.height >> 1]
    if (picture.rgba[(y * picture.width + x) * 4]! > 128) index |= 1 << bit
  }
  return index
}

describe('a still', () => {
  let programs: MediaPrograms
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-still-'))
  const clips: Record<string, { file: string; facts: ClipFacts }> = {}

  const make = async (name: string, args: string[], input?: string) => {
    const file = path.join(folder, `${name}.mp4`)
    const raw = [
      '-f',
      'rawvideo',
      '-pix_fmt',
      'gray',
      '-s',
      `${size.width}x${size.height}`,
      '-r',
      '30',
      '-i',
      'pipe:0',
    ]
    execFileSync(
      programs.ffmpeg.file,
      ['-v', 'error', '-y', ...(input ? ['-i', input] : raw), ...args, file],
      input ? { timeout: 60_000 } : { timeout: 60_000, input: indexed(), maxBuffer: 1 << 28 },
    )
    clips[name] = { file, facts: await probeClip(file, { programs, clipName: name }) }
  }

  beforeAll(async () => {
    programs = await findMediaPrograms(null)
    const x264 = ['-c:v', 'libx264', '-pix_fmt', 'yuv420p', '-crf', '10', '-bf', '2']
    await make('steady', [...x264, '-g', '12'])
    await make('one-key', [...x264, '-g', '500'])
    // Every third frame lasts three times as long.
    await make('variable', [
      ...x264,
      '-g',
      '24',
      '-vf',
      'settb=1/90000,setpts=(N+2*floor(N/3))/60/TB',
      '-enc_time_base',
      '1/90000',
      ...keepEveryTimestamp(programs),
    ])
    await make('turned', ['-c', 'copy', '-metadata:s:v:0', 'rotate=90'], clips.steady!.file)
    if (clips.turned!.facts.rotationDeg === 0) {
      // Newer ffmpeg writes the rotation as side data only.
      const file = path.join(folder, 'turned-2.mp4')
      execFileSync(programs.ffmpeg.file, [
        '-v',
        'error',
        '-y',
        '-display_rotation',
        '90',
        '-i',
        clips.steady!.file,
        '-c',
        'copy',
        file,
      ])
      clips.turned = { file, facts: await probeClip(file, { programs, clipName: 'turned' }) }
    }
  })
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

  it.each(['steady', 'one-key', 'variable'])('is the exact frame of a clip with %s frames', async (name) => {
    const { file, facts } = clips[name]!
    expect(facts.frameCount).toBe(frames)
    expect(facts.hasVariableRate).toBe(name === 'variable')
    for (const frame of [0, 1, 11, 12, 13, 47, 88, 89]) {
      expect(indexOf(await framePicture(file, frame, facts, { programs, clipName: name }))).toBe(frame)
    }
  })

  it('is upright when the clip is turned', async () => {
    const { file, facts } = clips.turned!
    expect([facts.width, facts.height]).toEqual([96, 128])
    const picture = await framePicture(file, 37, facts, { programs, clipName: 'turned' })
    expect([picture.width, picture.height]).toEqual([96, 128])
    const index = indexOf(picture, true)
    // Turned one way the columns run down, the other way up.
    const reversed = [...index.toString(2).padStart(bits, '0')].reverse().join('')
    expect([index, Number.parseInt(reversed, 2)]).toContain(37)
  })

  it('carries the drawings of its frame only, and none finer than the covers allow', async () => {
    const { file, facts } = clips.steady!
    const line = {
      ...shapes.line.create(
        [
          { x: 10, y: 80 },
          { x: 118, y: 80 },
        ],
        { tone: 'orchid', widthPx: 6, isDashed: false },
      ),
    }
    const cover = {
      ...everyShape.cover,
      at: { x: 0, y: 0 },
      widthPx: 128,
      heightPx: 40,
      outline: 'box' as const,
    }
    const drawings = [
      { ...drawingOf(line, 'line'), fromFrame: 21, toFrame: 21 },
      { ...drawingOf(cover, 'cover'), fromFrame: 20, toFrame: 21 },
    ]
    const at = async (frame: number) => {
      const still = await stillOf(
        { file, facts, drawings, cues: [], frame },
        { programs, clipName: 'steady' },
      )
      const rgba = still.rgba()
      return (x: number, y: number) => [...rgba.subarray((y * 128 + x) * 4).subarray(0, 3)]
    }
    const [before, on] = [await at(20), await at(21)]
    const orchid = [1, 3, 5].map((i) => Number.parseInt(tones.orchid.hex.slice(i, i + 2), 16))
    expect(on(64, 80)).toEqual(orchid)
    expect(before(64, 80)).not.toEqual(orchid)
    // Frame 21 is 10101 from the left: a sharp edge at x = 16 below the cover, none within it.
    const edge = (y: number) => Math.abs(on(15, y)[0]! - on(16, y)[0]!)
    expect(edge(60)).toBeGreaterThan(150)
    expect(edge(20)).toBeLessThan(60)
  })

  it('and a video are covered alike: no edge is left under a cover while it lasts', async () => {
    const area = { x: 0, y: 0, width: 128, height: 40, outline: 'oval' as const }
    const filter = coverFilter([{ area, from: 20, to: 21 }], size)
    await make(
      'covered',
      ['-vf', filter!, '-c:v', 'libx264', '-crf', '10', '-pix_fmt', 'yuv420p'],
      clips.steady!.file,
    )
    const { file, facts } = clips.covered!
    expect(facts.frameCount).toBe(frames)
    const edge = async (frame: number, y: number) => {
      const { rgba } = await framePicture(file, frame, facts, { programs, clipName: 'covered' })
      return Math.abs(rgba[(y * 128 + 15) * 4]! - rgba[(y * 128 + 16) * 4]!)
    }
    expect(await edge(21, 20)).toBeLessThan(60)
    expect(await edge(21, 60)).toBeGreaterThan(150)
    expect(await edge(25, 20)).toBeGreaterThan(150)
    expect(coverFilter([], size)).toBeNull()
  })

  it('of a frame that is not there is refused by name', async () => {
    const { file, facts } = clips.steady!
    await expect(framePicture(file, frames, facts, { programs, clipName: 'steady' })).rejects.toMatchObject({
      code: 'no-such-frame',
    })
  })
})
