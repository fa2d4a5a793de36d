import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import type { LibraryContext } from '../context.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'
import { impactFrame } from '../queries/impact-frame.ts'
import { makeParts } from '../jobs/keep-media.ts'
import type { JobRun } from '../jobs/queue.ts'
import { isStillName, makeStillParts } from '../media/still-picture.ts'
import { factsAsKept } from '../media/fields.ts'
import { probeClip } from '../media/probe.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { backupFiles } from './backups.ts'
import { BackupFile } from './backup-file.ts'
import { fileFaults } from './check-files.ts'
import { deleteSetAside, listSetAside, setAside, setAsideFile } from './set-aside.ts'
import { hashOf } from '../media/copy.ts'
import { phrase, said, semicolons, type Word } from '../../../shared-core/wording/phrase.ts'

/**
 * Makes again what can be: working copies and pictures from the originals, originals from what was set aside and from
 * backups that are at hand. A damaged original is set aside, never deleted. The result says what was done, in words.
 */
export const repair = async (context: LibraryContext, run: JobRun): Promise<Word> => {
  const { db, paths, folder } = context
  const work = path.join(paths.incoming, run.id)
  let [originals, parts, lost] = [0, 0, 0]
  run.say(phrase('step.looking'), 0)
  const faults = await fileFaults(
    context,
    (share) => run.say(phrase('step.looking'), 0.4 * share),
    run.signal,
  )
  const fetch = fetcher(context)
  try {
    for (const [i, fault] of faults.entries()) {
      if (run.signal.aborted) throw new Cancelled()
      run.say(phrase('step.makingMissing'), 0.4 + (0.6 * i) / faults.length)
      const media = db.select().from(t.media).where(eq(t.media.hash, fault.hash)).get()
      if (!media) continue
      fs.rmSync(work, { recursive: true, force: true })
      fs.mkdirSync(work, { recursive: true })
      const original = paths.original(media.hash, media.extension)
      if (fault.original !== null) {
        const found = path.join(work, `original${media.extension}`)
        const source = await fetch(media.hash, found)
        if (source === null) {
          lost += 1
          continue
        }
        setAside(folder, [{ file: original, kind: 'clip', why: phrase('aside.bytes') }], context.now())
        fs.renameSync(found, original)
        // Only now: a kill before this leaves it where it was.
        deleteSetAside(folder, (entry) => entry.name === source.aside)
        originals += 1
      }
      if (fault.parts.length === 0) continue
      const clipName = said('name.clipNumbered', { name: media.hash.slice(0, 8) })
      const options = { programs: await context.mediaPrograms(), clipName, signal: run.signal }
      if (isStillName(original)) {
        const { parts: remade } = await makeStillParts(original, work, options)
        for (const part of fault.parts) {
          fs.renameSync(remade[part], paths[part](media.hash))
          parts += 1
        }
        continue
      }
      const read = factsAsKept(await probeClip(original, options), media.frameCount)
      // The timestamps that marks and drawings rest on are those that were kept.
      const facts = { ...read, frameCount: media.frameCount, atSeconds: asFloat64(media.timestamps) }
      const made = await makeParts(
        { copy: original, work, facts, posterFrame: impactFrame(context, media.hash) },
        { say: () => {} },
        options,
      )
      for (const part of fault.parts) {
        const file = made[part]
        if (file === null) continue
        fs.renameSync(file, paths[part](media.hash))
        parts += 1
      }
    }
  } finally {
    fetch.close()
    fs.rmSync(work, { recursive: true, force: true })
  }
  if (originals + parts + lost === 0) return phrase('result.inOrder')
  return semicolons(
    parts > 0 ? phrase('result.madeAgain', { n: parts }) : null,
    originals > 0 ? phrase('result.broughtBack', { n: originals }) : null,
    lost > 0 ? phrase('result.lost', { n: lost }) : null,
  )
}

/** Looks for a clip's bytes in `set-aside`, then in the backups; opened files are closed at the end. */
const fetcher = (context: LibraryContext) => {
  const { folder } = context
  let backups: BackupFile[] | null = null
  const open = () =>
    backupFiles(context)
      .filter((backup) => backup.isThere)
      .flatMap(({ file }) => {
        try {
          return [BackupFile.open(file)]
        } catch {
          return []
        }
      })
  /** Null if it is nowhere; else the name in `set-aside` it came from, if it came from there. */
  const fetch = async (hash: string, target: string): Promise<{ aside: string | null } | null> => {
    for (const { name } of listSetAside(folder).filter((entry) => entry.hash === hash)) {
      const file = setAsideFile(folder, name)
      if (file === null || (await hashOf(file)) !== hash) continue
      fs.copyFileSync(file, target)
      return { aside: name }
    }
    backups ??= open()
    for (const backup of backups) {
      try {
        if (!backup.has(hash)) continue
        await backup.writeTo(hash, target)
        return { aside: null }
      } catch {
        // Damaged there as well; another backup may have it.
        fs.rmSync(target, { force: true })
      }
    }
    return null
  }
  return Object.assign(fetch, { close: () => backups?.forEach((backup) => backup.close()) })
}
