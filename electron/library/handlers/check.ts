import fs from 'node:fs'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import { migrations } from '../migrations/index.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { hashOf } from '../media/copy.ts'
import { isOld } from '../media/ffmpeg-path.ts'

type Names = 'library.info' | 'library.check' | 'demo.load'

export const checkHandlers = (context: LibraryContext): Pick<Handlers, Names> => {
  const { db, sqlite, paths } = context
  return {
    'library.info': () => {
      const isEmpty = db.select().from(t.student).all().length === 0
      return { folder: context.folder, isEmpty, schemaVersion: migrations.length, demoOffered: isEmpty }
    },
    'library.check': async () => {
      const lines: { ok: boolean; text: string }[] = []
      const say = (ok: boolean, text: string) => lines.push({ ok, text })
      try {
        const programs = await context.mediaPrograms()
        for (const name of ['ffmpeg', 'ffprobe'] as const) {
          const { version, from, file } = programs[name]
          const old = isOld(programs[name])
            ? ' (old: it crashes on some damaged files; README says how to get a newer one)'
            : ''
          say(true, `${name} ${version}, from ${from}: ${file}${old}`)
        }
      } catch (error) {
        say(false, (error as Error).message)
      }
      const integrity = String(sqlite.pragma('integrity_check', { simple: true }))
      say(integrity === 'ok', `database integrity: ${integrity}`)
      const broken = (sqlite.pragma('foreign_key_check') as unknown[]).length
      say(broken === 0, `references between records: ${broken === 0 ? 'ok' : `${broken} broken`}`)
      const all = db.select().from(t.media).all()
      let bad = 0
      for (const media of all) {
        const file = paths.original(media.hash, media.extension)
        if (!fs.existsSync(file)) {
          bad += 1
          say(false, `clip file missing: ${file}`)
        } else if ((await hashOf(file)) !== media.hash) {
          bad += 1
          say(false, `clip file differs from its hash: ${file}`)
        }
        if (media.hasProxy && !fs.existsSync(paths.proxy(media.hash))) {
          bad += 1
          say(false, `working copy missing: ${paths.proxy(media.hash)}`)
        }
      }
      say(bad === 0, `clip files against their hashes: ${all.length - bad} of ${all.length} in order`)
      return { lines, isSound: lines.every((l) => l.ok) }
    },
    'demo.load': () => ({ jobId: context.jobs.add('demo', null, 'Demo lesson', {}) }),
  }
}
