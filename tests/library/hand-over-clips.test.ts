import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import * as t from '../../electron/library/database/schema.ts'
import type { ClipSource } from '../../electron/library/hand-over/clip-source.ts'
import { clipSource } from '../../electron/library/hand-over/content.ts'
import {
  plannedClip,
  plannedPair,
  type ComparisonChoices,
} from '../../electron/library/hand-over/planned-clip.ts'
import { writeComparison, writeSlowClip } from '../../electron/library/hand-over/slow-clip.ts'
import { stillOfPair, stillOfSource } from '../../electron/library/hand-over/stills.ts'
import { findMediaPrograms, type MediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { probeClip } from '../../electron/library/media/probe.ts'
import { keepEveryTimestamp } from '../../electron/library/media/run-ffmpeg.ts'
import { openLesson } from '../../electron/library/queries/open-lesson.ts'
import type { Drawing } from '../../shared-core/drawing/drawing.ts'
import { shapes, type Shape } from '../../shared-core/drawing/shapes.ts'
import { sourceFrameOn, type SourceTimeLine } from '../../shared-core/hand-over/slow-clip-plan.ts'
import type { ClipTimes } from '../../shared-core/timing/clip-clock.ts'
import { frameFor, type Anchor } from '../../shared-core/timing/shared-moments.ts'
import { ffmpegFile, probed, runFfmpegNow, sizeOf } from './support/make-clip.ts'
import { openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

/**
 * Clips whose every frame carries its index: the upper part holds eight light or dark columns (lowest bit left), the
 * lower part is grey and free for drawings. Read back from what was written, by ffmpeg's own decoder.
 */
const size = { width: 256, height: 192 }
const patternShare = 0.25
const bits = 8
const grey = 110

let folder: string
let programs: MediaPrograms
beforeAll(async () => {
  folder = temporaryFolder()
  programs = await findMediaPrograms(null)
})
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

const patterns = (frames: number): Buffer => {
  const all = Buffer.alloc(frames * size.width * size.height, grey)
  for (let n = 0; n < frames; n++) {
    for (let y = 0; y < size.height * patternShare; y++) {
      for (let x = 0; x < size.width; x++) {
        const bit = (n >> Math.floor((x * bits) / size.width)) & 1
        all[(n * size.height + y) * size.width + x] = bit ? 230 : 25
      }
    }
  }
  return all
}

/** What a phone leaves in its files. */
const phoneTags = [
  'location=+52.5200+013.4050/',
  'com.apple.quicktime.model=Phone 1',
  'make=Maker',
  'creation_time=2026-05-01T10:00:00Z',
]

interface Kind {
  frames: number
  /** Frames per second in the file. */
  rate: number
  captureRate: number
  extra?: string[]
}
const kinds = {
  'steady 30': { frames: 60, rate: 30, captureRate: 30 },
  'steady 60': { frames: 90, rate: 60, captureRate: 60 },
  'steady 240': { frames: 200, rate: 240, captureRate: 240 },
  'odd 239.76': { frames: 150, rate: 239.76, captureRate: 239.76 },
  'odd 25': { frames: 40, rate: 25, captureRate: 25 },
  'stretched, 240 played at 30': { frames: 120, rate: 30, captureRate: 240 },
  variable: {
    frames: 60,
    rate: 60,
    captureRate: 60,
    extra: ['-vf', 'settb=1/90000,setpts=(N+2*floor(N/3))/100/TB', '-enc_time_base', '1/90000'],
  },
} satisfies Record<string, Kind>
type KindName = keyof typeof kinds

const make = async (name: KindName, wish: Partial<ClipSource['time']> = {}): Promise<ClipSource> => {
  const kind: Kind = kinds[name]
  const file = path.join(folder, `${name}.mp4`)
  if (!fs.existsSync(file)) {
    const keep = kind.extra ? keepEveryTimestamp(programs) : []
    const raw = [
      '-f',
      'rawvideo',
      '-pix_fmt',
      'gray',
      '-s',
      `${size.width}x${size.height}`,
      '-r',
      String(kind.rate),
    ]
    const coded = ['-c:v', 'libx264', '-pix_fmt', 'yuv420p', '-crf', '8', '-bf', '2', '-g', '50']
    const tagged = [...phoneTags.flatMap((tag) => ['-metadata', tag]), '-movflags', 'use_metadata_tags']
    execFileSync(
      ffmpegFile,
      [
        '-v',
        'error',
        '-y',
        ...raw,
        '-i',
        'pipe:0',
        ...(kind.extra ?? []),
        ...coded,
        ...keep,
        ...tagged,
        file,
      ],
      { input: patterns(kind.frames), maxBuffer: 1 << 28 },
    )
  }
  return sourceOf(file, kind.captureRate, wish)
}

const sourceOf = async (
  file: string,
  captureRate: number,
  wish: Partial<ClipSource['time']> = {},
): Promise<ClipSource> => {
  const facts = await probeClip(file, { programs, clipName: path.basename(file) })
  return {
    file,
    clipName: path.basename(file),
    width: facts.width,
    height: facts.height,
    isMirrored: false,
    adjustments: { brightness: 0, contrast: 0 },
    time: {
      atSeconds: facts.atSeconds,
      realPerFileSecond: facts.playbackRate / captureRate,
      captureRate,
      fromFrame: 0,
      toFrame: facts.frameCount - 1,
      holdFrames: [],
      holdSeconds: 2,
      wantedSlowBy: 8,
      ...wish,
    },
    drawings: [],
    cues: [],
    personOn: () => null,
    headOn: () => null,
    sceneOptions: { tiltDeg: 0, pixelsPerMeter: null, lengths: 'metric' },
    captions: new Map(),
  }
}

interface Frames {
  count: number
  width: number
  height: number
  /** Red, green, blue of a point given in shares of the picture. */
  at(frame: number, x: number, y: number): [number, number, number]
}
const decode = (file: string): Frames => {
  const [width, height] = sizeOf(file)
  const all = execFileSync(
    ffmpegFile,
    [
      '-v',
      'error',
      '-i',
      file,
      ...keepEveryTimestamp(programs),
      '-f',
      'rawvideo',
      '-pix_fmt',
      'rgb24',
      'pipe:1',
    ],
    { maxBuffer: 1 << 30 },
  )
  return {
    count: all.length / (width * height * 3),
    width,
    height,
    at: (frame, x, y) => {
      const o = ((frame * height + Math.floor(y * height)) * width + Math.floor(x * width)) * 3
      return [all[o]!, all[o + 1]!, all[o + 2]!]
    },
  }
}

/** The index spelled by the columns; `left` and `span` place the picture in a comparison, shares of the width. */
const indexOn = (frames: Frames, frame: number, { left = 0, span = 1, isMirrored = false } = {}): number => {
  let index = 0
  for (let bit = 0; bit < bits; bit++) {
    const along = (bit + 0.5) / bits
    const [r] = frames.at(frame, left + span * (isMirrored ? 1 - along : along), patternShare / 2)
    if (r > 128) index |= 1 << bit
  }
  return index
}
const planned = (line: SourceTimeLine, frames: number) =>
  Array.from({ length: frames }, (_, i) => sourceFrameOn(line, i))

const drawn = (shape: Shape, frame: number, toFrame = frame): Drawing => ({
  id: `${shape.kind}-${frame}`,
  viewId: 'view',
  momentId: null,
  fromFrame: frame,
  toFrame,
  shape,
  order: 0,
  isHidden: false,
})
/** A thick line across the grey part, left half only. */
const line = (tone: 'apricot' | 'lagoon' = 'apricot'): Shape =>
  shapes.line.create(
    [
      { x: 20, y: 120 },
      { x: 110, y: 120 },
    ],
    { tone, widthPx: 12, isDashed: false },
  )
const isDrawn = ([r, , b]: [number, number, number]) => Math.abs(r - b) > 40

const sideBySide = { arrangement: 'beside', opacity: 1, follow: null, caption: '' } as const
const options = (clipName = 'clip') => ({ programs, clipName })
let made = 0
const write = async (source: ClipSource, maxHeight = 1080) => {
  made += 1
  const file = path.join(folder, `out-${made}.mp4`)
  const plan = plannedClip(source, maxHeight)
  await writeSlowClip(plan, file, options())
  return { file, plan, frames: decode(file) }
}

const writePair = async (
  pair: readonly [ClipSource, ClipSource],
  lock: readonly [number, number],
  file: string,
  how: ComparisonChoices,
) => {
  const plan = plannedPair(pair, lock, how)
  await writeComparison(plan, file, options())
  return plan
}

describe('a slow clip', () => {
  it.each(Object.keys(kinds) as KindName[])(
    'of a %s clip shows the planned source frame on every output frame',
    async (name) => {
      const last = kinds[name].frames - 1
      const holds = [Math.round(last * 0.3), Math.round(last * 0.3) + 1, Math.round(last * 0.7), last]
      const source = await make(name, { holdFrames: holds })
      expect(source.time.atSeconds).toHaveLength(kinds[name].frames)
      const { plan, frames } = await write(source)
      expect(frames.count).toBe(plan.outputFrames)
      const read = Array.from({ length: frames.count }, (_, i) => indexOn(frames, i))
      expect(read).toEqual(planned(plan.timeLine, plan.outputFrames))
      // Every held frame is seen for two seconds exactly, once.
      for (const frame of holds) {
        const on = read.flatMap((index, i) => (index === frame ? [i] : []))
        expect(on).toHaveLength(2 * plan.rate)
        expect(on.at(-1)! - on[0]!).toBe(2 * plan.rate - 1)
      }
      expect(read[0]).toBe(0)
      expect(read.at(-1)).toBe(last)
    },
  )

  it.each(['steady 240', 'odd 239.76', 'stretched, 240 played at 30', 'variable', 'odd 25'] as KindName[])(
    'of a %s clip runs at the speed it claims',
    async (name) => {
      const source = await make(name)
      const { plan, frames } = await write(source)
      const read = Array.from({ length: frames.count }, (_, i) => indexOn(frames, i))
      const [a, b] = [10, kinds[name].frames - 10]
      const shownSeconds = (read.indexOf(b) - read.indexOf(a)) / plan.rate
      // By the clip's own timestamps, brought to real seconds with the capture rate (stretched: 30/240).
      const stretch = name.startsWith('stretched')
        ? 30 / 240
        : name === 'variable'
          ? source.time.realPerFileSecond
          : 1
      const realSeconds = (source.time.atSeconds[b]! - source.time.atSeconds[a]!) * stretch
      expect(Math.abs(shownSeconds - realSeconds * plan.slowBy)).toBeLessThanOrEqual(1.02 / plan.rate)
      expect(plan.durationSeconds).toBeCloseTo(frames.count / plan.rate, 6)
    },
  )

  it('of a clip that is slow motion in a part only runs at one real pace, and its stills are the frames asked for', async () => {
    const { file } = await make('stretched, 240 played at 30')
    const { library, folder: libraryFolder, lessonId } = await openWithLesson()
    try {
      await takeIn(library, lessonId, [file])
      const { context } = library
      context.db
        .update(t.clip)
        .set({ captureRate: 240, captureRateHow: 'coach', slowPart: { fromSeconds: 1, toSeconds: 3 } })
        .run()
      const viewId = openLesson(context, lessonId).swings[0]!.views[0]!.id
      const { id } = await library.ask('moment.place', { viewId, name: 'impact', frame: 50 })
      const source = clipSource(context, openLesson(context, lessonId), viewId, {
        ...{ momentIds: [id], slowBy: 8, holdSeconds: 2 },
      })
      const { plan, frames } = await write(source)
      const read = Array.from({ length: frames.count }, (_, i) => indexOn(frames, i))
      expect(read).toEqual(planned(plan.timeLine, plan.outputFrames))
      expect(read.filter((i) => i === 50)).toHaveLength(2 * plan.rate)
      // Frames 30 to 90 lie 1/240 s apart, the others 1/30 s.
      for (const [from, to, realSeconds] of [
        [5, 25, 20 / 30],
        [55, 85, 30 / 240],
        [95, 115, 20 / 30],
      ] as const) {
        const shownSeconds = (read.indexOf(to) - read.indexOf(from)) / plan.rate
        expect(Math.abs(shownSeconds - 8 * realSeconds)).toBeLessThanOrEqual(1.02 / plan.rate)
      }
      for (const frame of [10, 50, 100]) {
        const { jpegBase64 } = await stillOfSource(source, frame, size.width, options())
        const jpeg = path.join(folder, `still-${frame}.jpg`)
        fs.writeFileSync(jpeg, Buffer.from(jpegBase64, 'base64'))
        expect(indexOn(decode(jpeg), 0)).toBe(frame)
      }
    } finally {
      await library.close()
      fs.rmSync(libraryFolder, { recursive: true, force: true })
    }
  })

  it('of a part of a clip begins and ends where the part does', async () => {
    const { frames } = await write(await make('steady 240', { fromFrame: 37, toFrame: 90, holdFrames: [60] }))
    expect(indexOn(frames, 0)).toBe(37)
    expect(indexOn(frames, frames.count - 1)).toBe(90)
  })

  it('faster than the output shows fewer frames, and still the held one', async () => {
    const { plan, frames } = await write(await make('steady 240', { wantedSlowBy: 1, holdFrames: [101] }))
    expect(plan.slowBy).toBe(1)
    const read = Array.from({ length: frames.count }, (_, i) => indexOn(frames, i))
    expect(read).toEqual(planned(plan.timeLine, plan.outputFrames))
    expect(read.filter((i) => i === 101)).toHaveLength(2 * plan.rate)
  })

  it('has its drawing on the held frames and nowhere else, a drawing of a range on its range', async () => {
    const source = await make('steady 240', { holdFrames: [100] })
    const range = shapes.line.create(
      [
        { x: 20, y: 160 },
        { x: 110, y: 160 },
      ],
      { tone: 'lagoon', widthPx: 12, isDashed: false },
    )
    // The drawing of frame 50 belongs to a moment that is not held: it would only flash, so it is left out.
    const drawings = [drawn(line(), 100), drawn(line(), 50), drawn(range, 120, 139)]
    const { frames } = await write({ ...source, drawings, captions: new Map([[100, 'Impact']]) })
    for (let i = 0; i < frames.count; i++) {
      const index = indexOn(frames, i)
      expect(isDrawn(frames.at(i, 60 / 256, 120 / 192)), `frame ${index}`).toBe(index === 100)
      expect(isDrawn(frames.at(i, 60 / 256, 160 / 192)), `frame ${index}`).toBe(index >= 120 && index < 140)
      // The caption's dark band along the lower edge.
      expect(frames.at(i, 0.95, 0.985)[1] < grey - 40, `frame ${index}`).toBe(index === 100)
    }
  })

  it('turned by its metadata is upright, and the drawing stays on the source pixels as shown', async () => {
    const { file } = await make('steady 60')
    const turned = path.join(folder, 'turned.mp4')
    runFfmpegNow('-i', file, '-c', 'copy', '-metadata:s:v:0', 'rotate=90', turned)
    let source = await sourceOf(turned, 60, { holdFrames: [40] })
    if (source.width === size.width) {
      // Newer ffmpeg writes the rotation as side data only.
      runFfmpegNow('-display_rotation', '90', '-i', file, '-c', 'copy', turned)
      source = await sourceOf(turned, 60, { holdFrames: [40] })
    }
    expect([source.width, source.height]).toEqual([192, 256])
    const shape = shapes.line.create(
      [
        { x: 90, y: 40 },
        { x: 90, y: 200 },
      ],
      { tone: 'apricot', widthPx: 12, isDashed: false },
    )
    const { plan, frames } = await write({ ...source, drawings: [drawn(shape, 40)] })
    expect([frames.width, frames.height]).toEqual([192, 256])
    const held = plan.holds[0]!.atOutputFrame + 5
    expect(isDrawn(frames.at(held, 90 / 192, 0.5))).toBe(true)
    expect(isDrawn(frames.at(held - 10, 90 / 192, 0.5))).toBe(false)
    // The columns lie along a side now: down or up by the turn; one of the two readings is the index everywhere.
    const readings = [(192 * (patternShare / 2)) / 192, 1 - patternShare / 2].flatMap((x) =>
      [false, true].map((isUp) =>
        planned(plan.timeLine, frames.count).every((want, i) => {
          let index = 0
          for (let bit = 0; bit < bits; bit++) {
            const along = (bit + 0.5) / bits
            if (frames.at(i, x, isUp ? 1 - along : along)[0] > 128) index |= 1 << bit
          }
          return index === want
        }),
      ),
    )
    expect(readings.filter(Boolean)).toHaveLength(1)
  })

  it.each([
    [0.4, 0.25],
    [-0.3, -0.2],
    [1, 0.5],
  ])('is as bright and as rich in contrast as the coach set it: %s, %s', async (brightness, contrast) => {
    // Filter Effects Module Level 1 (W3C): brightness multiplies, contrast turns around the middle, each cut to 0 … 1.
    const cut = (share: number) => Math.max(0, Math.min(1, share))
    const seen = (value: number) =>
      255 * cut((cut((value / 255) * (1 + brightness)) - 0.5) * (1 + contrast) + 0.5)
    const file = path.join(folder, `colours-${brightness}.mp4`)
    // Eight columns of muted colours, so that nothing is cut off at full in one channel only.
    const columns = [
      [30, 30, 30],
      [60, 60, 60],
      [110, 110, 110],
      [200, 200, 200],
      [80, 60, 40],
      [40, 60, 80],
      [50, 80, 50],
      [110, 90, 100],
    ] as const
    const raw = Buffer.alloc(256 * 192 * 3)
    for (let i = 0; i < 256 * 192; i++) raw.set(columns[Math.floor((i % 256) / 32)]!, i * 3)
    execFileSync(
      ffmpegFile,
      [
        '-v',
        'error',
        '-y',
        '-f',
        'rawvideo',
        '-pix_fmt',
        'rgb24',
        '-s',
        '256x192',
        '-r',
        '60',
        '-i',
        '-',
      ].concat(['-pix_fmt', 'yuv420p', '-crf', '4', file]),
      { input: Buffer.concat(Array.from({ length: 60 }, () => raw)) },
    )
    const plain = await sourceOf(file, 60, { holdFrames: [30] })
    const source = { ...plain, adjustments: { brightness, contrast } }
    const { frames } = await write(source)
    const before = decode(file)
    const still = await stillOfSource(source, 30, 256, options())
    const jpeg = path.join(folder, 'levels.jpg')
    fs.writeFileSync(jpeg, Buffer.from(still.jpegBase64, 'base64'))
    const picture = decode(jpeg)
    for (const [i] of columns.entries()) {
      const at = [(i + 0.5) / 8, 0.5] as const
      const wanted = before.at(30, ...at).map(seen)
      for (const [what, found] of [
        ['clip', frames.at(frames.count - 10, ...at)],
        ['still', picture.at(0, ...at)],
      ] as const) {
        found.forEach((value, channel) => {
          expect(
            Math.abs(value - wanted[channel]!),
            `${what}, column ${i}: ${found} for ${wanted}`,
          ).toBeLessThan(9)
        })
      }
    }
  })

  it('blurs what is covered, for its frames and only there', async () => {
    // Fine checks in the grey part, so that blur can be seen.
    const file = path.join(folder, 'checks.mp4')
    runFfmpegNow(
      '-f',
      'lavfi',
      '-i',
      "nullsrc=s=256x192:r=60:d=1,geq=lum='if(mod(floor(X/4)+floor(Y/4),2),200,60)':cb=128:cr=128",
      '-c:v',
      'libx264',
      '-crf',
      '4',
      '-pix_fmt',
      'yuv420p',
      file,
    )
    const source = await sourceOf(file, 60)
    const cover = (how: 'blur' | 'fill'): Shape => ({
      ...shapes.cover.create(
        [
          { x: 100, y: 60 },
          { x: 180, y: 140 },
        ],
        { tone: 'ink', widthPx: 4, isDashed: false },
      ),
      how,
      outline: 'box',
    })
    const spread = (frames: Frames, i: number, x: number, y: number) => {
      const values = Array.from({ length: 16 }, (_, k) => frames.at(i, (x + k) / 256, y / 192)[1])
      return Math.max(...values) - Math.min(...values)
    }
    for (const how of ['blur', 'fill'] as const) {
      const { plan, frames } = await write({ ...source, drawings: [drawn(cover(how), 20, 39)] })
      for (let i = 0; i < frames.count; i++) {
        const index = sourceFrameOn(plan.timeLine, i)
        const isCovered = index >= 20 && index <= 39
        expect(spread(frames, i, 130, 100) < 40, `${how}, frame ${index}`).toBe(isCovered)
        expect(spread(frames, i, 20, 100)).toBeGreaterThan(80)
      }
    }
    // In comparisons, too, on every frame and on both sides, mirrored or not.
    const one = { ...source, drawings: [drawn(cover('blur'), 0, 59)] }
    const out = path.join(folder, 'covered-pair.mp4')
    const mirrored = { ...one, isMirrored: true }
    await writePair([one, mirrored], [30, 30], out, {
      maxHeight: 1080,
      holdSeconds: 2,
      wantedSlowBy: 8,
      ...sideBySide,
    })
    const frames = decode(out)
    for (let i = 0; i < frames.count; i += 7) {
      const at = (x: number) => {
        const values = Array.from({ length: 16 }, (_, k) => frames.at(i, (x + k) / 512, 100 / 192)[1])
        return Math.max(...values) - Math.min(...values)
      }
      expect(at(130)).toBeLessThan(40)
      expect(at(20)).toBeGreaterThan(80)
      expect(at(256 + 256 - 180 + 20)).toBeLessThan(40)
      expect(at(256 + 230)).toBeGreaterThan(80)
    }
  })
})

describe('a comparison', () => {
  const choices = { maxHeight: 1080, holdSeconds: 2, wantedSlowBy: 8, ...sideBySide }
  it.each([
    ['steady 240', 'steady 240', 120, 60],
    ['steady 240', 'stretched, 240 played at 30', 50, 90],
    ['odd 239.76', 'steady 60', 100, 20],
    ['steady 60', 'variable', 40, 50],
  ] as [KindName, KindName, number, number][])(
    'of %s and %s shows both at the locked frame together, and as planned on every frame',
    async (first, second, lockFirst, lockSecond) => {
      const pair = [await make(first), await make(second)] as const
      const file = path.join(folder, `pair-${first}-${second}.mp4`)
      const plan = await writePair(pair, [lockFirst, lockSecond], file, { ...choices })
      const frames = decode(file)
      expect(frames.count).toBe(plan.outputFrames)
      const sides = [0, 0.5].map((left) =>
        Array.from({ length: frames.count }, (_, i) => indexOn(frames, i, { left, span: 0.5 })),
      )
      sides.forEach((read, i) => expect(read).toEqual(planned(plan.timeLines[i]!, frames.count)))
      expect(sides.map((read) => read.indexOf([lockFirst, lockSecond][sides.indexOf(read)]!))).toEqual([
        plan.lockedAt,
        plan.lockedAt,
      ])
      const both = Array.from(
        { length: frames.count },
        (_, i) => sides[0]![i] === lockFirst && sides[1]![i] === lockSecond,
      )
      expect(both.filter(Boolean)).toHaveLength(2 * plan.rate)
    },
  )

  /** Shared moments of two clips, and the Stage's own mapping between them. */
  const followed = (
    pair: readonly [ClipSource, ClipSource],
    anchors: readonly Anchor[],
    lockedOn: string,
  ): ((frame: number) => number) => {
    const [first, second] = pair.map(({ time }) => ({
      atSeconds: time.atSeconds,
      playbackRate: time.captureRate * time.realPerFileSecond,
      captureRate: time.captureRate,
    })) as [ClipTimes, ClipTimes]
    const starts = { first: 0, second: 0 }
    const last = pair[1].time.toFrame
    return (frame) =>
      Math.max(
        0,
        Math.min(last, frameFor(frame, { anchors, lockedOn, isStretched: true, first, second, starts })),
      )
  }
  it.each([
    ['steady 240', 'steady 240', [20, 100, 150], [30, 60, 140]],
    ['steady 240', 'stretched, 240 played at 30', [40, 120, 160], [10, 90, 100]],
    ['odd 239.76', 'steady 60', [30, 100, 130], [10, 20, 50]],
    ['steady 60', 'steady 240', [10, 40, 60], [50, 70, 180]],
    ['steady 60', 'variable', [20, 40, 55], [12, 37, 41]],
    ['variable', 'odd 239.76', [10, 31, 50], [40, 75, 76]],
  ] as [KindName, KindName, number[], number[]][])(
    'of %s and %s, stretched, shows beside each frame the one that belongs to it, and all shared moments together',
    async (first, second, ofFirst, ofSecond) => {
      const pair = [await make(first), await make(second)] as const
      const anchors = ofFirst.map((frame, i) => ({ name: `moment ${i}`, first: frame, second: ofSecond[i]! }))
      const follow = followed(pair, anchors, 'moment 1')
      const file = path.join(folder, `stretched-${first}-${second}.mp4`)
      const plan = await writePair(pair, [ofFirst[1]!, ofSecond[1]!], file, { ...choices, follow })
      const frames = decode(file)
      expect(frames.count).toBe(plan.outputFrames)
      const [left, right] = [0, 0.5].map((at) =>
        Array.from({ length: frames.count }, (_, i) => indexOn(frames, i, { left: at, span: 0.5 })),
      ) as [number[], number[]]
      expect(left).toEqual(planned(plan.timeLines[0], frames.count))
      expect(right).toEqual(left.map(follow))
      for (const anchor of anchors) {
        const together = left.flatMap((frame, i) => (frame === anchor.first ? [right[i]] : []))
        expect(new Set(together), anchor.name).toEqual(new Set([anchor.second]))
      }
      expect(left.filter((frame) => frame === ofFirst[1])).toHaveLength(2 * plan.rate)
    },
  )

  it.each([
    [0.4, false],
    [0.7, true],
  ])(
    'with the second picture over the first, seen through by %s, mirrored: %s, shows both frames in one picture',
    async (opacity, isMirrored) => {
      const first = await make('steady 240')
      const second = { ...(await make('odd 239.76')), isMirrored, drawings: [drawn(line(), 60)] }
      const pair = [first, second] as const
      const anchors = [
        { name: 'top', first: 40, second: 30 },
        { name: 'impact', first: 100, second: 60 },
      ]
      const follow = followed(pair, anchors, 'impact')
      const over = { arrangement: 'over', opacity } as const
      const file = path.join(folder, `over-${opacity}.mp4`)
      const plan = await writePair(pair, [100, 60], file, { ...choices, ...over, follow, caption: 'Both' })
      const frames = decode(file)
      expect([frames.width, frames.height, frames.count]).toEqual([256, 192, plan.outputFrames])
      // Light or dark of one over light or dark of the other: four tones, by source-over compositing (W3C, section 5).
      const tones = [0, 1, 2, 3].map((n) => (n & 1 ? 230 : 25) * (1 - opacity) + (n & 2 ? 230 : 25) * opacity)
      const read = Array.from({ length: frames.count }, (_, i) => {
        let [lower, upper] = [0, 0]
        for (let column = 0; column < bits; column++) {
          const [tone] = frames.at(i, (column + 0.5) / bits, patternShare / 2)
          const off = tones.map((t) => Math.abs(t - tone))
          const nearest = off.indexOf(Math.min(...off))
          expect(off[nearest], `column ${column} of frame ${i}: ${tone}`).toBeLessThan(14)
          if (nearest & 1) lower |= 1 << column
          if (nearest & 2) upper |= 1 << (isMirrored ? bits - 1 - column : column)
        }
        return [lower, upper]
      })
      expect(read).toEqual(planned(plan.timeLines[0], frames.count).map((frame) => [frame, follow(frame)]))
      const x = isMirrored ? 256 - 60 : 60
      for (const i of [0, plan.lockedAt + 3, frames.count - 1]) {
        const isLocked = i === plan.lockedAt + 3
        expect(isDrawn(frames.at(i, x / 256, 120 / 192))).toBe(isLocked)
        // The words under both are as dark as under one.
        expect(frames.at(i, 0.95, 0.985)[1] < grey - 40).toBe(isLocked)
      }
      const still = await stillOfPair(pair, [100, 60], 192, over, options())
      expect([still.width, still.height]).toEqual([256, 192])
      const jpeg = path.join(folder, `over-${opacity}.jpg`)
      fs.writeFileSync(jpeg, Buffer.from(still.jpegBase64, 'base64'))
      const picture = decode(jpeg)
      for (let column = 0; column < bits; column++) {
        const n = ((100 >> column) & 1) + 2 * ((60 >> (isMirrored ? bits - 1 - column : column)) & 1)
        expect(Math.abs(picture.at(0, (column + 0.5) / bits, patternShare / 2)[0] - tones[n]!)).toBeLessThan(
          10,
        )
      }
    },
  )

  it('with one over the other of another shape, leaves the lower one to be seen beside it', async () => {
    const lower = await make('steady 60')
    const narrow = path.join(folder, 'narrow.mp4')
    runFfmpegNow('-i', lower.file, '-vf', 'crop=96:192:0:0', '-crf', '8', narrow)
    const file = path.join(folder, 'over-narrow.mp4')
    await writePair([lower, await sourceOf(narrow, 60)], [40, 40], file, {
      ...choices,
      arrangement: 'over',
      opacity: 1,
    })
    const frames = decode(file)
    expect([frames.width, frames.height]).toEqual([256, 192])
    // The last frame is 89: 1001 1010, lowest bit left, 32 pixels a bit. The narrow one shows its first three from 80 on.
    const seen = [16, 48, 96, 128, 160, 208, 240].map(
      (x) => frames.at(frames.count - 1, x / 256, patternShare / 2)[0] > 128,
    )
    expect(seen).toEqual([true, false, true, false, false, true, false])
  })

  it('mirrors the second picture with its drawing, not the words', async () => {
    const source = { ...(await make('steady 240')), drawings: [drawn(line(), 100)] }
    const pair = [source, { ...source, isMirrored: true }] as const
    const file = path.join(folder, 'mirrored.mp4')
    const plan = await writePair(pair, [100, 100], file, { ...choices })
    const frames = decode(file)
    for (const i of [0, plan.lockedAt - 5, plan.lockedAt + 3, frames.count - 1]) {
      expect(indexOn(frames, i, { left: 0.5, span: 0.5, isMirrored: true })).toBe(
        sourceFrameOn(plan.timeLines[1], i),
      )
      const isLocked = i === plan.lockedAt + 3
      expect(isDrawn(frames.at(i, 60 / 512, 120 / 192))).toBe(isLocked)
      expect(isDrawn(frames.at(i, (256 + 256 - 60) / 512, 120 / 192))).toBe(isLocked)
      expect(isDrawn(frames.at(i, (256 + 60) / 512, 120 / 192))).toBe(false)
    }
    const still = await stillOfPair(pair, [100, 100], 192, sideBySide, options())
    expect([still.width, still.height]).toEqual([512, 192])
  })
})

describe('a written clip', () => {
  const facts = (file: string) =>
    probed<{
      streams: {
        codec_type: string
        codec_name: string
        profile: string
        level: number
        pix_fmt: string
        width: number
        height: number
        avg_frame_rate: string
        tags?: Record<string, string>
      }[]
      format: { tags?: Record<string, string>; duration: string }
    }>(file)
  const boxes = (file: string): string[] => {
    const bytes = fs.readFileSync(file)
    const names: string[] = []
    for (let at = 0; at + 8 <= bytes.length;) {
      names.push(bytes.toString('latin1', at + 4, at + 8))
      at += bytes.readUInt32BE(at) || bytes.length
    }
    return names
  }

  it('plays everywhere and carries nothing of the phone', async () => {
    const source = await make('steady 240', { holdFrames: [100] })
    const before = facts(source.file)
    // The source does carry it, or this test would prove nothing.
    expect(JSON.stringify(before.format.tags)).toContain('Phone 1')
    expect(JSON.stringify(before.format.tags)).toContain('+52.52')
    const pairFile = path.join(folder, 'meta-pair.mp4')
    await writePair([source, source], [100, 100], pairFile, {
      maxHeight: 720,
      holdSeconds: 2,
      wantedSlowBy: 8,
      ...sideBySide,
    })
    for (const file of [(await write(source)).file, pairFile]) {
      const { streams, format } = facts(file)
      expect(streams).toHaveLength(1)
      expect(streams[0]).toMatchObject({ codec_name: 'h264', profile: 'High', pix_fmt: 'yuv420p' })
      expect(streams[0]!.level).toBeLessThanOrEqual(41)
      const order = boxes(file)
      expect(order.indexOf('moov')).toBeGreaterThan(0)
      expect(order.indexOf('moov')).toBeLessThan(order.indexOf('mdat'))
      const kept = { ...format.tags, ...streams[0]!.tags }
      const harmless = [
        'major_brand',
        'minor_version',
        'compatible_brands',
        'language',
        'handler_name',
        'vendor_id',
        'encoder',
      ]
      expect(Object.keys(kept).filter((key) => !harmless.includes(key))).toEqual([])
      const bytes = fs.readFileSync(file).toString('latin1')
      for (const secret of ['Phone 1', 'Maker', '52.52', '2026-05-01', folder]) {
        expect(bytes).not.toContain(secret)
      }
    }
  })

  it('is at most 1080 or 720 lines and within level 4.1’s blocks a second', async () => {
    const file = path.join(folder, 'large.mp4')
    runFfmpegNow(
      '-f',
      'lavfi',
      '-i',
      'testsrc2=s=2160x3840:r=60:d=0.2',
      '-pix_fmt',
      'yuv420p',
      '-preset',
      'ultrafast',
      file,
    )
    const source = await sourceOf(file, 240, { wantedSlowBy: 4 })
    for (const [maxHeight, width, height] of [
      [1080, 1080, 1920],
      [720, 720, 1280],
    ] as const) {
      const out = await write(source, maxHeight)
      const [stream] = facts(out.file).streams
      expect([stream!.width, stream!.height]).toEqual([width, height])
      const [over, under] = stream!.avg_frame_rate.split('/').map(Number) as [number, number]
      // ITU-T H.264, table A-1: 245 760 macroblocks a second at level 4.1.
      expect(Math.ceil(width / 16) * Math.ceil(height / 16) * (over / under)).toBeLessThanOrEqual(245_760)
      expect(stream!.level).toBeLessThanOrEqual(41)
    }
  })
})
