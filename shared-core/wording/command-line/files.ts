import { windowWords } from '../window/window-words.ts'

/** Words of the command line: files. */
export const filesTexts = windowWords({
  // files
  findImpactAndOther: 'find impact and the other moments in a clip (no library needed)',
  distanceFromBallTo: 'distance from ball to microphone',
  facts:
    '{path}: {frames, plural, one {# frame} other {# frames}}, plays at {playbackRate}, filmed at {captureRate} frames/s ({captureRateHow})',
  noSwingFound: 'No swing was found.',
  readFileShotRecords: 'read a file of shot records (no library needed)',
  shotsIn: '{shots, plural, one {# shot} other {# shots}} in {path}',
})
