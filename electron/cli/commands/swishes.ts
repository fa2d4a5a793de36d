import path from 'node:path'
import { Command } from 'commander'
import { soundDelaySeconds } from '../../../shared-core/flight/air.ts'
import { frameAtOrBefore } from '../../../shared-core/moments/frame-at.ts'
import { Problem } from '../../../shared-core/problem.ts'
import {
  findSwishes,
  loudestWhere,
  stickSpeedError,
  stickSpeedMps,
} from '../../../shared-core/swish/find-swishes.ts'
import { metricText, parseQuantity } from '../../../shared-core/units.ts'
import { findMediaPrograms } from '../../library/media/ffmpeg-path.ts'
import { probeClip } from '../../library/media/probe.ts'
import { soundSamples } from '../../library/media/sound-samples.ts'
import { headings, makeOutput, table } from '../output.ts'
import { commonTexts } from '../../../shared-core/wording/command-line/common.ts'
import { swishesTexts } from '../../../shared-core/wording/command-line/swishes.ts'

interface Options {
  json?: boolean
  diameterMm?: string
  bottomFrame?: string
  captureRate?: string
  micDistance: string
}

/** Spectra of more sound than this would take too much memory. */
const longestSeconds = 120

const numberOf = (text: string | undefined, option: string, low: number, high: number): number | null => {
  if (text === undefined) return null
  const value = Number(text)
  if (value >= low && value <= high) return value
  throw new Problem('usage.number', { text, low, high, where: option })
}

/** `leadside swishes`: practice swings by their sound. */
export const swishesCommand = (): Command =>
  new Command('swishes')
    .description(swishesTexts('findSwishesPractice'))
    .argument('<file>', commonTexts('videoFile'))
    .option('--diameter-mm <mm>', swishesTexts('diameterStickPitchThen'))
    .option('--bottom-frame <frame>', swishesTexts('frameAtWhichClub'))
    .option('--capture-rate <rate>', commonTexts('framesPerSecondAt'))
    .option('--mic-distance <metres>', swishesTexts('distanceToMicrophone'), '3')
    .action(async (file: string, options: Options) => {
      const output = makeOutput(Boolean(options.json))
      const diameterMm = numberOf(options.diameterMm, '--diameter-mm', 3, 30)
      const told = numberOf(options.captureRate, '--capture-rate', 1, 10_000)
      const run = { programs: await findMediaPrograms(null), clipName: path.basename(file) }
      const facts = await probeClip(path.resolve(file), run)
      const bottom = numberOf(options.bottomFrame, '--bottom-frame', 0, facts.frameCount - 1)
      const stretch = (told ?? facts.taggedCaptureRate ?? facts.playbackRate) / facts.playbackRate
      if (facts.durationSeconds / stretch > longestSeconds) {
        throw new Problem('too-long', { where: run.clipName })
      }
      const heard = await soundSamples(path.resolve(file), 0, facts.durationSeconds, run)
      if (!heard) throw new Problem('no-sound.clip', { where: run.clipName })
      const delay = soundDelaySeconds(parseQuantity(options.micDistance, 'length', '--mic-distance'))
      const swishes = findSwishes(heard.samples, heard.rate * stretch).map((swish) => {
        const realSeconds = swish.atSeconds - delay
        const bottomSeconds = bottom === null ? null : facts.atSeconds[Math.round(bottom)]! / stretch
        return {
          realSeconds,
          frame: Math.max(0, frameAtOrBefore(facts.atSeconds, realSeconds * stretch)),
          levelDb: swish.levelDb,
          pitchHz: swish.pitchHz,
          loudest: bottomSeconds === null ? null : loudestWhere(realSeconds, bottomSeconds),
          stickSpeedMps: diameterMm === null ? null : stickSpeedMps(swish, diameterMm / 1000),
        }
      })
      output.result({ swishes, stickSpeedError }, [
        ...(swishes.length === 0
          ? [swishesTexts('noSwishHeard')]
          : table(
              [...headings('atSeconds', 'frame', 'loudness', 'pitch', 'loudest'), swishesTexts('speedStick')],
              swishes.map((s) => [
                s.realSeconds.toFixed(3),
                String(s.frame),
                swishesTexts('decibels', { levelDb: Math.round(s.levelDb) }),
                swishesTexts('hertz', { pitchHz: Math.round(s.pitchHz) }),
                s.loudest === null
                  ? '–'
                  : s.loudest.where === 'at'
                    ? swishesTexts('atBottom')
                    : swishesTexts(s.loudest.where === 'before' ? 'beforeBottom' : 'afterBottom', {
                        ms: Math.round(1000 * Math.abs(s.loudest.bySeconds)),
                      }),
                s.stickSpeedMps === null
                  ? '–'
                  : swishesTexts('about', {
                      speed: metricText('clubSpeedMps', s.stickSpeedMps, 'mph-yd'),
                      percent: Math.round(100 * stickSpeedError),
                    }),
              ]),
            )),
        swishesTexts('speedEstimateFromPitch'),
        swishesTexts('practiceSwingsRoomOn'),
      ])
    })
