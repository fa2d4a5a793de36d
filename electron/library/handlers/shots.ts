import { readFile, stat } from 'node:fs/promises'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { decodeText } from '../../../shared-core/shots/decode-text.ts'
import type { ReadShotsOptions } from '../../../shared-core/shots/read-shots-options.ts'
import { readShots, type ShotsReading } from '../../../shared-core/shots/read-shots.ts'
import { orderWords } from '../../../shared-core/shots/shot-order.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { blocksFromShots } from '../queries/blocks-from-shots.ts'
import { insertShots } from '../queries/insert-shots.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { studentRow } from '../queries/open-lesson.ts'
import { orderShots } from '../queries/order-shots.ts'
import { pairLesson } from '../queries/pair-lesson.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

/** A season's shots are some hundred kilobytes; reading far more would only hold the library up. */
const largestFile = 16 * 1024 * 1024

/**
 * Reads a file of shot records.
 * @throws Problem naming the file
 */
export const readShotsFile = async (file: string, options: ReadShotsOptions = {}): Promise<ShotsReading> => {
  const name = path.basename(file)
  try {
    if ((await stat(file)).size > largestFile) {
      throw new Problem('too-large')
    }
    return readShots(decodeText(await readFile(file)).text, options)
  } catch (error) {
    if (error instanceof Problem) {
      const { place } = error
      throw error.at(place === null ? name : phrase('place.inFile', { file: name, place }))
    }
    const code = (error as NodeJS.ErrnoException).code
    if (code === 'ENOENT') throw new Problem('not-readable.missing', { where: name }, { cause: error })
    const reason = code ?? (error as Error).message
    throw new Problem('not-readable.path', { reason, where: name }, { cause: error })
  }
}

/**
 * A table from which no shot was read is said to be one, not added as nothing.
 * @throws Problem naming the file, and the first line if there is one
 */
export const expectShots = (reading: ShotsReading, file: string) => {
  if (reading.shots.length > 0) return
  const where = path.basename(file)
  const rows = reading.problems.filter((p) => p.kind === 'row')
  if (rows.length === 0) {
    throw new Problem('no-shots.noRows', { where })
  }
  const place = phrase('place.line', { line: rows[0]!.line })
  throw new Problem('no-shots.unusable', {
    count: rows.length,
    where: phrase('place.inFile', { file: where, place }),
  })
}

export const shotHandlers = (context: LibraryContext): HandlersNamed<'shots' | 'shot'> => {
  const { db, sqlite, journal } = context
  const optionsFor = (lessonId: string | null, options: ReadShotsOptions | undefined): ReadShotsOptions => ({
    ...(lessonId ? { playingSide: studentRow(db, lessonRow(db, lessonId).studentId).side } : {}),
    ...options,
  })

  return {
    'shots.preview': ({ file, options }) => readShotsFile(file, optionsFor(null, options)),
    'shots.add': async ({ lessonId, file, options }) => {
      const reading = await readShotsFile(file, optionsFor(lessonId, options))
      expectShots(reading, file)
      return journal.run({ lessonId, label: phrase('edit.addFile', { file: path.basename(file) }) }, () => {
        const added = insertShots(db, lessonId, path.basename(file), reading)
        let paired = { pairs: 0, unpairedClips: 0, unpairedShots: 0 }
        if (added > 0) {
          orderShots(db, lessonId)
          paired = pairLesson(db, lessonId)
          blocksFromShots(db, lessonId)
        }
        return {
          added,
          alreadyThere: reading.shots.length - added,
          doubled: reading.doubledLines.length,
          pairs: paired.pairs,
          unpairedClips: paired.unpairedClips,
          order: orderWords(reading.order),
          unmapped: reading.unmapped,
          problems: reading.problems,
        }
      })
    },
    'shot.update': ({ id, patch }) => {
      const lessonId = lessonOf(sqlite, 'shot', id)
      const keys = Object.keys(patch)
      if (keys.length === 0) return {}
      const label = phrase(
        patch.isLeftOut === undefined
          ? 'edit.changeShot'
          : patch.isLeftOut
            ? 'edit.leaveShotOut'
            : 'edit.takeShotIn',
      )
      journal.run({ lessonId, label, mergeKey: keys.join() === 'leftOutReason' ? `shot:${id}` : null }, () =>
        db.update(t.shot).set(patch).where(eq(t.shot.id, id)).run(),
      )
      return {}
    },
    'shots.confirmUnits': ({ lessonId }) => {
      lessonRow(db, lessonId)
      journal.run({ lessonId, label: phrase('edit.confirmUnits') }, () =>
        db.update(t.shot).set({ assumed: [] }).where(eq(t.shot.lessonId, lessonId)).run(),
      )
      return {}
    },
  }
}
