import { windowWords } from '../window/window-words.ts'

/** Words of the command line: records. */
export const recordsTexts = windowWords({
  // records
  studentsLibrary: 'students of the library',
  addStudent: 'add a student',
  nameStudent: 'name of the student',
  playingSide: 'playing side',
  studentMinor: 'the student is a minor',
  languageStudentsPage: 'language of the student’s page',
  added: 'Added {name} ({side}-handed): {id}',
  listStudents: 'list students',
  noStudentsYet: 'No students yet.',
  deleteEverythingAbout: 'delete everything about a student, for good',
  nameOrId: 'name or id',
  studentsFullNameTo: 'the student’s full name, to be sure',
  alsoWrittenHandovers: 'also the written hand-overs that are still where they were written',
  deletedNameLessons:
    'Deleted {name}: {lessons, plural, one {# lesson} other {# lessons}}, {filesDeleted, plural, one {# file} other {# files}}, {packagesDeleted, plural, one {# written hand-over} other {# written hand-overs}}.',
  stillWhereWhy: 'Still there: {where}: {why}',
  lessonsStudent: 'lessons of a student',
  startLesson: 'start a lesson',
  dayFormat: 'YYYY-MM-DD',
  title: 'title',
  lessonNameOnDate: 'Lesson of {name} on {date}: {id}',
  listLessonsNewestFirst: 'list lessons, newest first',
  noLessonsYet: 'No lessons yet.',
  showOneLessonBlocks: 'show one lesson: blocks, swings, pairs',
  noClip: 'no clip',
  noShot: 'no shot',
  impactFrame: 'frame {frame} ({confidence} %)',
  clubSpeed: 'club speed',
  ballSpeed: 'ball speed',
  takeClipsIntoLesson: 'take clips into a lesson',
  videoFiles: 'video files',
  takeFileShotRecords: 'take a file of shot records (CSV or TSV) into a lesson',
  rowsListShotSecond: 'rows that list a shot a second time: take them once, or all',
  shotsAdded: '{added, plural, one {# shot} other {# shots}} added{alreadyThere}.',
  columnsNotRecognised: 'Columns not recognised (kept as they are): {unmapped}',
  pairClipsAndShots: 'pair clips and shots again by their clocks',
  pairCounts:
    '{pairs, plural, one {# pair} other {# pairs}}; {unpairedClips, plural, one {# clip} other {# clips}} without a shot, {unpairedShots, plural, one {# shot} other {# shots}} without a clip.',
  unsurePairs:
    '{unsure, plural, one {# pair is unsure; check it} other {# pairs are unsure; check them}} in the Tray.',
  deviceClock:
    "Device clock: {offsetSeconds} s from the camera's, drift {driftPpm} ppm, scatter {residualSdSeconds} s.",
  noClockTimesTo: 'No clock times to fit.',
  whichFfmpegAndElectron:
    'which ffmpeg and Electron are in use, and whether the library is in order, every file by its hash',
  firstMakeAgainWhat: 'first make again what can be: working copies, and clips from set-aside and backups',
  repairResult: 'Repair: {result}',
  node: 'Node {node}',
  alreadyThere: ', {shots} already there',
  doubledTakenOnce:
    '{rows, plural, one {# row lists a shot} other {# rows list a shot}} a second time: taken once (--doubled all takes them all).',
  doubledTaken:
    '{rows, plural, one {# row lists a shot} other {# rows list a shot}} a second time: taken in too.',
  pairsInLesson: '{pairs, plural, one {# pair} other {# pairs}} of clip and shot in this lesson.',
})
