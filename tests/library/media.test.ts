import { execFileSync, spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { rotateClockwise } from '../../demo-media/display-rotation.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { probeClip } from '../../electron/library/media/probe.ts'
import { keepEveryTimestamp } from '../../electron/library/media/run-ffmpeg.ts'
import { decodedTimes, ffmpegFile, ffprobeFile, makeClip, runFfmpegNow, sizeOf } from './support/make-clip.ts'
import { filesBelow, openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

const programs = await findMediaPrograms(null)
/** The ffprobe of the installer package crashes on every MPEG transport stream; what is checked then is what the coach reads. */
const streamCheck = temporaryFolder()
makeClip(path.join(streamCheck, 'a.ts'), { seconds: 0.2 })
const readsStreams = spawnSync(ffprobeFile, ['-v', 'quiet', path.join(streamCheck, 'a.ts')]).signal === null
fs.rmSync(streamCheck, { recursive: true })
if (!readsStreams) {
  console.warn('media.test.ts: this ffprobe crashes on transport streams; their refusal is checked instead')
}

let media: string
const inMedia = (name: string) => path.join(media, name)
beforeAll(() => {
  media = temporaryFolder()
  makeClip(inMedia('plain.mp4'), { seconds: 0.5, extra: ['-g', '8', '-bf', '2'] })
  runFfmpegNow(...picture('160x90', 2), ...h264, '-g', '8', '-bf', '2', inMedia('long.mp4'))
  runFfmpegNow(...picture('160x90', 2), ...h264, '-g', '20', '-bf', '2', inMedia('stream.ts'))
})
afterAll(() => fs.rmSync(media, { recursive: true, force: true }))

/** Grey that jumps from frame to frame, the upper left quarter brighter: tells a frame and which way is up. */
const picture = (size: string, seconds = 0.5, rate = 30) => [
  '-f',
  'lavfi',
  '-i',
  `nullsrc=size=${size}:rate=${rate}:duration=${seconds},format=yuv444p,geq=lum='20+mod(37*N,160)+50*lt(X,W/2)*lt(Y,H/2)':cb=128:cr=128`,
]
/** 20 ms of a tone at half a second. */
const click = ['-f', 'lavfi', '-i', "aevalsrc='if(between(t,0.5,0.52),0.9*sin(12566*t),0)':s=48000:d=1"]
const h264 = ['-c:v', 'libx264', '-pix_fmt', 'yuv420p']

/** Every picture of a clip as 16 by 16 grey values, as ffmpeg decodes it. */
const smallPictures = (file: string): Buffer =>
  execFileSync(
    ffmpegFile,
    [
      ...['-v', 'fatal', '-i', file, '-map', '0:V:0', '-vf', 'scale=16:16:flags=area,format=gray'],
      ...[...keepEveryTimestamp(programs), '-f', 'rawvideo', '-'],
    ],
    { maxBuffer: 1 << 26 },
  )

/** Takes one file into a library of its own. */
const taken = async <T>(
  file: string,
  look: (opened: Awaited<ReturnType<typeof openWithLesson>>, clipId: string) => Promise<T>,
): Promise<T> => {
  const opened = await openWithLesson()
  try {
    const [job] = await takeIn(opened.library, opened.lessonId, [file])
    expect(job).toMatchObject({ state: 'done', problem: null })
    expect(filesBelow(path.join(opened.folder, 'incoming'))).toEqual([])
    const { clips } = await opened.library.ask('lesson.open', { lessonId: opened.lessonId })
    return await look(opened, clips[0]!.id)
  } finally {
    await opened.library.close()
    fs.rmSync(opened.folder, { recursive: true, force: true })
  }
}

const clipOf = (file: string) =>
  taken(file, async ({ library, lessonId }) => (await library.ask('lesson.open', { lessonId })).clips[0]!)

describe('a clip from elsewhere has the decoder’s frames, upright and in shape, in the list and in what is played', () => {
  const cases: [name: string, width: number, height: number, make: (file: string) => void][] = [
    // 120 samples of 4:3 are as wide as 160 square ones (ITU-T H.264 E.2.1: width times sample aspect ratio).
    [
      'pixels that are not square.mp4',
      160,
      90,
      (file) => runFfmpegNow(...picture('120x90'), '-vf', 'setsar=4/3', ...h264, '-g', '8', file),
    ],
    [
      'pixels that are not square, turned.mp4',
      90,
      160,
      (file) => {
        runFfmpegNow(...picture('120x90'), '-vf', 'setsar=4/3', ...h264, file)
        const bytes = fs.readFileSync(file)
        rotateClockwise(bytes, 90)
        fs.writeFileSync(file, bytes)
      },
    ],
    ['odd size.mov', 161, 91, (file) => runFfmpegNow(...picture('161x91'), '-c:v', 'mjpeg', file)],
    ['other codec.avi', 160, 90, (file) => runFfmpegNow(...picture('160x90'), '-c:v', 'mpeg4', file)],
    // The cut falls between key frames: packets before it are decoded, hidden by an edit list, never shown.
    [
      'trimmed.mp4',
      160,
      90,
      (file) => runFfmpegNow('-ss', '0.67', '-i', inMedia('long.mp4'), '-t', '0.6', '-c', 'copy', file),
    ],
    // Begins in the middle of a run of pictures: its first packets give no frame.
    [
      'cut from a stream.ts',
      160,
      90,
      (file) => {
        const whole = fs.readFileSync(inMedia('stream.ts'))
        fs.writeFileSync(file, whole.subarray(188 * Math.floor(whole.length / 188 / 4)))
      },
    ],
    // The sixth of its pictures is nothing that can be decoded: there are 14 frames, though 15 packets.
    [
      'damaged picture.mov',
      160,
      90,
      (file) => {
        runFfmpegNow(...picture('160x90'), '-c:v', 'mjpeg', file)
        const bytes = fs.readFileSync(file)
        const startOfImage = Buffer.from([0xff, 0xd8, 0xff])
        let at = -1
        for (let n = 0; n < 6; n += 1) at = bytes.indexOf(startOfImage, at + 1)
        bytes.fill(0, at, bytes.indexOf(startOfImage, at + 1))
        fs.writeFileSync(file, bytes)
        expect(decodedTimes(file)).toHaveLength(14)
      },
    ],
    [
      'late start.ts',
      160,
      90,
      (file) => runFfmpegNow(...picture('160x90'), ...h264, '-output_ts_offset', '100', file),
    ],
    [
      'two frames.mp4',
      160,
      90,
      (file) => runFfmpegNow(...picture('160x90'), ...h264, '-frames:v', '2', file),
    ],
    [
      'two pictures.mp4',
      160,
      90,
      (file) =>
        runFfmpegNow(
          ...[...picture('160x90'), ...picture('80x46', 0.5, 15), '-map', '0:v', '-map', '1:v'],
          ...[...h264, '-g', '8', file],
        ),
    ],
  ]
  it.each(cases.filter(([name]) => readsStreams || !name.endsWith('.ts')))(
    '%s',
    async (name, width, height, make) => {
      const file = inMedia(name)
      make(file)
      await taken(file, async ({ library, lessonId }, clipId) => {
        const clip = (await library.ask('lesson.open', { lessonId })).clips[0]!
        expect([clip.width, clip.height]).toEqual([width, height])
        const truth = decodedTimes(file)
        const { atSeconds } = await library.ask('clip.timestamps', { id: clipId })
        expect(atSeconds).toHaveLength(truth.length)
        const { file: play } = await library.ask('media.resolve', { clipId, kind: 'play' })
        const played = decodedTimes(play)
        expect(played).toHaveLength(truth.length)
        truth.forEach((t, i) => {
          expect(atSeconds[i]).toBeCloseTo(t - truth[0]!, 4)
          expect(played[i]! - played[0]!).toBeCloseTo(t - truth[0]!, 3)
        })
        const before = smallPictures(file)
        const after = smallPictures(play)
        expect(after).toHaveLength(before.length)
        expect(before).toHaveLength(256 * truth.length)
        const difference = (i: number, k: number) => {
          let sum = 0
          for (let at = 0; at < 256; at += 1) sum += Math.abs(before[256 * i + at]! - after[256 * k + at]!)
          return sum / 256
        }
        truth.forEach((_, frame) => {
          expect(difference(frame, frame), `frame ${frame}`).toBeLessThan(6)
          for (const next of [frame - 1, frame + 1]) {
            // Were two frames alike, the check above could not tell one from the other.
            if (truth[next] !== undefined) expect(difference(next, frame)).toBeGreaterThan(6)
          }
        })
        for (const shown of [play, (await library.ask('media.resolve', { clipId, kind: 'poster' })).file]) {
          const [w, h] = sizeOf(shown)
          expect(w / h).toBeCloseTo(width / height, 1)
        }
      })
    },
  )
})

describe('what a clip says of its time', () => {
  it('counts dropped frames as gaps, not as a slower film: a second of the file stays a second', async () => {
    const file = inMedia('dropped.mp4')
    runFfmpegNow(
      ...[...picture('160x90', 1, 120), '-vf', "select='not(between(n,30,70))*lt(mod(n,7),5)'"],
      ...[...keepEveryTimestamp(programs), ...h264, file],
    )
    const clip = await clipOf(file)
    expect(clip.playbackRate).toBe(120)
    expect(clip.captureRate / clip.playbackRate).toBe(1)
    expect(clip.hasVariableRate).toBe(true)
  })

  it.each([
    ['2026-05-01T10:00:00Z', '2026-05-01T10:00:00.000Z'],
    ['1970-01-01T00:00:09Z', null],
    ['1904-01-01T00:00:00Z', null],
    ['1980-01-01T00:00:00Z', null],
  ])('recorded at %s is %s: a clock that was never set tells nothing', async (said, kept) => {
    const file = inMedia(`clock ${said.slice(0, 4)}.mkv`)
    runFfmpegNow('-i', inMedia('plain.mp4'), '-c', 'copy', '-metadata', `creation_time=${said}`, file)
    expect((await probeClip(file, { programs, clipName: said })).recordedAt).toBe(kept)
  })
})

describe('the sound of a clip', () => {
  /** Seconds from the first frame to the click in the peaks. */
  const clickAt = (file: string) =>
    taken(file, async ({ library }, clipId) => {
      const { max, binSeconds } = await library.ask('clip.soundPeaks', { id: clipId })
      return Array.from(max).findIndex((v) => v > 0.3) * binSeconds
    })

  const starts: [string, string[], string, number][] = [
    ['with the picture', [...picture('160x90', 1), ...click], 'mov', 0.5],
    ['half a second after it', [...picture('160x90', 1), '-itsoffset', '0.5', ...click], 'mov', 1],
    ['a quarter before it', ['-itsoffset', '0.25', ...picture('160x90', 1), ...click], 'mkv', 0.25],
    [
      'a quarter before it in a stream',
      ['-itsoffset', '0.25', ...picture('160x90', 1), ...click],
      'ts',
      0.25,
    ],
  ]
  it.each(starts.filter(([, , extension]) => readsStreams || extension !== 'ts'))(
    'starting %s stays in step with it',
    async (name, inputs, extension, expected) => {
      const file = inMedia(`${name}.${extension}`)
      const sound = extension === 'ts' ? ['-c:a', 'mp2'] : ['-c:a', 'pcm_s16le']
      runFfmpegNow(
        ...inputs,
        '-map',
        '0:v',
        '-map',
        '1:a',
        ...keepEveryTimestamp(programs),
        ...h264,
        ...sound,
        file,
      )
      // Within one frame of a sound codec.
      expect(Math.abs((await clickAt(file)) - expected)).toBeLessThan(0.03)
    },
  )

  it('that can’t be decoded does not keep the picture out', async () => {
    const file = inMedia('odd-sound.mov')
    runFfmpegNow(...picture('160x90'), ...click, ...h264, '-c:a', 'pcm_s16le', file)
    const bytes = fs.readFileSync(file)
    bytes.write('zzzz', bytes.indexOf('sowt'), 'latin1')
    fs.writeFileSync(file, bytes)
    const clip = await clipOf(file)
    expect(clip.frameCount).toBe(15)
    expect(clip.hasSound).toBe(false)
  })
})

describe('files with odd names and kinds', () => {
  it('are taken in under their own names, and a file known from another lesson is stored once', async () => {
    const names = [
      '-dash.mp4',
      'sp ace "q" \'s ümläut 🏌️.mp4',
      'CAPITALS.MP4',
      'no extension',
      'a%03d.mp4',
      `${'n'.repeat(246)}.mp4`,
    ]
    await taken(inMedia('plain.mp4'), async ({ library, folder, studentId }) => {
      const stored = filesBelow(path.join(folder, 'clips'))
      for (const name of names) {
        fs.copyFileSync(inMedia('plain.mp4'), inMedia(name))
        const { id } = await library.ask('lesson.create', { studentId, date: '2026-05-02' })
        await takeIn(library, id, [inMedia(name)])
        const { clips } = await library.ask('lesson.open', { lessonId: id })
        expect(clips).toMatchObject([{ fileName: name, frameCount: 15 }])
      }
      expect(stored.length).toBeGreaterThan(0)
      expect(filesBelow(path.join(folder, 'clips'))).toEqual(stored)
    })
  })

  it('a write-protected file and a link to it give a copy that can be deleted again', async () => {
    const file = inMedia('protected.mp4')
    const link = inMedia('link.mp4')
    fs.copyFileSync(inMedia('plain.mp4'), file)
    fs.chmodSync(file, 0o444)
    fs.symlinkSync(file, link)
    await taken(link, async ({ library }, clipId) => {
      const original = await library.ask('media.resolve', { clipId, kind: 'original' })
      expect(fs.lstatSync(original.file).isFile()).toBe(true)
      expect(fs.statSync(original.file).mode & 0o200).toBe(0o200)
    })
    expect(fs.statSync(file).mode & 0o222).toBe(0)
  })

  const crashing: [string, (file: string) => void, RegExp] = [
    'crashing.ts',
    (file) => fs.copyFileSync(inMedia('stream.ts'), file),
    /the ffprobe in use crashes on this file/,
  ]
  it('MPEG-2, where only some packets say when they are shown, is read frame by frame', async () => {
    const file = inMedia('film.mpg')
    runFfmpegNow(...picture('160x90', 1), '-c:v', 'mpeg2video', '-bf', '2', '-f', 'vob', file)
    const facts = await probeClip(file, { programs, clipName: 'film.mpg' })
    expect(facts.frameCount).toBe(30)
    facts.atSeconds.forEach((t, i) => expect(t).toBeCloseTo(i / 30, 4))
  })

  it.each<typeof crashing>([
    ['folder.mp4', (file) => fs.mkdirSync(file), /this is a folder/],
    [
      'one-frame.mp4',
      (file) => runFfmpegNow(...picture('160x90'), ...h264, '-frames:v', '1', file),
      /fewer than two frames/,
    ],
    [
      // PNG, JPEG and WebP are still pictures of the lesson (stills.test.ts).
      'photo.gif',
      (file) => runFfmpegNow(...picture('160x90'), '-frames:v', '1', file),
      /this kind of file is not read here/,
    ],
    ['bare.h264', (file) => runFfmpegNow(...picture('160x90'), ...h264, file), /carry no times/],
    ...(readsStreams ? [] : [crashing]),
  ])('%s is refused by name with the reason', async (name, make, reason) => {
    make(inMedia(name))
    const { library, lessonId, folder } = await openWithLesson()
    try {
      const [job] = await takeIn(library, lessonId, [inMedia(name)])
      expect(job).toMatchObject({ state: 'failed', problem: { where: name } })
      expect(job!.problem!.what).toMatch(reason)
      expect(filesBelow(path.join(folder, 'incoming'))).toEqual([])
    } finally {
      await library.close()
      fs.rmSync(folder, { recursive: true, force: true })
    }
  })
})
