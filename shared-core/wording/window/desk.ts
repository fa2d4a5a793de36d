import { windowWords } from './window-words.ts'

/** The Desk’s own bar and menu, and what the student is shown. */
export const deskWords = windowWords({
  addClips: 'Add clips…',
  addShots: 'Add shot records…',
  backToDesk: 'Back to the Desk',
  compare: 'Compare two swings',
  dropHere: 'Drop clips and shot records to add them to this lesson',
  forStudent: 'For the student',
  handOver: 'Hand-over',
  removeClip: 'Take this clip out of the lesson',
  liveMore: 'Live lesson…',
  more: 'More',
  noNumbersYet: 'The numbers of the lesson are not there yet.',
  nothingToRedo: 'Nothing to redo',
  nothingToUndo: 'Nothing to undo',
  pairAgain: 'Pair again by the clocks',
  redo: 'Redo: {edit}',
  secondWindow: 'Second window on this lesson',
  showStudent: 'Show the student',
  studentCard: 'Student’s card',
  swishesMore: 'Swish meter…',
  talkMore: 'Talk through…',
  undo: 'Undo: {edit}',
  units: 'Units',
})
