import { windowWords } from './window-words.ts'

/** Words of the main process: menus, and dialogs of the system. */
export const mainWords = windowWords({
  // menu
  leadside: 'Leadside',
  about: 'About Leadside',
  version: 'Leadside {version}',
  testVersion: 'Leadside {version} (test build)',
  forTryingOut: 'For trying out only: not a version for your lessons.',
  whatItIs:
    'Lesson notes and swing-video annotation for golf coaches. MIT licence; every part’s licence is in the list.',
  runsOn: 'Electron {electron}, Chromium {chromium}, Node {node}',
  updates: 'Leadside never looks for updates by itself. New versions are on the page where you got this one.',
  close: 'Close',
  showLicences: 'Show the licences',
  file: 'File',
  newWindow: 'New window',
  edit: 'Edit',
  view: 'View',
  window: 'Window',
  help: 'Help',

  // ask-to-open
  openInBrowser: 'Open in the browser',
  cancel: 'Cancel',
  openAddress: 'Open this address in your browser?',
  addressHint: '{address}\n\nThe browser then talks to that address; Leadside itself does not.',

  // shell-calls
  clipsAndPictures: 'Video clips and pictures',
  shotRecords: 'Shot records',
  pictures: 'Pictures',
  backups: 'Leadside backups',
  lessons: 'Leadside lessons',
  picturesAndClips: 'Pictures and clips',
  allFiles: 'All files',
  chooseFfmpeg: 'Choose ffmpeg',
  notFfmpeg: 'This is not ffmpeg',
  notFfmpegHint: 'Choose the program named ffmpeg; ffprobe has to lie beside it.',
})
