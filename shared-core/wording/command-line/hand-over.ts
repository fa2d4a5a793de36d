import { windowWords } from '../window/window-words.ts'

/** Words of the command line: hand-over. */
export const handOverTexts = windowWords({
  // hand-over
  writeLessonPackageFor: 'write the lesson package for the student',
  folderInWhichPackage: 'folder in which the package is written',
  whoSaysYesIf: 'who says yes, if no consent to filming is recorded',
  package: 'Package: {folder}',
  zip: 'Zip:     {zip} ({byteLength} MB)',
})
