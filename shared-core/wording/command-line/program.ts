import { windowWords } from '../window/window-words.ts'

/** Words of the command line: program. */
export const programTexts = windowWords({
  // program
  machinereadableResultOn: 'machine-readable result on stdout; messages and progress on stderr',
  folderLibraryDefaultOne: 'folder of the library (default: the one of the window, or LEADSIDE_LIBRARY)',
  textIfFileWhose:
    '{text}If that is a file whose name begins with a dash, write ./-name, or put -- before it.\n',
  leadsideHelpExplains: '(leadside --help explains the commands)',
  lessonNotesForGolf:
    'Lesson notes for golf coaches: clips, shot records, numbers and the hand-over, without the window',
})
