import path from 'node:path'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import { backupFiles, backupState, damagedInBackup, lookIntoBackup } from '../custody/backups.ts'
import { migrationCopies } from '../custody/migration-copies.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const backupHandlers = (context: LibraryContext): HandlersNamed<'backup'> => {
  const { jobs, folder } = context

  return {
    'backup.state': () => ({
      ...backupState(context),
      files: backupFiles(context),
      damagedClips: damagedInBackup(context),
      copies: migrationCopies(folder).map((file) => path.basename(file)),
    }),
    'backup.make': ({ folder: target }) => ({
      jobId: jobs.add('backup', null, phrase('job.backup'), { folder: path.resolve(target) }),
    }),
    'backup.look': ({ file }) => lookIntoBackup(file),
  }
}
