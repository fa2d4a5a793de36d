import { windowWords } from '../window/window-words.ts'

/** Words of the command line: numbers. */
export const numbersTexts = windowWords({
  // numbers
  allShots: 'all shots',
  noShotsSoNo: 'No shots, so there are no numbers: add the device’s file of shot records.',
  dataAndMethod: '  Data: {data} Method: {method}',
  ceiling: 'of ceiling',
  ballSpeedLeft: 'ball speed left',
  carryLeft: 'carry left',
  lookAt: 'look at',
  computedCarry:
    'Carry with the {computedCarryClubs} is computed from ball speed, launch and spin; the device gave none.',
  efficiencyAndWhatLeft: 'efficiency and what was left, per shot and per block, and what it means',
  lessonIdStartId: 'lesson (id, start of an id, "last") or a file of shot records',
  everyFindingWithHow: 'every finding, with how we know',
  findingsRestEnglish: 'of the findings; the rest is English',
  whatChangedBetween: 'what changed between the blocks of a lesson, or of a file with a column named block',
  whatCompared: 'what is compared',
  commaSeparated: 'comma-separated, from {shownMetrics}',
  against: '{after} against {before}{club}',
})
