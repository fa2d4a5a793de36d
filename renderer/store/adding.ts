import { questionsOf, type ShotsPreview } from './shots-preview.ts'
import { ask, bridge } from './bridge.ts'
import { openDialog } from './app-store.ts'
import { reload } from './desk-store.ts'
import { sayNews, sayProblem, telling } from './messages.ts'
import { Problem } from '../../shared-core/problem.ts'
import { phrase } from '../../shared-core/wording/phrase.ts'
import { newsWords } from '../../shared-core/wording/window/news.ts'

const looksLikeTable = /\.(csv|tsv|txt|tab)$/i

export const addClips = async (lessonId: string, files: string[]) => {
  if (files.length === 0) return
  await telling(ask('clips.add', { lessonId, files }))
}

export const addClipsByDialog = async (lessonId: string) => {
  const files = await telling(bridge().pickFiles('clips'))
  if (files) await addClips(lessonId, files)
}

export const addShotsByDialog = async (lessonId: string) => {
  const files = await telling(bridge().pickFiles('shots'))
  await addTables(lessonId, files ?? [])
}

/** Adds files of shot records one after the other; asks first if a column or a unit of one is not certain, or rows stand twice. */
export const addTables = async (lessonId: string, files: readonly string[]): Promise<void> => {
  const [file, ...rest] = files
  if (file === undefined) return
  const preview = await telling(ask('shots.preview', { file }))
  if (preview !== null) {
    // Of a table without lines there is nothing to ask; adding it says what is wrong.
    const { shots, problems, doubledLines } = preview as ShotsPreview
    const hasLines = shots.length > 0 || problems.some((p) => p.kind === 'row')
    if (hasLines && (questionsOf(preview).length > 0 || doubledLines.length > 0)) {
      openDialog({ name: 'add-shots', lessonId, file, rest })
      return
    }
    await addShots(lessonId, file, {})
  }
  await addTables(lessonId, rest)
}

export const addShots = async (lessonId: string, file: string, options: Record<string, unknown>) => {
  const done = await telling(ask('shots.add', { lessonId, file, options }))
  if (!done) return
  await reload()
  const again = done.alreadyThere > 0 ? newsWords('alreadyThere', { alreadyThere: done.alreadyThere }) : ''
  const twice = done.doubled > 0 ? newsWords('twiceInFile', { doubled: done.doubled }) : ''
  const paired = done.pairs > 0 ? newsWords('paired', { pairs: done.pairs }) : ''
  sayNews(
    done.added === 0
      ? newsWords('allAlreadyThere', { alreadyThere: done.alreadyThere })
      : newsWords('shotsAdded', { added: done.added, again, twice, paired }),
  )
  const isNews = (kind: string) => kind === 'cell' || kind === 'row'
  for (const { line, column, message } of done.problems.filter((p) => isNews(p.kind)).slice(0, 3)) {
    const where = column ? phrase('place.lineAndColumn', { line, column }) : phrase('place.line', { line })
    sayProblem(new Problem('shot-row', { message, where }))
  }
}

/** Files dropped on the window: clips and shot records are told apart by their names. */
export const addDropped = async (lessonId: string, files: readonly File[]) => {
  const paths = files.map((file) => bridge().pathOf(file)).filter(Boolean)
  const tables = paths.filter((p) => looksLikeTable.test(p))
  await addClips(
    lessonId,
    paths.filter((p) => !looksLikeTable.test(p)),
  )
  await addTables(lessonId, tables)
}

const pastedTypes = { 'image/png': 'png', 'image/jpeg': 'jpg', 'image/webp': 'webp' } as const

/** A picture from the clipboard comes into the lesson; true if there was one. */
export const addPasted = (lessonId: string, data: DataTransfer): boolean => {
  const file = [...data.files].find((f) => f.type in pastedTypes)
  if (!file) return false
  const work = async () => {
    const own = bridge().pathOf(file)
    if (own) return addClips(lessonId, [own])
    const extension = pastedTypes[file.type as keyof typeof pastedTypes]
    const kept = await bridge().keepRecording(await file.arrayBuffer(), extension)
    await ask('clips.add', { lessonId, files: [kept], name: newsWords('pastedPicture') })
  }
  void telling(work())
  return true
}
