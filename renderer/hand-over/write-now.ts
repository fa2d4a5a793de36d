import { openDialog, saveSettings, useApp } from '../store/app-store.ts'
import { ask, bridge } from '../store/bridge.ts'
import { sayNews, telling } from '../store/messages.ts'
import { saveNow } from './composer-store.ts'
import { writeWords } from '../../shared-core/wording/window/write-hand-over.ts'

/** Where the last hand-over went, else the coach's documents. */
export const usualFolder = async (): Promise<string> =>
  useApp.getState().settings.handOverFolder ?? bridge().documentsFolder()

/** Starts writing; what is shown while it is written says how large it is. */
export const startWriting = async (
  lessonId: string,
  folder: string,
  consentSaidBy: string | null,
): Promise<boolean> => {
  if (!(await telling(ask('handOver.write', { lessonId, folder, consentSaidBy })))) return false
  if (useApp.getState().settings.handOverFolder !== folder) void saveSettings({ handOverFolder: folder })
  sayNews(writeWords('writingTo', { folder }))
  return true
}

/**
 * What writing would have to ask first: a yes that is not on record, or frames that go out without a cover. Asked anew: the
 * page beside the parts may be from before the student's card was changed.
 */
const mustBeAsked = async (lessonId: string): Promise<boolean> => {
  const now = await telling(ask('handOver.preview', { lessonId, isQuick: true }))
  return !now || now.needsConsent !== null || (now.covers?.uncovered ?? 0) > 0
}

/** One press: writes to the usual folder with what is composed; opens the dialog only where something must be asked. */
export const writeNow = async (lessonId: string): Promise<void> => {
  // The package is made from what is in the library: nothing typed may still be on its way.
  if (!(await saveNow())) return
  if (await mustBeAsked(lessonId)) openDialog({ name: 'write-hand-over', lessonId })
  else await startWriting(lessonId, await usualFolder(), null)
}
