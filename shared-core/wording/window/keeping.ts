import { windowWords } from './window-words.ts'

/** Words of where the library is kept: backups, restoring, checking. */
export const keepingWords = windowWords({
  // KeepingDialog
  megabytes: '{bytes} MB',
  backupsAndLibrary: 'Backups and the library',
  backups: 'Backups',
  noBackupYet: 'There is no backup yet.',
  lastBackup: 'The last backup was made on {lastMadeAt}.',
  tooLong: ' That is too long: one drive that fails takes the lessons with it.',
  chooseOnce:
    'Choose a folder once, best on another drive; from then on a backup is made there every day, by itself.',
  everyDay: 'Every day, by itself, into {folder}. Kept: 7 days, 4 weeks, 12 months.',
  backupHoldsDamaged:
    'The last backup holds {clips, plural, one {# clip that is} other {# clips that are}} no longer as taken in: {names}{more}. Check every file, then make again what can be.',
  andMore: ' and {more} more',
  notAtHand: 'Not at hand just now: {file} ({madeAt})',
  lastFailed: 'The last backup failed: {what}. {toDo}',
  backUpNow: 'Back up now',
  chooseAnotherFolder: 'Choose another folder…',
  restoreBackup: 'Restore a backup…',
  isEverythingThere: 'Is everything there?',
  comparingEveryFile: 'Comparing every file…',
  inOrder: 'Everything is in order.',
  thingsToLookAt: '{things, plural, one {# thing} other {# things}} to look at:',
  repairResult: 'Repair: {result}.',
  checkEveryFile: 'Check every file',
  makeAgain: 'Make again what can be',
  beingTakenIn: 'The clip is being taken into the lesson',
  filesDeleted: '{files, plural, one {# file} other {# files}} deleted ({bytes})',
  setAside: 'Set aside',
  filesSetAside:
    '{files, plural, one {# file} other {# files}} ({bytes}) that no lesson speaks of any more. They stay until you say otherwise.',
  takeBackInto: 'Take clips back into',
  chooseLesson: 'Choose a lesson',
  clip: 'Clip',
  file: 'File',
  takeBack: 'Take back {name}',
  layLong: '{files, plural, one {# file} other {# files}} lay here for more than 90 days.',
  deleteThemForGood: 'Delete them for good',
  deleteThem: 'Delete them…',
  folderOfLibrary: 'Folder of the library',
  howToMove:
    'To move it, choose an empty folder; on another drive every file is compared before the old one goes.',
  moveLibrary: 'Move the library…',
  openAnotherLibrary: 'Open another library…',

  // RestoreDialog
  restoreTitle: 'Restore a backup',
  keepAsItIs: 'Keep the library as it is',
  stopRestoring: 'Stop restoring',
  restore: 'Restore',
  restoring: 'restoring',
  madeOn: 'Made on',
  backupOf:
    '{madeAt}: {students, plural, one {# student} other {# students}}, {lessons, plural, one {# lesson} other {# lessons}}, {clips, plural, one {# clip} other {# clips}}',
  notReadBack: ' (not read back)',
  isSetAside:
    'The library that is here now is set aside in a folder beside it, as it is. Nothing of it is overwritten or deleted.',

  // LibraryTrouble
  folderGone:
    'The folder of the library is not there any more. What you change now is not saved. Connect the drive, or put the folder back; the work goes on by itself then.',
  onlyLooking: 'Only looking: {words}. Nothing is changed.',
  whatToDo: 'What to do…',
  notTheRecords: 'These are not the records of this library',
  onlyLook: 'Only look',
  rebuildFromFiles: 'Rebuild from the files',
  nothingDeleted: '{words}. Nothing was deleted, and nothing will be.',
  whatEachBrings:
    'Restoring a backup brings students, lessons, marks and drawings back. Rebuilding goes on with the records that are here and puts every clip they don’t know into a lesson called “Found clips”; marks and names can’t be rebuilt from the clips.',
})
