import { inArray } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { copiesIn, copyName } from '../deletion/copies.ts'
import { lessonFileState, packageState } from '../deletion/packages.ts'
import { givenFiles, hashesOnlyOf, lessonIdsOf, writtenPackages } from '../deletion/plan.ts'

export const deletionHandlers = (context: LibraryContext): HandlersNamed<'deletion'> => {
  const { db } = context

  return {
    'deletion.look': (of) => {
      const lessonIds = 'studentId' in of ? lessonIdsOf(context, of.studentId) : [of.lessonId]
      const hashes = hashesOnlyOf(context, lessonIds)
      const media = db.select().from(t.media).where(inArray(t.media.hash, hashes)).all()
      return {
        lessons: lessonIds.length,
        clips: hashes.length,
        bytes: media.reduce((sum, { byteLength }) => sum + byteLength, 0),
        packages: writtenPackages(context, lessonIds).map((written) => ({
          folder: written.folder,
          isThere: packageState(written) !== 'gone',
        })),
        lessonFiles: givenFiles(context, lessonIds).map((given) => ({
          file: given.file,
          isThere: lessonFileState(given) !== 'gone',
        })),
        copies: copiesIn(context.folder).map((file) => copyName(context.folder, file)),
      }
    },
  }
}
