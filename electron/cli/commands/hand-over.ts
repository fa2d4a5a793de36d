import path from 'node:path'
import { Command } from 'commander'
import { makeOutput } from '../output.ts'
import { findLesson, finishJob, withLibrary } from '../with-library.ts'

export const handOverCommand = (): Command =>
  new Command('hand-over')
    .description('write the lesson package for the student')
    .argument('<lesson>', 'id, start of an id, or "last"')
    .requiredOption('--out <dir>', 'folder in which the package is written')
    .option('--consent-by <name>', 'who says yes, if no consent to filming is recorded')
    .action(
      async (
        text: string,
        options: { json?: boolean; library?: string; out: string; consentBy?: string },
      ) => {
        const output = makeOutput(Boolean(options.json))
        await withLibrary(options.library, output, async (library) => {
          const lessonId = await findLesson(library, text)
          const { jobId } = await library.ask('handOver.write', {
            lessonId,
            folder: path.resolve(options.out),
            consentSaidBy: options.consentBy ?? null,
          })
          await finishJob(library, jobId, 'stopped.handOver')
          const [record] = await library.ask('handOver.list', { lessonId })
          output.result(record, [
            `Package: ${record!.folder}`,
            `Zip:     ${record!.zip} (${(record!.byteLength / 1e6).toFixed(1)} MB)`,
            ...record!.remarks,
          ])
        })
      },
    )
