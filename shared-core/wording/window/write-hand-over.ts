import { windowWords } from './window-words.ts'

/** Words of the dialog that writes a hand-over. */
export const writeWords = windowWords({
  // WriteHandOver
  swingGone: 'A swing that is gone',
  write: 'Write',
  byGuardian: '{name} (guardian)',
  whatIsWritten:
    'A folder and a zip with one page that opens on a phone without a network: the swings chosen in slow motion with your drawings, the stills, the numbers, the practice plan and your words.',
  about: 'About {estimatedBytes}',
  withClips: 'with {clips} {clips, plural, one {clip} other {clips}}',
  sizeNotKnown: 'Size not known',
  findingSize: 'Finding the size…',
  clips: 'Clips in the hand-over',
  cantBeWritten: 'It can’t be written yet: {what}{where}. {toDo}',
  anotherFolder: 'Another folder…',
  guardian: 'A guardian',
  student: 'The student',
  saidYes: '{who} was asked, and said yes to this hand-over',
  nameOfGuardian: 'Name of the guardian who said yes; it is recorded with the hand-over and its time',
  nameOfWhoSaidYes: 'Name of who said yes; it is recorded with the hand-over and its time',

  // view-words
  megabytes: '{value} MB',

  // write-now
  writingTo: 'Writing the hand-over to {folder}; you can go on working',
})
