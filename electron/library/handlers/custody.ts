import { statSync } from 'node:fs'
import path from 'node:path'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import type { custodyCalls } from '../../../shared-core/contract/custody.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { troubleWords } from '../custody/inspect.ts'
import { backupFiles, backupState, lookIntoBackup } from '../custody/backups.ts'
import { migrationCopies } from '../custody/migration-copies.ts'
import { takeBack } from '../custody/rebuild.ts'
import { askAfterDays, deleteSetAside, listSetAside } from '../custody/set-aside.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'

const dayMs = 24 * 3600 * 1000

export const custodyHandlers = (context: LibraryContext): Pick<Handlers, keyof typeof custodyCalls> => {
  const { folder, db, jobs } = context
  return {
    'library.state': () => {
      const { trouble } = context
      return {
        trouble: trouble && { ...trouble, words: troubleWords(trouble) },
        isThere: statSync(folder, { throwIfNoEntry: false }) !== undefined,
      }
    },
    'library.repair': () => ({ jobId: jobs.add('repair', null, 'Repair', {}) }),
    'backup.state': () => ({
      ...backupState(context),
      files: backupFiles(context),
      copies: migrationCopies(folder).map((file) => path.basename(file)),
    }),
    'backup.make': ({ folder: target }) => ({
      jobId: jobs.add('backup', null, 'Backup', { folder: path.resolve(target) }),
    }),
    'backup.look': ({ file }) => lookIntoBackup(file),
    'setAside.list': () =>
      listSetAside(folder).map(({ name, kind, byteLength, setAsideAt, why }) => ({
        name,
        kind,
        byteLength,
        setAsideAt,
        why,
        isOld: context.now().getTime() - Date.parse(setAsideAt) > askAfterDays * dayMs,
      })),
    'setAside.takeBack': ({ name, lessonId }) => {
      lessonRow(db, lessonId)
      const jobId = takeBack(context, name, lessonId)
      if (jobId === null) {
        throw new Problem('gone', 'this file is no longer among those set aside', { where: name })
      }
      return { jobId }
    },
    'setAside.delete': ({ names }) => {
      const gone = deleteSetAside(folder, ({ name }) => names.includes(name))
      return { filesDeleted: gone.length, bytes: gone.reduce((sum, { byteLength }) => sum + byteLength, 0) }
    },
  }
}
