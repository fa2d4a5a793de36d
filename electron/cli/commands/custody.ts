import path from 'node:path'
import { Command } from 'commander'
import { lookIntoBackup } from '../../library/custody/backups.ts'
import { restoreBackup } from '../../library/custody/restore.ts'
import { headings, makeOutput, table } from '../output.ts'
import { finishJob, finishJobs, libraryFolder, withLibrary } from '../with-library.ts'
import { commonTexts } from '../../../shared-core/wording/command-line/common.ts'
import { custodyTexts } from '../../../shared-core/wording/command-line/custody.ts'

interface Common {
  json?: boolean
  library?: string
}

const megabytes = (bytes: number) => custodyTexts('megabytes', { bytes: (bytes / 1e6).toFixed(1) })
const when = (iso: string) => iso.slice(0, 16).replace('T', ' ')

/** Commands about keeping: backups, restoring, rebuilding. */
export const custodyCommands = (): Command[] => [
  new Command('backup')
    .description(custodyTexts('backLibraryUpInto'))
    .argument('<folder>', custodyTexts('whereToForExample'))
    .action(async (folder: string, options: Common) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const { jobId } = await library.ask('backup.make', { folder: path.resolve(folder) })
        const { result } = await finishJob(library, jobId, 'stopped.backup')
        const [newest, ...others] = lookIntoBackup(result!)
        const { damagedClips } = await library.ask('backup.state', {})
        output.result({ file: result, ...newest, damagedClips }, [
          custodyTexts('backedUpStudents', {
            students: newest!.students,
            lessons: newest!.lessons,
            clips: newest!.clips,
            byteLength: megabytes(newest!.byteLength),
          }),
          others.length
            ? custodyTexts('fileWithEarlier', { file: result!, earlier: others.length })
            : custodyTexts('file', { file: result! }),
          ...(damagedClips.length > 0
            ? [custodyTexts('notAsTheyWere', { damagedClips: damagedClips.join(', ') })]
            : []),
        ])
      })
    }),
  new Command('restore')
    .description(custodyTexts('makeLibraryFromBackup'))
    .argument('<file>', custodyTexts('backupFile'))
    .option('--list', commonTexts('onlySayWhatIn'))
    .option('--backup <id>', custodyTexts('whichThemStartId'))
    .action(async (file: string, options: Common & { list?: boolean; backup?: string }) => {
      const output = makeOutput(Boolean(options.json))
      const from = path.resolve(file)
      if (options.list) {
        const all = lookIntoBackup(from)
        output.result(
          all,
          table(
            [...headings('id', 'madeUtc', 'students', 'lessons', 'clips', 'size'), ''],
            all.map((s) => [
              s.id.slice(0, 8),
              when(s.madeAt),
              String(s.students),
              String(s.lessons),
              String(s.clips),
              megabytes(s.byteLength),
              s.isVerified ? '' : custodyTexts('notReadBack'),
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
        custodyTexts('restoredBackupMadeAtUtc', {
          madeAt: when(snapshot.madeAt),
          students: snapshot.students,
          lessons: snapshot.lessons,
          clips: snapshot.clips,
        }),
        custodyTexts('libraryFolder', { folder }),
        ...(aside ? [custodyTexts('libraryNowAside', { aside })] : []),
      ])
    }),
  new Command('rebuild').description(custodyTexts('goOnWithRecords')).action(async (options: Common) => {
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
            ? custodyTexts('noClipsWereUnknown')
            : custodyTexts('doneJobsUnknownClips', { done, jobs: jobs.length }),
        ])
      },
      { rebuild: true },
    )
  }),
]
