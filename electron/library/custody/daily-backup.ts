import fs from 'node:fs'
import { localDay } from '../../../shared-core/model/local-day.ts'
import type { LibraryContext } from '../context.ts'
import { backupFiles } from './backups.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

/** Not while the coach is just beginning. */
const afterOpeningMs = 60_000
/** A drive that is not there, or a backup that failed, is tried again this much later. */
const againMs = 30 * 60_000

/**
 * Makes a backup by itself, once a day, into the folder that the coach has chosen; `look` is called often and costs next to
 * nothing.
 */
export const dailyBackup = (context: LibraryContext, afterMs = afterOpeningMs) => {
  let next = context.now().getTime() + afterMs
  return {
    look: () => {
      const now = context.now()
      if (now.getTime() < next) return
      next = now.getTime() + againMs
      const { backupFolder } = context.settings()
      if (context.trouble || backupFolder === null || context.jobs.isBusy) return
      const last = backupFiles(context)[0]?.madeAt
      if (last && localDay(new Date(last)) === localDay(now)) return
      // The drive is somewhere else just now; a folder is not made in its place.
      if (!fs.existsSync(backupFolder)) return
      context.jobs.add('backup', null, phrase('job.backupOfTheDay'), { folder: backupFolder })
    },
  }
}
