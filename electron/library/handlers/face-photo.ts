import { randomUUID } from 'node:crypto'
import { and, eq, isNull, ne } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const facePhotoHandlers = (context: LibraryContext): HandlersNamed<'facePhoto'> => {
  const { db, sqlite, journal } = context

  return {
    'facePhoto.save': ({ id, ...photo }) => {
      lessonRow(db, photo.lessonId)
      if (id !== null && lessonOf(sqlite, 'face_photo', id) !== photo.lessonId) {
        throw new Problem('bad-input.photoElsewhere')
      }
      const { clipId } = photo
      const clip = clipId === null ? undefined : db.select().from(t.clip).where(eq(t.clip.id, clipId)).get()
      const isStill = clip?.lessonId === photo.lessonId && clip.stillKind !== null
      // Only a photo of before there were still pictures is none.
      const isOld = id !== null && clipId === null && photo.pictureId !== null
      if (!isOld && (!isStill || photo.pictureId !== null)) throw new Problem('bad-input.faceIsNoStill')
      const kept = id ?? randomUUID()
      const label = phrase(id === null ? 'edit.addFacePhoto' : 'edit.markFace')
      journal.run({ lessonId: photo.lessonId, label, mergeKey: `face:${kept}` }, () => {
        const ofClub = photo.club === null ? isNull(t.facePhoto.club) : eq(t.facePhoto.club, photo.club)
        db.delete(t.facePhoto)
          .where(and(eq(t.facePhoto.lessonId, photo.lessonId), ofClub, ne(t.facePhoto.id, kept)))
          .run()
        db.insert(t.facePhoto)
          .values({ id: kept, ...photo })
          .onConflictDoUpdate({ target: t.facePhoto.id, set: photo })
          .run()
      })
      return { id: kept }
    },
    'facePhoto.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'face_photo', id)
      journal.run({ lessonId, label: phrase('edit.removeFacePhoto') }, () =>
        db.delete(t.facePhoto).where(eq(t.facePhoto.id, id)).run(),
      )
      return {}
    },
  }
}
