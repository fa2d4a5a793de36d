import { windowWords } from './window-words.ts'

/** Words of live lessons, the bay view and the swish meter. */
export const liveWords = windowWords({
  // Bay
  lastSwing: 'Last swing',
  noClipYet: 'No clip of this swing yet',
  firstSwingComesUp: 'The first swing comes up here as soon as it arrives',
  firstSwings: 'First swings',
  inARow: '{count} in a row',
  starred: '★ starred',
  leftOut: 'left out',
  didIt: '✓ did it',
  notYet: 'not yet',
  frozenNewer: ' · frozen, {newer} newer',
  frozen: ' · frozen',
  efficiency: 'efficiency',
  ball: 'ball',
  club: 'club',
  carryWorkedOut: 'carry, worked out',
  carry: 'carry',
  numbersOfSwing: 'Numbers of this swing',
  noNumbersYet: 'No numbers of this swing yet',
  asked: ', asked: {focus}',
  today: 'Today',
  live: 'Live',
  arriving: '{waiting} arriving',

  // BayPicture
  lastSwingSlowly: 'The last swing, slowly, around impact',
  lastSwingAtImpact: 'The last swing at impact',
  cantBeShown: 'This clip’s picture can’t be shown',

  // BeginBlock
  newBlock: 'New block',
  begin: 'Begin',
  whatYouAsk: 'What you ask for, in a few words',
  softShoulders: 'soft shoulders',
  nextSwingBegins: 'The next swing begins the block. Undo takes it back.',
  askedBefore: 'Asked for before, and cues',

  // LiveDialog
  liveLesson: 'Live lesson',
  bayView: 'Bay view',
  start: 'Start',
  takenAsTheyArrive:
    'Clips and shots are taken in as they arrive, each once it is whole, and are paired. This goes on with the dialog closed, and by itself when Leadside is started again.',
  clipsArriveIn: 'Clips arrive in',
  noFolderYet: 'no folder yet',
  deviceWrites: 'The device writes',
  nothingClipsOnly: 'nothing (clips only)',
  chooseFile: 'Choose the file…',
  aFolderOfFiles: 'A folder of files…',
  noShots: 'No shots',
  alsoOldClips: 'Also the clips that are in the folder already',
  liveNow: '{live} What arrives comes into this lesson.',
  isLive: 'Live.',

  // LiveTroubles
  goesOn: 'It goes on when it can be read again.',
  andMore: 'and {waiting} more',

  // SwishMeter
  atBottom: 'at the bottom',
  beforeBottom: '{ms} ms before the bottom',
  afterBottom: '{ms} ms after the bottom',
  noSwish: 'No swish was heard in this clip.',
  noSound: 'This clip has no sound.',
  microphoneGone: 'The microphone is gone',
  loudness: 'Loudness',
  pitch: 'Pitch',
  loudest: 'Loudest',
  stickSpeed: 'Speed of the stick',
  decibels: '{levelDb} dB',
  hertz: '{pitchHz} Hz',
  swishMeter: 'Swish meter',
  caution:
    'Before anybody swings: room on all sides and above, a firm grip on the stick, warmed up. Stop with pain.',
  stickDiameter: 'Diameter of the stick, mm (may be empty; 3 to 30)',
  stickSpeedHint:
    'With the diameter of a plain round stick its pitch gives the speed of its tip: an estimate, not to be mixed with the device’s club speed.',
  listeningTo: 'Listening to {fileName}…',
  inClip: 'In {fileName}',
  markImpact: 'Mark impact at the bottom of the swing to see where in it the swish was loudest.',
  stopListening: 'Stop listening',
  listen: 'Listen by the microphone',
  listening: 'Listening; nothing is recorded.',
  byMicrophone: 'By the microphone, the last one first',
  noBottomKnown:
    'Without a picture nothing says where the bottom was. Loudness compares only while the microphone stays where it is.',

  // bay-store
  noSwingYet: 'There is no swing yet',
  noShotToLeaveOut: 'This swing has no shot to leave out',
})
