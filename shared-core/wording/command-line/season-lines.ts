import { windowWords } from '../window/window-words.ts'

/** Words of the command line: season-lines. */
export const seasonLinesTexts = windowWords({
  // season-lines
  seasonNoNumbersYet: 'Season: no numbers yet.',
  seasonNameLessons: 'Season of {name}, {lessons, plural, one {# lesson} other {# lessons}} with the {club}',
  afterPlanPlannedOn: 'After the plan of {plannedOn}',
  kept: 'Kept on {shown} of the gain of {gained}',
  keptNothingSure: 'Kept on {shown} of the gain of {gained}: nothing is sure',
})
