import type { Page } from 'playwright-core'
import type { OpenLesson } from '../../shared-core/model/entities.ts'

/** The lesson as the library has it, asked through the window's own bridge. */
export const lessonOf = (page: Page): Promise<OpenLesson> =>
  page.evaluate(async () => {
    const lessonId = decodeURIComponent(location.hash.split('/').at(-1)!)
    const lesson = await window.leadside.ask('lesson.open', { lessonId })
    if (!lesson.ok) throw new Error(lesson.problem.what)
    return lesson.output
  })

/** Waits until the library's lesson is as wanted; the lesson then. */
export const untilLesson = async (
  page: Page,
  what: string,
  isSo: (lesson: OpenLesson) => boolean,
  seconds = 30,
): Promise<OpenLesson> => {
  const end = Date.now() + seconds * 1000
  for (;;) {
    const lesson = await lessonOf(page)
    if (isSo(lesson)) return lesson
    if (Date.now() > end) throw new Error(`the lesson never came to be: ${what}`)
    await page.waitForTimeout(100)
  }
}
