import { windowWords } from '../window/window-words.ts'

/** Words of the command line: reading-lines. */
export const readingLinesTexts = windowWords({
  // reading-lines
  lineLineColumnMessage: 'line {line}{column}: {message}',
  sideSideOf: 'the side of {sideOf}',
  keptBesideShotAnother: 'kept beside the shot (another column gives this number)',
  notRecognised: 'not recognised',
  noUnitInFile: ' (no unit in the file, assumed from the size of the values: check)',
  noUnitInFileAssumed: ' (no unit in the file, assumed as in another column: check)',
  inUnit: ' in {unit}',
})
