import { statSync } from 'node:fs'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import { keepingLines } from '../custody/check-files.ts'
import { troubleWords } from '../custody/inspect.ts'
import * as t from '../database/schema.ts'
import { isOld } from '../media/ffmpeg-path.ts'
import { migrations } from '../migrations/index.ts'
import { phrase, said } from '../../../shared-core/wording/phrase.ts'

export const libraryHandlers = (context: LibraryContext): HandlersNamed<'library'> => {
  const { db, folder, sqlite, jobs } = context

  return {
    'library.info': () => {
      const isEmpty = db.select().from(t.student).all().length === 0
      return { folder, isEmpty, schemaVersion: migrations.length, demoOffered: isEmpty }
    },
    'library.check': async () => {
      const lines: { ok: boolean; text: string }[] = []
      const say = (ok: boolean, text: string) => lines.push({ ok, text })
      try {
        const programs = await context.mediaPrograms()
        for (const name of ['ffmpeg', 'ffprobe'] as const) {
          const { version, from, file } = programs[name]
          const which = isOld(programs[name]) ? 'check.oldProgram' : 'check.program'
          say(true, said(which, { name, version, from, file }))
        }
      } catch (error) {
        say(false, (error as Error).message)
      }
      const integrity = String(sqlite.pragma('integrity_check', { simple: true }))
      say(integrity === 'ok', said('check.integrity', { answer: integrity }))
      const broken = (sqlite.pragma('foreign_key_check') as unknown[]).length
      say(
        broken === 0,
        broken === 0 ? said('check.references') : said('check.brokenReferences', { n: broken }),
      )
      lines.push(...(await keepingLines(context)))
      if (context.trouble) say(false, troubleWords(context.trouble))
      return { lines, isSound: lines.every((l) => l.ok) }
    },
    'library.state': () => {
      const { trouble } = context
      return {
        trouble: trouble && { ...trouble, words: troubleWords(trouble) },
        isThere: statSync(folder, { throwIfNoEntry: false }) !== undefined,
      }
    },
    'library.repair': () => ({ jobId: jobs.add('repair', null, phrase('job.repair'), {}) }),
  }
}
