import path from 'node:path'
import { Command } from 'commander'
import { placeAt, type FollowMark } from '../../../shared-core/following/followed-track.ts'
import { pointSpeed } from '../../../shared-core/following/point-speed.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { metricText } from '../../../shared-core/units.ts'
import { followInThread } from '../../library/following/follow-in-thread.ts'
import { findMediaPrograms } from '../../library/media/ffmpeg-path.ts'
import { probeClip } from '../../library/media/probe.ts'
import { headings, makeOutput, table } from '../output.ts'
import { commonTexts } from '../../../shared-core/wording/command-line/common.ts'
import { followTexts } from '../../../shared-core/wording/command-line/follow.ts'

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
    .description(followTexts('followMarkedPoint'))
    .argument('<file>', commonTexts('videoFile'))
    .requiredOption('--mark <frame:across,down>', followTexts('wherePointOnFrame'), readMark, [])
    .option('--what <words>', followTexts('whatFollowedClubHead'), 'point')
    .option('--from <frame>', followTexts('firstFrame'))
    .option('--to <frame>', followTexts('lastFrame'))
    .option('--capture-rate <rate>', commonTexts('framesPerSecondAt'))
    .option('--pixels-per-meter <px>', followTexts('scaleInPlanePlayer'))
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
        unsure: followTexts('twoPlacesLookAlike'),
        changed: followTexts('looksDifferentOrHidden'),
        'out-of-picture': followTexts('leavesPicture'),
        jumped: followTexts('movesTooFarFrom'),
      }
      output.result({ what: options.what, places, lost, of: last - first + 1 }, [
        ...table(
          [
            ...headings('frame', 'across', 'down'),
            '±',
            ...(scale === null ? [] : [followTexts('speedInPicture')]),
          ],
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
        followTexts('foundOnPlacesLast', { places: places.length, last: last - first + 1 }),
        ...lost.map((l) => followTexts('lostAtFrameFrame', { frame: l.frame, why: why[l.why] })),
        ...(scale === null ? [] : [followTexts('oneCameraSeesOnly')]),
      ])
    })
