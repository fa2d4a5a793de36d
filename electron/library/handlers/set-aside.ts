import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import { takeBack } from '../custody/rebuild.ts'
import { askAfterDays, deleteSetAside, listSetAside } from '../custody/set-aside.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { sayKept } from '../../../shared-core/wording/phrase.ts'

const dayMs = 24 * 3600 * 1000

export const setAsideHandlers = (context: LibraryContext): HandlersNamed<'setAside'> => {
  const { db, folder } = context

  return {
    'setAside.list': () =>
      listSetAside(folder).map(({ name, kind, byteLength, setAsideAt, why }) => ({
        name,
        kind,
        byteLength,
        setAsideAt,
        why: sayKept(why),
        isOld: context.now().getTime() - Date.parse(setAsideAt) > askAfterDays * dayMs,
      })),
    'setAside.takeBack': ({ name, lessonId }) => {
      lessonRow(db, lessonId)
      const jobId = takeBack(context, name, lessonId)
      if (jobId === null) {
        throw new Problem('gone.setAside', { where: name })
      }
      return { jobId }
    },
    'setAside.delete': ({ names }) => {
      const gone = deleteSetAside(folder, ({ name }) => names.includes(name))
      return { filesDeleted: gone.length, bytes: gone.reduce((sum, { byteLength }) => sum + byteLength, 0) }
    },
  }
}
