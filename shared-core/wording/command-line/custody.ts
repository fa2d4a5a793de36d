import { windowWords } from '../window/window-words.ts'

/** Words of the command line: custody. */
export const custodyTexts = windowWords({
  // custody
  megabytes: '{bytes} MB',
  backLibraryUpInto:
    'back the library up into one file in a folder; adds only what is new since the last time',
  whereToForExample: 'where to, for example on another drive',
  backedUpStudents:
    'Backed up {students, plural, one {# student} other {# students}}, {lessons, plural, one {# lesson} other {# lessons}}, {clips, plural, one {# clip} other {# clips}} ({byteLength}), read back and in order.',
  notAsTheyWere:
    'Not as they were taken in, and backed up as they are now: {damagedClips}. leadside check --repair looks for better copies.',
  makeLibraryFromBackup:
    'make a library from a backup; a library that is there is set aside, never overwritten',
  backupFile: 'backup file',
  whichThemStartId: 'which of them (the start of its id); else the newest',
  notReadBack: 'not read back',
  restoredBackupMadeAtUtc:
    'Restored the backup of {madeAt} UTC: {students, plural, one {# student} other {# students}}, {lessons, plural, one {# lesson} other {# lessons}}, {clips, plural, one {# clip} other {# clips}}.',
  libraryFolder: 'Library: {folder}',
  libraryNowAside: 'The library that was there is now: {aside}',
  goOnWithRecords:
    'go on with records that don’t fit the files: clips they don’t know come into a lesson of their own',
  noClipsWereUnknown: 'No clips were unknown.',
  doneJobsUnknownClips:
    '{done} of {jobs, plural, one {# unknown clip is} other {# unknown clips are}} now in the lesson “Found clips”; what failed stays in set-aside.',
  file: 'File: {file}',
  fileWithEarlier: 'File: {file}, with {earlier, plural, one {# earlier backup} other {# earlier backups}}',
})
