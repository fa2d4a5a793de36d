import path from 'node:path'
import { Command } from 'commander'
import { Problem } from '../../../shared-core/problem.ts'
import { parseQuantity } from '../../../shared-core/units.ts'
import { findMediaPrograms } from '../../library/media/ffmpeg-path.ts'
import { findMoments } from '../../library/moments/find-moments.ts'
import { expectShots, readShotsFile } from '../../library/handlers/shots.ts'
import { columnWords, readingLines } from '../reading-lines.ts'
import { makeOutput, table } from '../output.ts'

/** Commands on one file; no library is needed. */
export const fileCommands = (): Command[] => [
  new Command('moments')
    .description('find impact and the other moments in a clip (no library needed)')
    .argument('<file>', 'video file')
    .option('--mic-distance <metres>', 'distance from ball to microphone', '3')
    .option('--capture-rate <rate>', 'frames per second at which the camera filmed')
    .action(async (file: string, options: { json?: boolean; micDistance: string; captureRate?: string }) => {
      const output = makeOutput(Boolean(options.json))
      const captureRate = options.captureRate === undefined ? undefined : Number(options.captureRate)
      if (captureRate !== undefined && !(captureRate > 0)) {
        throw new Problem('usage.frameRate', { text: options.captureRate!, where: '--capture-rate' })
      }
      const programs = await findMediaPrograms(null)
      const found = await findMoments(file, {
        ffmpegPath: programs.ffmpeg.file,
        ffprobePath: programs.ffprobe.file,
        micDistanceM: parseQuantity(options.micDistance, 'length', '--mic-distance'),
        ...(captureRate === undefined ? {} : { captureRate }),
      })
      output.result(found, [
        `${path.basename(file)}: ${found.frames} frames, plays at ${found.playbackRate.toFixed(2)}, filmed at ${found.captureRate.toFixed(2)} frames/s (${found.captureRateHow})`,
        ...(found.moments.length
          ? table(
              ['moment', 'frame', 'at s', 'confidence', 'how'],
              found.moments.map((m) => [
                m.name,
                String(m.frame),
                m.atSeconds.toFixed(3),
                `${Math.round(m.confidence * 100)} %`,
                m.how,
              ]),
            )
          : ['No swing was found.']),
      ])
    }),
  new Command('shots')
    .description('read a file of shot records (no library needed)')
    .argument('<file>', 'CSV or TSV')
    .action(async (file: string, options: { json?: boolean }) => {
      const output = makeOutput(Boolean(options.json))
      const reading = await readShotsFile(file)
      expectShots(reading, file)
      output.result(
        {
          shots: reading.shots,
          unmapped: reading.unmapped,
          problems: reading.problems,
          columns: reading.columns,
          order: reading.order,
        },
        [
          `${reading.shots.length} shots in ${path.basename(file)}`,
          ...reading.columns.map((c) => `  ${c.header} → ${columnWords(c)}`),
          ...readingLines(reading),
        ],
      )
    }),
]
