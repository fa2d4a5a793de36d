import { execFileSync } from 'node:child_process'

/** Are poppler's tools here, which read a PDF's pages, words and fonts? */
export const hasPoppler = (): boolean => {
  try {
    execFileSync('pdfinfo', ['-v'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
}
