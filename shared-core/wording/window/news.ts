import { windowWords } from './window-words.ts'

/** Words of news: what was done, or can’t be, said below the work. */
export const newsWords = windowWords({
  // adding
  shotsAdded: '{added, plural, one {# shot} other {# shots}} added{again}{twice}{paired}',
  alreadyThere: ', {alreadyThere, plural, one {# was} other {# were}} already there',
  twiceInFile: '; {doubled, plural, one {# row stood} other {# rows stood}} in the file twice, taken once',
  paired: '; {pairs, plural, one {# has} other {# have}} a clip',
  allAlreadyThere:
    '{alreadyThere, plural, one {The shot of this file was} other {All # shots of this file were}} there already',
  pastedPicture: 'pasted picture',

  // app-store
  lessonFileWritten: 'The lesson file is written, and was read back',
  showInFolder: 'Show it in its folder',
  fromColleague: 'From a colleague: {result}',
  wasResult: '{label} was {result}',
  handOverWritten: 'The hand-over is written',
  showFolder: 'Show the folder',

  // drawings
  noOtherSwing: 'There is no other swing with a clip to copy to',
  copiedThere: '{drawings, plural, one {Drawing} other {# drawings}} copied to that swing',
  copiedToNext: '{drawings, plural, one {Drawing} other {# drawings}} copied to the next swing',

  // lesson-sync
  undone: 'Undone: {label}',
  doneAgain: 'Done again: {label}',

  // messages
  everyEditIsKept: 'Every saved edit is kept. If it happens again, close the window and open it anew',

  // moments
  pictureOfAnotherLesson: 'The picture on the Strip is of another lesson. Open that lesson to mark it',

  // swings
  swingsRemoved: '{swings, plural, one {Swing removed} other {# swings removed}}{kept}',
  shotsStay: '; {shots, plural, one {its shot stays} other {# shots stay}}',
  undo: 'Undo',
  alreadyBeginsBlock: 'This swing already begins a block',
  isFirstBlock: 'This is the first block; there is none before it',
  cutInside: 'Go to the frame where the second swing begins, and cut there',
  clipCut: 'From here on it is a swing of its own',
  clipRemoved:
    '{swings, plural, one {The clip left the lesson} other {The clip left the lesson, and # swings have one picture less}}: {file}',
  isStillAlready: 'This is a still picture already',
  frameComes: 'The frame comes into the Tray as a picture',

  // Messages
  messages: 'Messages',
  where: 'Where: {where}',
  dismiss: 'Dismiss',
})
