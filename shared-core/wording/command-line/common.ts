import { windowWords } from '../window/window-words.ts'

/** Words of what several screens say. */
export const commonTexts = windowWords({
  onlySayWhatIn: 'only say what is in it',
  idStartIdOr: 'id, start of an id, or "last"',
  videoFile: 'video file',
  framesPerSecondAt: 'frames per second at which the camera filmed',
  csvOrTsv: 'CSV or TSV',
  unitsShown: 'units shown',
})
