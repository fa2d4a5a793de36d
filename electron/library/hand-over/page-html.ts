import { renderToStaticMarkup } from 'react-dom/server'
import { handOverPage, type PageContent } from '../../../shared-core/hand-over/page.ts'

/** The student's page as the file it is written to. Every text in it is escaped by React. */
export const pageHtml = (content: PageContent): string =>
  `<!doctype html>\n${renderToStaticMarkup(handOverPage(content))}\n`
