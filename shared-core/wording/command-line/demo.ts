import { windowWords } from '../window/window-words.ts'

/** Words of the command line: demo. */
export const demoTexts = windowWords({
  // demo
  runWholeJobOn:
    'run the whole job on the demo lesson: clips, shots, pairs, moments, numbers, season, hand-over',
  folderForDemoLibrary: 'folder for the demo library and the hand-over',
  takingInDemoLesson: 'Taking in the demo lesson and the five before it',
  counts:
    '  {clips, plural, one {# clip} other {# clips}}, {shots, plural, one {# shot} other {# shots}}, {pairs, plural, one {# pair} other {# pairs}}; impact found in {impacts} of {swings, plural, one {# picture of a swing} other {# pictures of swings}}',
  deviceClock: "  device clock {offsetSeconds} s from the camera's, drift {driftPpm} ppm",
  writingHandover: 'Writing the hand-over',
  zip: 'Zip:       {zip} ({byteLength} MB)',
  libraryFolder: 'Library:   {folder}',
  handOver: 'Hand-over: {page}',
})
