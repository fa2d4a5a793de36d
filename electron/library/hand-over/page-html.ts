import { handOverPage, type PageContent } from '../../../shared-core/hand-over/page.ts'

/** The student's page as the file it is written to. Every text in it is escaped by React. */
export const pageHtml = async (content: PageContent): Promise<string> => {
  // A megabyte that the library's start must not wait for.
  const { renderToStaticMarkup } = await import('react-dom/server')
  return `<!doctype html>\n${renderToStaticMarkup(handOverPage(content))}\n`
}
