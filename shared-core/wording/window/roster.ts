import { windowWords } from './window-words.ts'

/** Words of the Roster: students, lessons, deleting, lessons given to colleagues. */
export const rosterWords = windowWords({
  // DeleteLesson
  theLesson: 'The lesson',
  deleteLessonQuestion: 'Delete this lesson for good?',
  deleteLesson: 'Delete the lesson',

  // DeleteStudent
  deleteStudentQuestion: 'Delete {name} for good?',
  deleteEverything: 'Delete everything',
  typeName: 'Type the name to confirm: {name}',

  // DeletionFacts
  writtenHandOvers:
    '{handOvers, plural, one {# written hand-over} other {# written hand-overs}} (folder and zip)',
  lessonFiles: '{files, plural, one {# lesson file for a colleague} other {# lesson files for colleagues}}',
  both: '{written} and {forColleagues}',
  clipsAndSize: ' ({clips, plural, one {# clip} other {# clips}}, {size})',
  deletedFromLibrary:
    'Deleted from this library: {lessons, plural, one {# lesson} other {# lessons}}{clips} with all numbers, drawings, notes, talk-throughs and what an undo could bring back{copies}. This cannot be undone.',
  alsoInCopies:
    ', also in {copies, plural, one {# copy of the library} other {# copies of the library}} inside its folder',
  alsoDeleteWritten: 'Also delete {written} on this computer',
  andMore: 'and {more} more',
  deleted: '{name} was deleted, with {files, plural, one {# file} other {# files}}{packages}{stays}',
  andWritten:
    ' and {written, plural, one {# file or folder that was written} other {# files and folders that were written}}',
  stillThere: '. Still there: {places}',
  clips: '{clips, plural, one {# clip} other {# clips}}',
  cantReach:
    'It can’t reach what is elsewhere: hand-overs and lesson files that were sent, films on cameras and phones, your own copies of this folder.',

  // GiveLessons
  giveTitle: 'Give to a colleague: {label}',
  writeFile: 'Write the file…',
  openStudentsCard: 'Open the student’s card',
  mayNotBeGiven: 'This may not be given away: {refusal}.',
  colleagueKeeps:
    'A colleague keeps what is in the file, so the answer on the student’s card has to allow it. Ask the student (for a minor, a guardian), and record what was said.',
  oneFile:
    'One file with {lessons, plural, one {# lesson} other {# lessons}} and {clips, plural, one {# clip} other {# clips}} ({bytes}) as filmed, with moments, drawings, cues, shots, pairs, blocks, the plan and the student’s consent. A colleague takes it in with “From a colleague…” on the Roster.',
  withNotes: 'With your own notes on student, lesson and blocks',
  withLimits: 'With the student’s injuries and limits',
  notInIt: 'Not in it:',
  filmsAsFilmed:
    'Films and photos are the files as the camera wrote them, with the time and perhaps the place in them (a hand-over has neither). Hand-overs and talk-throughs stay here. What has left this computer, deleting can’t reach.',

  // LessonDialog
  newLessonWith: 'New lesson with {name}',
  newLesson: 'New lesson',
  openDesk: 'Open the Desk',
  date: 'Date',
  whatAbout: 'What it is about (may be empty)',

  // LessonRow
  nothingInIt: 'nothing in it yet',
  swings: '{swings, plural, one {# swing} other {# swings}}',
  shots: '{shots, plural, one {# shot} other {# shots}}',
  handedOver: 'handed over',
  moreFor: 'More for {label}',
  openOnDesk: 'Open on the Desk',
  openInSecondWindow: 'Open in a second window',
  composeHandOver: 'Compose the hand-over',
  giveToColleague: 'Give to a colleague…',
  deleteLessonForGood: 'Delete the lesson for good…',

  // Roster
  leadside: 'Leadside',
  demoLesson: 'Demo lesson',
  student: 'Student',
  demoFailed: 'The demo lesson could not be loaded: {what}. {toDo}',
  fromColleague: 'From a colleague…',
  noBackup: 'No backup for more than two weeks: one drive that fails takes the lessons with it.',
  backUp: 'Back up…',
  firstTitle: 'From a heap of clips to a lesson the student can keep',
  firstWords:
    'Begin with a student, or look around in an invented lesson that has everything in it: clips from two cameras, shot records, moments, drawings.',
  add: 'Add',
  firstAdd: '{add} the clips and the shot records of a lesson. They are paired by their clocks.',
  mark: 'Mark',
  firstMark: '{mark} the moments that matter, draw on them, tag what you saw.',
  handOver: 'Hand over',
  firstHandOver: '{handOver} a package that opens on a phone, with what changed and how sure that is.',
  addStudent: 'Add a student',
  openDemoLesson: 'Open the demo lesson',
  playsRight: 'plays right-handed',
  playsLeft: 'plays left-handed',
  minor: 'minor',
  fromGiver: 'from {giver}',
  colleague: 'a colleague',
  card: 'Card',
  noLessonYet: 'No lesson yet. Add one for the day the clips were filmed.',

  // StudentDialog
  mphYd: 'mph · yd',
  kmhM: 'km/h · m',
  mpsM: 'm/s · m',
  rightHanded: 'Right-handed',
  leftHanded: 'Left-handed',
  newStudent: 'New student',
  addTheStudent: 'Add the student',
  playingSide: 'Playing side',
  units: 'Units',
  pageLanguage: 'Language of their page',
  isMinor: 'Minor: a guardian gives consent',
  deleteStudent: 'Delete the student…',
  limits: 'Limits: injuries, pain, what the body may not do',
  limitsHint: 'Shown wherever practice is planned',
  notes: 'Notes',
  consent: 'Consent',
  mayBeFilmed: 'may be filmed',
  mayBeKept: 'clips may be kept',
  mayBeHandedOver: 'clips may be handed over',
  onlyCovered: 'only with the face covered',
  guardianWhoSaidYes: 'Guardian who said yes',
  whoSaidYes: 'Who said yes',
  isGuardianOf: '{givenBy} is a guardian of {name}',
  recordedOn: 'Recorded {day}',
  until: 'Until (year-month-day; empty: no end)',
  noDateUntil: '“{wrong}” is not a date; until {until} stays.',
  noDateNoEnd: '“{wrong}” is not a date; no end is kept.',
  hasRunOut: 'This has run out: it counts as no consent.',

  // TakeLessons
  hereAlready: 'here already',
  newerThanHere: 'newer than the copy here',
  anotherCopyHere: 'another copy is here',
  takeTitle: 'From a colleague: {name}',
  leaveIt: 'Leave it',
  nothingToTakeIn: 'Nothing to take in',
  takeInLessons: 'Take in {lessons, plural, one {# lesson} other {# lessons}}',
  writerUnknown: 'The file doesn’t say who wrote it',
  writtenBy: 'Written by {coachName}',
  fileOfDay: '{writer} on {day}, {size}.',
  studentPlays: '{name} {plays}.',
  minorPlays: '{name} {plays} and is a minor.',
  cantBeTaken: 'It can’t be taken in: {refusal}.',
  takeOtherCopies:
    'Take {copies, plural, one {the other copy} other {the other copies}} in as well, beside what is here',
  whoseLessons: 'Whose lessons are they?',
  aNewStudent: 'A new student: {name}',
  alreadyOnRoster: '{name}, already on your Roster',
  consentComes: 'The consent comes along onto the new card, which is marked as a colleague’s.',
  consentGivenComes:
    'The consent that {givenBy} gave comes along onto the new card, which is marked as a colleague’s.',
  limitsNotInFile: 'Injuries and limits are not in the file: ask about them.',
  cardStays: 'The student’s card stays as it is, consent and limits included.',
})
