import { windowWords } from '../window/window-words.ts'

/** Words of the command line: page-lines. */
export const pageLinesTexts = windowWords({
  // page-lines
  noElectronWithDisplay: 'there is no Electron with a display here yet; npm start fetches one',
  noWords: 'no words',
  pageNotMeasured: 'Student’s page: its length was not measured: {whyNotMeasured}',
  pageLength: 'Student’s page: {heightPx} px long on a phone {widthPx} px wide',
  readingEase:
    'Reading ease (Flesch 1948; 70 and more is easy): the page {page}, all findings in the student’s words {findings}',
})
