import { windowWords } from './window-words.ts'

/** The Strip: the time line under the picture. */
export const stripWords = windowWords({
  beingRead: 'Being read: its impact comes in a moment',
  byHands: 'told by when the hands come back to the ball',
  cues: '{count, plural, one {# cue} other {# cues}}',
  drawings: '{count, plural, one {# drawing} other {# drawings}}',
  fromImpact: '{time} from impact',
  ms: '{ms} ms',
  noSound: 'no sound track',
  notConfirmed: '{moment} {sure} sure, not confirmed',
  shownFrames: 'The Strip shows frames {from} to {to}',
  strip: 'Strip',
  sure: '{percent} %',
  time: 'Time',
})
