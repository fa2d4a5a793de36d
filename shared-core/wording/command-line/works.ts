import { windowWords } from '../window/window-words.ts'

/** Words of the command line: works. */
export const worksTexts = windowWords({
  // works
  whatWorksWithMy:
    'what works with my students: what came with each focus and cue, across students, without names',
  clubLookedAtSuch: 'club looked at, such as driver or 7-iron (default: the one hit most)',
  whatWorksWithMyStudents:
    'What works with my students, with the {club}: {students, plural, one {# student} other {# students}} whose consent allows it',
  tooFew: 'Fewer than {minStudents} students: {few}',
  noFocusOrCue: 'No focus or cue can be held against a baseline yet: it takes three shots on either side.',
  source: 'Source: {worksSource}',
  focus: 'Focus “{label}”',
  cue: 'Cue “{label}”',
  isSaid: '  {metric}: {short}',
  isClear: '  {metric}: {short}, clear',
})
