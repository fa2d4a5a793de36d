import path from 'node:path'
import { Command } from 'commander'
import { lookIntoBackup } from '../../library/custody/backups.ts'
import { restoreBackup } from '../../library/custody/restore.ts'
import { makeOutput, table } from '../output.ts'
import { finishJob, finishJobs, libraryFolder, withLibrary } from '../with-library.ts'

interface Common {
  json?: boolean
  library?: string
}

const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`
const when = (iso: string) => iso.slice(0, 16).replace('T', ' ')

/** Commands about keeping: backups, restoring, rebuilding. */
export const custodyCommands = (): Command[] => [
  new Command('backup')
    .description('back the library up into one file in a folder; adds only what is new since the last time')
    .argument('<folder>', 'where to, for example on another drive')
    .action(async (folder: string, options: Common) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const { jobId } = await library.ask('backup.make', { folder: path.resolve(folder) })
        const { result } = await finishJob(library, jobId, 'stopped.backup')
        const [newest, ...others] = lookIntoBackup(result!)
        const { damagedClips } = await library.ask('backup.state', {})
        output.result({ file: result, ...newest, damagedClips }, [
          `Backed up ${newest!.students} students, ${newest!.lessons} lessons, ${newest!.clips} clips (${megabytes(newest!.byteLength)}), read back and in order.`,
          `File: ${result}${others.length ? `, with ${others.length} earlier backups` : ''}`,
          ...(damagedClips.length > 0
            ? [
                `Not as they were taken in, and backed up as they are now: ${damagedClips.join(', ')}. leadside check --repair looks for better copies.`,
              ]
            : []),
        ])
      })
    }),
  new Command('restore')
    .description('make a library from a backup; a library that is there is set aside, never overwritten')
    .argument('<file>', 'backup file')
    .option('--list', 'only say what is in it')
    .option('--backup <id>', 'which of them (the start of its id); else the newest')
    .action(async (file: string, options: Common & { list?: boolean; backup?: string }) => {
      const output = makeOutput(Boolean(options.json))
      const from = path.resolve(file)
      if (options.list) {
        const all = lookIntoBackup(from)
        output.result(
          all,
          table(
            ['id', 'made (UTC)', 'students', 'lessons', 'clips', 'size', ''],
            all.map((s) => [
              s.id.slice(0, 8),
              when(s.madeAt),
              String(s.students),
              String(s.lessons),
              String(s.clips),
              megabytes(s.byteLength),
              s.isVerified ? '' : 'not read back',
            ]),
          ),
        )
        return
      }
      const folder = libraryFolder(options.library)
      let said = ''
      const { aside, snapshot } = await restoreBackup({
        file: from,
        snapshotId: options.backup ?? null,
        folder,
        now: new Date(),
        say: (step) => {
          if (step !== said) output.say(`  ${step}`)
          said = step
        },
      })
      output.result({ folder, aside, snapshot }, [
        `Restored the backup of ${when(snapshot.madeAt)} UTC: ${snapshot.students} students, ${snapshot.lessons} lessons, ${snapshot.clips} clips.`,
        `Library: ${folder}`,
        ...(aside ? [`The library that was there is now: ${aside}`] : []),
      ])
    }),
  new Command('rebuild')
    .description(
      'go on with records that don’t fit the files: clips they don’t know come into a lesson of their own',
    )
    .action(async (options: Common) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(
        options.library,
        output,
        async (library) => {
          const jobs = await finishJobs(
            library,
            library.context.jobs
              .list()
              .filter((job) => job.kind === 'add-clip' && /waiting|running/.test(job.state))
              .map((job) => job.id),
          )
          const done = jobs.filter((job) => job.state === 'done').length
          output.result({ takenIn: done, failed: jobs.length - done }, [
            jobs.length === 0
              ? 'No clips were unknown.'
              : `${done} of ${jobs.length} unknown clips are now in the lesson “Found clips”; what failed stays in set-aside.`,
          ])
        },
        { rebuild: true },
      )
    }),
]
