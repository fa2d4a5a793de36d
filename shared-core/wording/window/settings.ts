import { windowWords } from './window-words.ts'

/** Words of the settings. */
export const settingsWords = windowWords({
  // SettingsDialog
  yourName: 'Your name, as it stands on the hand-over',
  lightOrDark: 'Light or dark',
  asTheSystem: 'As the system',
  microphoneToBall: 'Microphone to ball for new lessons, metres',
  microphoneHint: 'The sound of the strike reaches the camera a little late: 3 ms for each metre.',
  frameMemory: 'Memory for decoded frames, MB',
  ffmpeg: 'The ffmpeg that reads the clips',
  foundByItself: 'found by itself',
  choose: 'Choose…',
  findByItself: 'Find it by itself',
  backupsAndLibrary: 'Backups and the library…',
  nothingLeaves:
    'Library: {folder}. Nothing leaves this computer unless you write a hand-over and send it yourself.',
  ballSpeed: 'Ball speed, %',
  clubSpeed: 'Club speed, %',
  carry: 'Carry, %',
  spin: 'Spin, %',
  ballSpeedAnew: 'Ball speed anew, %',
  clubSpeedAnew: 'Club speed anew, %',
  carryAnew: 'Carry anew, %',
  deviceErrors: 'How far the device’s readings may be off',
  deviceErrorsHint:
    'One standard deviation each. The values given are assumptions: no independent figures could be confirmed. Put in what you know of your device; findings follow at once.',
  oneReading: 'One reading',
  launchAngle: 'Launch angle, degrees',
  placedAnew: 'Placing the device anew',
  placedAnewHint: 'The same for every shot until it is moved; it counts between lessons.',
  backToAssumptions: 'Back to the assumptions',
})
