import fs from 'node:fs'
import { pageProse } from '../../../shared-core/hand-over/page-prose.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { readingEase } from '../../../shared-core/report/reading-ease.ts'
import { inStudentWords } from '../../../shared-core/report/student-words.ts'
import { sayIn } from '../../../shared-core/wording/say.ts'
import { pageLength, type PageLength } from '../../library/hand-over/page-length.ts'
import { findElectron } from '../electron-in-use.ts'
import { pageLinesTexts } from '../../../shared-core/wording/command-line/page-lines.ts'

/** Width of a common phone, CSS pixels (common practice, no source). */
const phoneWidthPx = 390

interface PageFacts {
  /** Null where there is no Electron, or no display for it. */
  length: PageLength | null
  whyNotMeasured: string | null
  /** Flesch's reading ease: of all that is read on the page, and of every finding in the student's words. */
  readingEase: { page: number | null; findings: number | null }
}

/** How long the student's page is on a phone, and how easily its English reads (the formula is made for English). */
export const pageFacts = async (htmlFile: string, report: LessonReport): Promise<PageFacts> => {
  const findings = inStudentWords(report, sayIn('en')).findings.map((f) => `${f.sentence} ${f.howSure}`)
  const ease = {
    page: readingEase(pageProse(fs.readFileSync(htmlFile, 'utf8'))),
    findings: readingEase(findings.join(' ')),
  }
  const electron = findElectron()
  if (electron === null) {
    const whyNotMeasured = pageLinesTexts('noElectronWithDisplay')
    return { length: null, whyNotMeasured, readingEase: ease }
  }
  try {
    const length = await pageLength(electron, htmlFile, phoneWidthPx)
    return { length, whyNotMeasured: null, readingEase: ease }
  } catch (error) {
    const whyNotMeasured = error instanceof Error ? error.message : String(error)
    return { length: null, whyNotMeasured, readingEase: ease }
  }
}

const whole = (value: number | null): string =>
  value === null ? pageLinesTexts('noWords') : value.toFixed(0)

export const pageLines = ({ length, whyNotMeasured, readingEase: ease }: PageFacts): string[] => [
  length === null
    ? pageLinesTexts('pageNotMeasured', { whyNotMeasured: whyNotMeasured ?? '' })
    : pageLinesTexts('pageLength', { heightPx: length.heightPx, widthPx: length.widthPx }),
  pageLinesTexts('readingEase', { page: whole(ease.page), findings: whole(ease.findings) }),
]
