import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import http from 'node:http'
import type { AddressInfo } from 'node:net'
import path from 'node:path'
import { deflateSync } from 'node:zlib'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findMediaPrograms, type MediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { guardedArgs } from '../../electron/library/media/guarded-args.ts'
import { programOutput, type Ending } from '../../electron/library/media/program-output.ts'
import { tally } from '../../scripts/tally.mjs'
import { ffmpegFile, makeClip, runFfmpegNow } from './support/make-clip.ts'
import { filesBelow, openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

/** Changed clips: a few in the tests; `npm run faults` takes 200, on the oldest ffmpeg that may be met. */
const mutations = Number(process.env.LEADSIDE_MUTATIONS ?? 8)

let folder: string
let programs: MediaPrograms
let server: http.Server
const asked: string[] = []
let address: string
let secretClip: string

beforeAll(async () => {
  folder = temporaryFolder()
  programs = await findMediaPrograms(null)
  server = http.createServer((request, response) => {
    asked.push(request.url ?? '')
    response.end()
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  // Somewhere else on the disk, and never handed to the library.
  secretClip = path.join(folder, 'elsewhere', 'private.ts')
  fs.mkdirSync(path.dirname(secretClip))
  makeClip(secretClip, { extra: ['-f', 'mpegts'] })
})
afterAll(() => {
  server.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const hls = (source: string) =>
  `#EXTM3U\n#EXT-X-VERSION:3\n#EXT-X-TARGETDURATION:2\n#EXTINF:1.0,\n${source}\n#EXT-X-ENDLIST\n`
const dash = (source: string) =>
  `<?xml version="1.0"?><MPD xmlns="urn:mpeg:dash:schema:mpd:2011" profiles="urn:mpeg:dash:profile:isoff-live:2011" type="static" mediaPresentationDuration="PT1S" minBufferTime="PT1S"><Period><AdaptationSet mimeType="video/mp4"><Representation id="1" bandwidth="1000" codecs="avc1.42E01E" width="320" height="180"><BaseURL>${source}</BaseURL></Representation></AdaptationSet></Period></MPD>`

/** Lists of other media under a film's name: each pointed at a file elsewhere, or at the network. */
const lists = (): Record<string, string | Buffer> => ({
  'hls-file.mp4': hls(secretClip),
  'hls-net.mp4': hls(`${address}/segment.ts`),
  'hls-behind-zeros.mp4': Buffer.concat([Buffer.from(hls(secretClip)), Buffer.alloc(64)]),
  'dash-net.mp4': dash(`${address}/film.mp4`),
  'dash-file.mov': dash(`file://${secretClip}`),
  'concat.mp4': `ffconcat version 1.0\nfile '${secretClip}'\n`,
  'sdp.mp4': `v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nt=0 0\nm=video 5004 RTP/AVP 96\n`,
  'pls.avi': `[playlist]\nFile1=${address}/a.mp4\n`,
  'asx.wmv': `<ASX version="3.0"><ENTRY><REF HREF="${address}/a.wmv"/></ENTRY></ASX>`,
  'plain.mp4': 'this is no film at all, it only says so\n'.repeat(50),
  'script.mp4': '#!/bin/sh\ntouch /tmp/leadside-was-run\n',
})

/** Two frames with days between them: what fills gaps would fill the disk. */
const farApart = (file: string, options: string[] = []) =>
  runFfmpegNow(
    ...['-f', 'lavfi', '-i', 'testsrc2=size=64x64:rate=1:duration=3', ...options],
    ...[
      '-vf',
      "settb=1/1000,setpts='if(eq(N,0),0,90000000*N)'",
      '-c:v',
      'mjpeg',
      '-pix_fmt',
      'yuvj420p',
      '-vsync',
      '0',
      file,
    ],
  )

/** A PNG of 1 bit a pixel: a few kilobytes that unpack to a picture as large as it says (ISO/IEC 15948). */
const hugePng = (side: number): Buffer => {
  const table = Uint32Array.from({ length: 256 }, (_, n) => {
    let c = n
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1
    return c
  })
  const crc = (bytes: Buffer) => {
    let c = 0xffffffff
    for (const byte of bytes) c = table[(c ^ byte) & 255]! ^ (c >>> 8)
    return (c ^ 0xffffffff) >>> 0
  }
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type, 'latin1'), data])
    const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)]
    length.writeUInt32BE(data.length)
    sum.writeUInt32BE(crc(body))
    return Buffer.concat([length, body, sum])
  }
  const head = Buffer.alloc(13)
  head.writeUInt32BE(side, 0)
  head.writeUInt32BE(side, 4)
  head.set([1, 0, 0, 0, 0], 8)
  const rows = deflateSync(Buffer.alloc((Math.ceil(side / 8) + 1) * side))
  return Buffer.concat([
    Buffer.from('89504e470d0a1a0a', 'hex'),
    chunk('IHDR', head),
    chunk('IDAT', rows),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

const run = async (program: string, args: string[], limits = {}): Promise<Ending & { bytes: number }> => {
  const output = programOutput(program, args, { limits })
  let bytes = 0
  for (;;) {
    const step = await output.next()
    if (step.done) return { ...step.value, bytes }
    bytes += step.value.length
  }
}

describe('a media program', () => {
  it.each(['ffmpeg', 'ffprobe'] as const)(
    '%s opens no list of other media and asks no network',
    async (name) => {
      asked.length = 0
      for (const [file, text] of Object.entries(lists())) {
        const at = path.join(folder, file)
        fs.writeFileSync(at, text)
        const args =
          name === 'ffmpeg'
            ? ['-v', 'error', '-i', at, '-f', 'null', '-']
            : ['-v', 'error', '-show_streams', at]
        const ending = await run(programs[name].file, args)
        expect(ending.code, file).not.toBe(0)
        expect(ending.bytes, file).toBe(0)
      }
      const direct = await run(programs.ffmpeg.file, ['-i', `${address}/direct.mp4`, '-f', 'null', '-'])
      expect(direct.code).not.toBe(0)
      expect(asked).toEqual([])
    },
  )

  it('would read another file through a list if it were not held back', () => {
    // What the guard is for: without it, ffmpeg does read the file that the list names.
    const list = path.join(folder, 'unguarded.m3u8')
    fs.writeFileSync(list, hls(secretClip))
    const bare = execFileSync(
      ffmpegFile,
      ['-v', 'error', '-allowed_extensions', 'ALL', '-i', list, '-f', 'framecrc', '-'],
      { encoding: 'utf8' },
    )
    expect(bare.split('\n').length).toBeGreaterThan(20)
    expect(guardedArgs(['-i', list]).join(' ')).toMatch(
      /-protocol_whitelist file,pipe -format_whitelist \S+ -i/,
    )
  })

  it('is ended when it takes more memory, more time or more room than it may', async () => {
    const endless = [
      '-v',
      'error',
      '-f',
      'rawvideo',
      '-pix_fmt',
      'gray',
      '-s',
      '6000x6000',
      '-i',
      '/dev/zero',
    ]
    const scaled = [...endless, '-vf', 'scale=12000:12000', '-pix_fmt', 'rgba', '-f', 'rawvideo', 'pipe:1']
    const memory = await run(programs.ffmpeg.file, scaled, { memoryBytes: 300 * 2 ** 20 })
    expect(memory.over).toBe('memoryBytes')
    const small = ['-v', 'error', '-f', 'rawvideo', '-pix_fmt', 'gray', '-s', '64x64', '-i', '/dev/zero']
    const toPipe = [...small, '-f', 'rawvideo', 'pipe:1']
    const output = await run(programs.ffmpeg.file, toPipe, { outputBytes: 5_000_000 })
    expect(output.over).toBe('outputBytes')
    expect(output.bytes).toBeLessThanOrEqual(5_000_000)
    const toFile = path.join(folder, 'endless.raw')
    const file = await run(programs.ffmpeg.file, [...small, '-y', '-f', 'rawvideo', toFile], {
      outputBytes: 5_000_000,
      seconds: 60,
    })
    expect(file.code).not.toBe(0)
    expect(fs.statSync(toFile).size).toBeLessThanOrEqual(5_000_000)
    const begun = Date.now()
    const time = await run(programs.ffmpeg.file, [...small, '-f', 'null', '-'], { seconds: 1 })
    expect(time.over).toBe('seconds')
    expect(Date.now() - begun).toBeLessThan(20_000)
  })

  it.skipIf(process.platform === 'win32')('is ended with everything that it started', async () => {
    // A script in a media program's place, as package managers put one there.
    const shim = path.join(folder, 'shim.sh')
    const pidFile = path.join(folder, 'pid')
    fs.writeFileSync(shim, `#!/bin/sh\nsleep 300 &\necho $! > ${pidFile}\nwait\n`, { mode: 0o755 })
    const abort = new AbortController()
    const output = programOutput(shim, [], { signal: abort.signal })
    const ended = output.next()
    await expect
      .poll(() => fs.existsSync(pidFile) && fs.readFileSync(pidFile, 'utf8').trim())
      .toMatch(/^\d+$/)
    const pid = Number(fs.readFileSync(pidFile, 'utf8'))
    process.kill(pid, 0)
    abort.abort()
    await ended
    const state = () => {
      try {
        return /State:\s+(\S)/.exec(fs.readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 'gone'
      } catch {
        return 'gone'
      }
    }
    // Gone, or ended and not yet collected.
    await expect.poll(state, { timeout: 5000 }).toMatch(/gone|Z/)
  })
})

describe('the library', () => {
  it(
    'refuses hostile and broken files in a sentence, and keeps nothing of them',
    { timeout: 240_000 },
    async () => {
      asked.length = 0
      const { library, lessonId } = await openWithLesson(path.join(folder, 'library'))
      const files = Object.entries(lists()).map(([name, text]) => {
        const at = path.join(folder, 'in', name)
        fs.mkdirSync(path.dirname(at), { recursive: true })
        fs.writeFileSync(at, text)
        return at
      })
      const far = path.join(folder, 'in', 'far-apart.mkv')
      farApart(far)
      expect(fs.statSync(far).size).toBeLessThan(100_000)
      const wide = path.join(folder, 'in', 'wide.avi')
      runFfmpegNow(
        ...[
          '-f',
          'lavfi',
          '-i',
          'color=black:s=9000x6000:r=2:d=1',
          '-c:v',
          'mjpeg',
          '-pix_fmt',
          'yuvj420p',
          wide,
        ],
      )
      const bomb = path.join(folder, 'in', 'bomb.mp4')
      fs.writeFileSync(bomb, hugePng(30_000))
      const begun = Date.now()
      const jobs = await takeIn(library, lessonId, [...files, far, wide, bomb])
      for (const job of jobs) {
        expect(job.state, job.label).toBe('failed')
        expect(job.problem!.what, job.label).not.toMatch(/unexpected|undefined|Error/)
      }
      // Told by what stands in it, before any program opens it.
      const named = new Map(jobs.map((job) => [job.problem!.where, job.problem!.what]))
      for (const name of Object.keys(lists())) expect(named.get(name), name).toMatch(/a list or a text/)
      expect(Date.now() - begun).toBeLessThan(60_000)
      expect(fs.existsSync('/tmp/leadside-was-run')).toBe(false)

      // Pictures of the coach's own.
      for (const [name, bytes] of [
        ['bomb.png', hugePng(30_000)],
        ['list.png', Buffer.from(hls(secretClip))],
        ['half.png', hugePng(2000).subarray(0, 200)],
      ] as const) {
        const at = path.join(folder, 'in', name)
        fs.writeFileSync(at, bytes)
        await expect(library.ask('coachPicture.add', { file: at, use: 'drill' }), name).rejects.toMatchObject(
          {
            what: expect.not.stringMatching(/unexpected/) as string,
          },
        )
      }

      // A good clip with bytes changed here and there, or cut off: taken in or refused, nothing else.
      const good = path.join(folder, 'good.mp4')
      makeClip(good, { seconds: 0.5, rate: 30 })
      const whole = fs.readFileSync(good)
      const random = xoroshiro128plus(Number(process.env.LEADSIDE_SEED ?? 41))
      const below = (n: number) => (random.next() >>> 0) % n
      const mutated = Array.from({ length: mutations }, (_, i) => {
        const bytes = Buffer.from(whole)
        for (let k = 0; k < 1 + (i % 8) * 3; k++) bytes[below(bytes.length)] = below(256)
        const at = path.join(folder, 'in', `mutated-${i}.mp4`)
        fs.writeFileSync(at, i % 4 === 3 ? bytes.subarray(0, 200 + below(bytes.length - 200)) : bytes)
        return at
      })
      const tried = await takeIn(library, lessonId, mutated)
      for (const job of tried) {
        expect(['done', 'failed'], job.label).toContain(job.state)
        if (job.problem) expect(job.problem.what, job.label).not.toMatch(/unexpected/)
      }
      const taken = tried.filter((job) => job.state === 'done').length
      const { clips } = await library.ask('lesson.open', { lessonId })
      expect(clips.length).toBeLessThanOrEqual(taken)
      expect(filesBelow(library.context.paths.incoming)).toEqual([])
      expect(asked).toEqual([])
      await library.close()
      tally('hostile files', jobs.length + 3 + mutated.length)
      tally('connections seen', asked.length)
      console.log(
        `hostile files: ${jobs.length + 3} refused, ${mutated.length} changed clips (${taken} taken in, ` +
          `${mutated.length - taken} refused), 0 crashes, 0 connections`,
      )
    },
  )

  it.skipIf(process.platform === 'win32')(
    'follows no list, pipe or device that a live lesson finds in its folder',
    async () => {
      const { library, lessonId } = await openWithLesson(path.join(folder, 'live-library'))
      const clips = path.join(folder, 'live')
      fs.mkdirSync(clips)
      await library.ask('live.start', { lessonId, clipsFolder: clips, shotsPath: null })
      const pipe = path.join(folder, 'pipe')
      execFileSync('mkfifo', [pipe])
      fs.symlinkSync(pipe, path.join(clips, 'pipe.mp4'))
      fs.symlinkSync('/dev/zero', path.join(clips, 'zero.mp4'))
      // An MP4 says itself whether it is whole: what is none is waited for, never read. Other kinds are read once they are quiet.
      const waited = ['hls-file.mp4', 'dash-net.mp4', 'plain.mp4']
      for (const name of waited) fs.writeFileSync(path.join(clips, name), lists()[name]!)
      fs.writeFileSync(path.join(clips, 'list.mkv'), lists()['hls-net.mp4']!)
      const good = path.join(clips, 'good.mp4')
      makeClip(`${good}.part`, { seconds: 0.3, extra: ['-f', 'mp4'] })
      fs.renameSync(`${good}.part`, good)
      const added = () => library.context.jobs.list().filter((j) => j.kind === 'add-clip')
      await expect
        .poll(
          () =>
            added()
              .map((j) => [j.label, j.state])
              .toSorted(),
          { timeout: 60_000 },
        )
        .toEqual([
          ['good.mp4', 'done'],
          ['list.mkv', 'failed'],
        ])
      expect(added().find((j) => j.label === 'list.mkv')!.problem!.what).not.toMatch(/unexpected/)
      const { clips: taken } = await library.ask('lesson.open', { lessonId })
      expect(taken.map((c) => c.fileName)).toEqual(['good.mp4'])
      expect(asked).toEqual([])
      await library.ask('live.stop', { lessonId })
      await library.close()
      tally('hostile files', waited.length + 3)
    },
  )
})
