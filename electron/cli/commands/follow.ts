import path from 'node:path'
import { Command } from 'commander'
import { placeAt, type FollowMark } from '../../../shared-core/following/followed-track.ts'
import { pointSpeed } from '../../../shared-core/following/point-speed.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { metricText } from '../../../shared-core/units.ts'
import { followInThread } from '../../library/following/follow-in-thread.ts'
import { findMediaPrograms } from '../../library/media/ffmpeg-path.ts'
import { probeClip } from '../../library/media/probe.ts'
import { makeOutput, table } from '../output.ts'

interface Options {
  json?: boolean
  mark: FollowMark[]
  what: string
  from?: string
  to?: string
  captureRate?: string
  pixelsPerMeter?: string
}

const numberOf = (text: string | undefined, option: string, low: number, high: number): number | null => {
  if (text === undefined) return null
  const value = Number(text)
  if (value >= low && value <= high) return value
  throw new Problem('usage.number', { text, low, high, where: option })
}

const readMark = (text: string, marks: FollowMark[]): FollowMark[] => {
  const found = /^(\d+):(-?[\d.]+),(-?[\d.]+)$/.exec(text)
  if (!found) {
    throw new Problem('usage.mark', { text, where: '--mark' })
  }
  const [frame, x, y] = found.slice(1).map(Number) as [number, number, number]
  return [...marks, { frame, x, y }]
}

/** `leadside follow`: where a marked point goes, frame by frame. */
export const followCommand = (): Command =>
  new Command('follow')
    .description('follow a marked point through a clip, both ways from every mark (no library needed)')
    .argument('<file>', 'video file')
    .requiredOption(
      '--mark <frame:across,down>',
      'where the point is on a frame; may be given again',
      readMark,
      [],
    )
    .option(
      '--what <words>',
      'what is followed: club head, hands, head, belt, ball, or your own word',
      'point',
    )
    .option('--from <frame>', 'first frame')
    .option('--to <frame>', 'last frame')
    .option('--capture-rate <rate>', 'frames per second at which the camera filmed')
    .option('--pixels-per-meter <px>', 'scale in the plane of the player: speeds are then given')
    .action(async (file: string, options: Options) => {
      const output = makeOutput(Boolean(options.json))
      const programs = await findMediaPrograms(null)
      const run = { programs, clipName: path.basename(file) }
      const facts = await probeClip(path.resolve(file), run)
      const most = facts.frameCount - 1
      const first = numberOf(options.from, '--from', 0, most) ?? 0
      const last = numberOf(options.to, '--to', first, most) ?? most
      const told = numberOf(options.captureRate, '--capture-rate', 1, 10_000)
      const scale = numberOf(options.pixelsPerMeter, '--pixels-per-meter', 1, 100_000)
      const captureRate = told ?? facts.taggedCaptureRate ?? facts.playbackRate
      for (const { frame } of options.mark) {
        if (frame < first || frame > last) {
          throw new Problem('no-frame.mark', { frame, first, last, where: '--mark' })
        }
      }
      const { track, lost } = await followInThread({
        ffmpegPath: programs.ffmpeg.file,
        file: path.resolve(file),
        width: facts.width,
        height: facts.height,
        captureRate,
        name: options.what,
        marks: options.mark,
        first,
        last,
      })
      const times = { atSeconds: facts.atSeconds, playbackRate: facts.playbackRate, captureRate }
      const places = Array.from(track.frames, (frame, k) => ({
        frame,
        ...placeAt(track, k),
        speed: scale === null ? null : pointSpeed(track, times, frame, scale),
      }))
      const why = {
        unsure: 'two places look alike',
        changed: 'it looks different or is hidden',
        'out-of-picture': 'it leaves the picture',
        jumped: 'it moves too far from one frame to the next',
      }
      output.result({ what: options.what, places, lost, of: last - first + 1 }, [
        ...table(
          ['frame', 'across', 'down', '±', ...(scale === null ? [] : ['speed in the picture'])],
          places.map((p) => [
            String(p.frame),
            p.x.toFixed(1),
            p.y.toFixed(1),
            p.errorPx.toFixed(1),
            ...(scale === null
              ? []
              : [
                  p.speed
                    ? `${metricText('clubSpeedMps', p.speed.speedMps, 'mph-yd')} ± ${metricText('clubSpeedMps', p.speed.sdMps, 'mph-yd')}`
                    : '–',
                ]),
          ]),
        ),
        `Found on ${places.length} of ${last - first + 1} frames.`,
        ...lost.map((l) => `Lost at frame ${l.frame}: ${why[l.why]}. Mark it there to go on.`),
        ...(scale === null
          ? []
          : ['One camera sees only movement across its picture, at the depth where the scale was taken.']),
      ])
    })
