import { windowWords } from '../window/window-words.ts'

/** Words of the command line: exchange. */
export const exchangeTexts = windowWords({
  // exchange
  hereAlready: 'here already',
  hereInEarlierCopy: 'here in an earlier copy',
  hereAndEarlierCopy: 'here, and this is an earlier copy or one changed elsewhere',
  colleagueWhoNotNamed: 'a colleague who is not named',
  injuriesAndLimitsNot: 'Injuries and limits are not in it: ask about them.',
  sameStudentHereAlready: 'The same student is here already: {name} (--student {id})',
  cantTakenInRefusal: 'It can’t be taken in: {refusal}',
  writeLessonOrAll: 'write a lesson, or all lessons of a student, into one file for a colleague',
  allLessonsStudentBy: 'all lessons of this student, by name or id',
  folderInWhichFile: 'folder in which the file is written',
  withYourOwnNotes: 'with your own notes on student, lesson and blocks',
  withStudentsInjuriesAnd: 'with the student’s injuries and limits',
  lessonFileResultRead: 'Lesson file: {result}, read back and in order.',
  notInWhat: 'Not in it: {what}',
  takeLessonsColleagues: 'take lessons of a colleague’s file in; what is here already is not doubled',
  lessonFile: 'lesson file',
  theyLessonsStudentBy: 'they are lessons of this student, by name or id',
  newStudentAlsoIf: 'a new student, also if the same one came with an earlier file',
  anotherCopyLessonHere: 'another copy of a lesson that is here: take it in beside that one',
  from: 'From {coach}, written {at} UTC: {student}, {plays}{minor}',
  playsRight: 'plays right-handed',
  playsLeft: 'plays left-handed',
  minor: ', minor',
})
