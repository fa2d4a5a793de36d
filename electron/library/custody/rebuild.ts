import { randomUUID } from 'node:crypto'
import { noConsent } from '../../../shared-core/model/entities.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { listSetAside, setAsideFile } from './set-aside.ts'
import { phrase, said, sayWord, sentences } from '../../../shared-core/wording/phrase.ts'

/** Name under which clips are taken in that no record speaks of. */
export const foundName = said('name.foundClips')

/** Takes a clip of `set-aside` into a lesson, as a job; it leaves `set-aside` when the lesson has it. */
export const takeBack = (
  { jobs, folder }: Pick<LibraryContext, 'jobs' | 'folder'>,
  name: string,
  lessonId: string,
) => {
  const file = setAsideFile(folder, name)
  if (file === null) return null
  return jobs.add('add-clip', lessonId, phrase('job.clipSetAside', { name: name.slice(0, 8) }), {
    file,
    lessonId,
    setAside: name,
    name: said('name.setAside', { name: name.slice(0, 8) }),
  })
}

/** Rebuilds what can be: every clip that was set aside comes into one lesson of a student called `foundName`. */
export const takeInUnknown = (context: LibraryContext): string[] => {
  const clips = listSetAside(context.folder).filter((entry) => entry.kind === 'clip')
  if (clips.length === 0) return []
  const studentId = randomUUID()
  const lessonId = randomUUID()
  const { db } = context
  db.insert(t.student)
    .values({
      id: studentId,
      name: foundName,
      side: 'right',
      consent: noConsent,
      createdAt: context.now().toISOString(),
      note: sayWord(
        sentences(
          phrase('text.stop', { text: phrase('aside.unspoken') }),
          phrase('text.stop', { text: phrase('aside.unknownPeople') }),
        ),
      ),
    })
    .run()
  db.insert(t.lesson)
    .values({
      id: lessonId,
      studentId,
      date: localDay(context.now()),
      title: foundName,
      micDistanceM: context.settings().micDistanceM,
    })
    .run()
  context.journal.bump(lessonId)
  return clips.flatMap(({ name }) => takeBack(context, name, lessonId) ?? [])
}
