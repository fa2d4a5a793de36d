import { windowWords } from '../window/window-words.ts'

/** Words of the command line: swishes. */
export const swishesTexts = windowWords({
  // swishes
  findSwishesPractice: 'find the swishes of practice swings in a clip’s sound (no library needed)',
  diameterStickPitchThen: 'diameter of the stick: its pitch then gives its speed',
  frameAtWhichClub: 'frame at which the club is lowest, to say where it was loudest',
  distanceToMicrophone: 'distance to the microphone',
  noSwishHeard: 'No swish was heard.',
  speedStick: 'speed of the stick',
  decibels: '{levelDb} dB',
  hertz: '{pitchHz} Hz',
  atBottom: 'at the bottom',
  speedEstimateFromPitch:
    'The speed is an estimate from the pitch of a plain round stick, not to be mixed with a device’s club speed.',
  practiceSwingsRoomOn:
    'Practice swings: room on all sides and above, a firm grip, warmed up; stop with pain.',
  beforeBottom: '{ms} ms before the bottom',
  afterBottom: '{ms} ms after the bottom',
  about: 'about {speed} ± {percent} %',
})
